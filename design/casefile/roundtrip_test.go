package casefile_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/design/designtest"
	"springwright/design/spring"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// alike compares what was read with what was written: files have some ten digits, and degrees in place of rad.
func alike() cmp.Options {
	digits := cmpopts.EquateApprox(1e-9, 1e-9)
	return cmp.Options{digits, cmp.Comparer(func(a, b spring.Path) bool { return cmp.Equal(a.Steps(), b.Steps(), digits) })}
}

// plainText is what may be typed in one line.
func plainText(most int) *rapid.Generator[string] {
	return rapid.StringOfN(rapid.RuneFrom([]rune(`aZ0 -_.'"\#=[]{}äß€漢`)), 1, most, -1)
}

func TestSpringReadsBackAsWritten(t *testing.T) {
	t.Parallel()
	designtest.CheckLaw(t, func(t *rapid.T) {
		s := designtest.RandomSpring().Draw(t, "spring")
		s.Title = strings.TrimSpace(plainText(40).Draw(t, "title"))
		s.Teeth = rapid.SampledFrom([]tooth.Pair{{}, {Anchor: 36, Active: 37}, {Anchor: 16, Active: 13}}).Draw(t, "teeth")
		s.Slide = rapid.SampledFrom([]spring.Slide{spring.NoSlide, spring.SlideActive, spring.SlideAnchor}).Draw(t, "slide")
		if s.ActiveSlotLengthMM > 0 && rapid.Bool().Draw(t, "plays") {
			s.ActiveHold = spring.SlotHold{Play: true, HeightMM: s.Wire.HeightMM() + 0.05, DepthMM: s.Wire.DepthMM() + 0.1, Shifts: rapid.Bool().Draw(t, "shifts")}
		}
		written := casefile.WriteSpring(s)
		got, err := casefile.ReadSpring("spring.toml", written)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		if diff := cmp.Diff(s, got, alike()); diff != "" {
			t.Errorf("(-want +got):\n%s\n%s", diff, written)
		}
		if again := casefile.WriteSpring(got); !bytes.Equal(again, written) {
			t.Errorf("written again it differs:\n%s", cmp.Diff(string(written), string(again)))
		}
	})
}

// What was measured is the same in every way to write it: TOML, and tables of either decimal sign.
func TestMeasuredReadsAlikeInEveryForm(t *testing.T) {
	t.Parallel()
	designtest.CheckLaw(t, func(t *rapid.T) {
		s := designtest.RandomSpring().Draw(t, "spring")
		steps := s.Path.Steps()
		forms := map[string]*strings.Builder{"f.toml": {}, ",": {}, ";": {}}
		forms[","].WriteString("name,measured\n")
		forms[";"].WriteString("name;measured\r\n")
		want := map[int]float64{}
		for i, key := range casefile.StepKeys(s.Path) {
			if i > 0 && rapid.Bool().Draw(t, "left out") {
				continue
			}
			tenths := int(10*steps[i].LengthMM) + rapid.IntRange(-10, 10).Draw(t, key)
			want[i] = float64(tenths) / 10
			if steps[i].Kind != spring.Straight {
				tenths = int(math.Abs(steps[i].AngleRad)/designtest.Degree(0.1)) + rapid.IntRange(0, 100).Draw(t, key)
				want[i] = math.Copysign(designtest.Degree(float64(tenths)/10), steps[i].AngleRad)
			}
			number := fmt.Sprintf("%d.%d", tenths/10, tenths%10)
			fmt.Fprintf(forms["f.toml"], "%s = %s\n", key, number)
			fmt.Fprintf(forms[","], "%s,%s\n", key, number)
			fmt.Fprintf(forms[";"], "%s;%s\r\n", key, strings.Replace(number, ".", ",", 1))
		}
		for name, form := range forms {
			file := "f.csv"
			if name == "f.toml" {
				file = name
			}
			got, err := casefile.ReadMeasured(file, []byte(form.String()), s, design.SkilledBender(), nil)
			if err != nil {
				t.Fatalf("%v\n%s", err, form)
			}
			read := map[int]float64{}
			for _, r := range got.Steps {
				read[r.Step] = r.Value
			}
			if diff := cmp.Diff(want, read, alike()); diff != "" {
				t.Errorf("(-want +got):\n%s\n%s", diff, form)
			}
		}
	})
}

func TestClassReadsBackAsWritten(t *testing.T) {
	t.Parallel()
	designtest.CheckLaw(t, func(t *rapid.T) {
		class := sampleClass()
		class.Case.Code = rapid.StringMatching(`[a-z][a-z0-9-]{0,20}`).Draw(t, "code")
		class.Seed, class.Tag = rapid.Uint64().Draw(t, "seed"), rapid.Uint16Range(0, 0xfff).Draw(t, "tag")
		class.Bands = course.Bands{Below: "F"}
		for i := range rapid.IntRange(1, 5).Draw(t, "bands") {
			class.Bands.List = append(class.Bands.List, course.Band{
				Grade: string(rune('A' + i)), AngleRad: designtest.Degree(float64(i+1) * 2.5), LengthMM: float64(i+1) * rapid.Float64Range(0.4, 0.5).Draw(t, "mm"), Met: i == 0,
			})
		}
		class.Students = class.Students[:0]
		for i := range rapid.IntRange(1, 30).Draw(t, "students") {
			class.Students = append(class.Students, course.Student{
				Number: i + 1, Case: design.Case{Code: fmt.Sprintf("%s-%02d", class.Case.Code, i+1)}, Spring: spring.Spring{Path: designtest.RandomPath().Draw(t, "path")},
			})
		}
		written, err := casefile.WriteClass(origin, class)
		if err != nil {
			t.Fatal(err)
		}
		got, err := casefile.ReadClass("class.json", written)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		want := casefile.ClassFile{Case: class.Case.Code, Seed: class.Seed, Tag: int(class.Tag), Bands: class.Bands}
		for _, s := range class.Students {
			want.Students = append(want.Students, casefile.EntryOf(s))
		}
		if diff := cmp.Diff(want, got, alike()); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	})
}

func TestOrderReadsBackAsWritten(t *testing.T) {
	t.Parallel()
	designtest.CheckLaw(t, func(t *rapid.T) {
		text := func(name string) string { return rapid.String().Draw(t, name) }
		want := casefile.OrderOutcome{
			Order: text("order"), Name: text("name"), Twin: rapid.Bool().Draw(t, "twin"), Input: text("input"), Row: rapid.Int().Draw(t, "row"), Due: text("due"),
			State: text("state"), Lacking: append([]string{}, rapid.SliceOf(rapid.String()).Draw(t, "lacking")...), Teeth: tooth.Pair{Anchor: 26, Active: 25},
			Wire: text("wire"), CutMM: rapid.Float64Range(0, 1e6).Draw(t, "cut"), Share: rapid.SampledFrom([]float64{-1, 0, 0.5, 1}).Draw(t, "share"), Fingerprint: text("check"),
		}
		written, err := casefile.WriteOrder(origin, want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := casefile.ReadOrder(written)
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%v (-want +got):\n%s", err, diff)
		}
	})
}

// A history that grew visit by visit holds every visit as it was read from its form.
func TestHistoryReadsBackAsAppended(t *testing.T) {
	t.Parallel()
	of := visitsOf(t)
	designtest.CheckLaw(t, func(t *rapid.T) {
		var history []byte
		var visits, want []design.Visit
		var stand []int
		day := time.Date(2026, 1, 5, 0, 0, 0, 0, time.UTC)
		for i := range rapid.IntRange(1, 6).Draw(t, "visits") {
			day = day.AddDate(0, 0, rapid.IntRange(28, 90).Draw(t, "days"))
			form := fmt.Sprintf("date = %s\n", day.Format(time.DateOnly))
			if i == 0 {
				form += "done = \"seated\"\n"
			} else {
				form += fmt.Sprintf("done = %q\n", rapid.SampledFrom([]string{"left as it is", "re-activated", "remade", "removed"}).Draw(t, "done"))
			}
			if rapid.Bool().Draw(t, "noted") {
				form += "note = " + casefile.Quoted(strings.TrimSpace(plainText(30).Draw(t, "note"))) + "\n"
			}
			if strings.Contains(form, "remade") || strings.Contains(form, "re-activated") {
				form += fmt.Sprintf("spring = \"spring-%d.toml\"\n", i)
			}
			if rapid.Bool().Draw(t, "pulled") {
				form += fmt.Sprintf("gauge_n = %.9g\n", rapid.Float64Range(0, 5).Draw(t, "gauge"))
			}
			if i > 0 {
				near := func(what string, value float64) float64 {
					return rapid.Float64Range(value-0.2, value+0.2).Draw(t, what)
				}
				form += fmt.Sprintf("[now]\nalong_mm = %.9g\nocclusal_mm = %.9g\nbuccal_mm = %.9g\ncrown_mesial_tip_deg = %.9g\n", near("along", 12.4), near("occlusal", 1.6), near("buccal", 0.5), near("tip", 4))
			}
			v, _, err := casefile.ReadVisit("today.toml", []byte(form), of, visits, stand)
			if err != nil {
				if removed := i > 0 && want[i-1].Done == design.Removed; removed { // and no spring seated since
					break
				}
				t.Fatalf("%v\n%s", err, form)
			}
			if history, err = casefile.AppendVisit(history, []byte(form), v, of); err != nil {
				t.Fatalf("%v\n%s", err, form)
			}
			want = append(want, v)
			if visits, stand, err = casefile.ReadHistory("visits.toml", history, of); err != nil {
				t.Fatalf("%v\n%s", err, history)
			}
			if diff := cmp.Diff(want, visits, alike()); diff != "" {
				t.Fatalf("(-want +got):\n%s\n%s", diff, history)
			}
		}
	})
}

// A case that is made anew where the tooth has come to says so, and where it is to go as before.
func TestRemadeCaseStandsWhereItIsSaid(t *testing.T) {
	t.Parallel()
	c, err := casefile.ReadCase("case.toml", []byte(molarCase))
	if err != nil {
		t.Fatal(err)
	}
	designtest.CheckLaw(t, func(t *rapid.T) {
		now := c.Now
		hundredths := func(most int, what string) float64 { return float64(rapid.IntRange(-most, most).Draw(t, what)) / 100 }
		now.CentreMM = r3.Add(now.CentreMM, r3.Vec{X: hundredths(50, "x"), Y: hundredths(50, "y"), Z: hundredths(50, "z")})
		text, err := casefile.RemadeCase([]byte(molarCase), c, now, 2)
		if err != nil {
			t.Fatal(err)
		}
		got, err := casefile.ReadCase("remade-case.toml", text)
		if err != nil {
			t.Fatal(err)
		}
		const written = 0.006 // hundredths of a mm
		if diff := cmp.Diff([]design.Placement{now, c.Goal}, []design.Placement{got.Now, got.Goal}, cmpopts.EquateApprox(0, written)); diff != "" {
			t.Errorf("(-want +got):\n%s\n%s", diff, text)
		}
	})
}

// What is kept beside the files of an order is refused or read as it is written again.
func FuzzReadOrder(f *testing.F) {
	text, err := casefile.WriteOrder(origin, casefile.OrderOutcome{Order: "a", Name: "a-b", Lacking: []string{"x"}, Share: 0.5, CutMM: 50})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte(`{"format": "springwright order", "version": 1, "share": -1, "cut_mm": 1e999, "lacking": null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		o, err := casefile.ReadOrder(data)
		if err != nil {
			return
		}
		written, err := casefile.WriteOrder(origin, o)
		if err != nil {
			t.Fatal(err)
		}
		again, err := casefile.ReadOrder(written)
		if diff := cmp.Diff(o, again, cmpopts.EquateEmpty()); err != nil || diff != "" {
			t.Errorf("%v (-want +got):\n%s", err, diff)
		}
	})
}
