package orders

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestDue(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"": "", "2026-11-27": "2026-11-27", "2026-11-27 14:00": "2026-11-27 14:00", "2026-11-27T9:05:00": "2026-11-27 09:05", "27.11.2026": "2026-11-27", "7.1.2026 8:30": "2026-01-07 08:30", "14:00": "14:00", "9:30:00": "09:30",
		"31.02.2026": "is no day of the calendar", "2026-13-01": "is no day of the calendar", "25:00": "is no time of the day", "2026-11-27 24:30": "is no time of the day",
		"03/04/2026": "may be read with the day or with the month first", "3-4-26": "may be read with the day or with the month first", "soon": "is no day or time", "46353": "is no day or time",
	} {
		due, err := parseDue(text)
		got := due.String()
		if err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func TestOrderOfTheDay(t *testing.T) {
	t.Parallel()
	list := readAll(t, "order,due,preset,side\nlast,,demo,\nnoon,2026-11-27 12:00,demo,both\nday,2026-11-27,demo,\nmorning,2026-11-27 09:00,demo,\neve,2026-11-26,demo,\n")
	var got []string
	for _, o := range OfTheDay(list) {
		got = append(got, o.Name)
	}
	if diff := cmp.Diff("eve morning noon noon-twin day last", strings.Join(got, " ")); diff != "" {
		t.Error(diff)
	}
	mixed := readAll(t, "order,due,preset\na,14:00,demo\nb,2026-11-27,demo\n")
	if len(mixed[0].Faults) != 1 || len(mixed[1].Faults) != 0 {
		t.Errorf("a time without a day among days: %v", mixed[0].Faults)
	}
}

// Parts of a list are all of it and share nothing; a spring and its twin stay together.
func TestPartsAreTheWhole(t *testing.T) {
	t.Parallel()
	var list []Order
	for row := 2; row < 40; row++ {
		list = append(list, Order{Row: row}, Order{Row: row, Twin: true})
	}
	for of := 1; of <= 9; of++ {
		count := 0
		for number := 1; number <= of; number++ {
			in := map[int]int{}
			for _, o := range list {
				if (Part{number, of}).Has(o) {
					in[o.Row]++
					count++
				}
			}
			for row, n := range in {
				if n != 2 {
					t.Errorf("part %d of %d has %d of the two springs of row %d", number, of, n, row)
				}
			}
		}
		if count != len(list) {
			t.Errorf("%d parts have %d orders of %d", of, count, len(list))
		}
	}
	for text, want := range map[string]string{"3/8": "3/8", "1/1": "1/1", "0/8": "part 0 of 8", "9/8": "part 9 of 8", "3": "no part such as 3/8", "3/8/2": "no part", "-1/2": "no part", "1/99999": "allowed: 1/1 to"} {
		p, err := ParsePart(text)
		got := p.String()
		if err != nil {
			got = err.Error()
		}
		if !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Pieces all come, none is cut beyond its length, no length could have been spared whole, and their order plays
// no part.
func TestCut(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(1, 2))
	const stock = 350.0
	for range 200 {
		var pieces []Piece
		sum := 0.0
		for i := range 1 + random.IntN(60) {
			p := Piece{string(rune('A' + i)), 20 + 120*random.Float64()}
			pieces = append(pieces, p)
			sum += p.LengthMM + CutLossMM
		}
		lengths := Cut(pieces, stock)
		seen, half := 0, 0
		for _, l := range lengths {
			used := 0.0
			for _, p := range l.Pieces {
				used += p.LengthMM + CutLossMM
				seen++
			}
			if l.LeftMM < 0 || used+l.LeftMM < stock-1e-9 || used+l.LeftMM > stock+1e-9 {
				t.Fatalf("%g mm used and %g left of %g", used, l.LeftMM, stock)
			}
			if used <= stock/2 {
				half++
			}
		}
		if seen != len(pieces) || half > 1 {
			t.Fatalf("%d of %d pieces, %d lengths at most half used", seen, len(pieces), half)
		}
		random.Shuffle(len(pieces), func(i, j int) { pieces[i], pieces[j] = pieces[j], pieces[i] })
		if diff := cmp.Diff(lengths, Cut(pieces, stock)); diff != "" {
			t.Fatal(diff)
		}
	}
	if long := Cut([]Piece{{"x", 400}}, stock); len(long) != 1 || long[0].LeftMM >= 0 {
		t.Errorf("a piece longer than a stock length: %+v", long)
	}
}
