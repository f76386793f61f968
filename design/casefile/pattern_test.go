package casefile_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/spring"

	"github.com/google/go-cmp/cmp"
)

const freePath = `title = "a loop of one's own"
path = [
  { straight_mm = { min = 1, max = 5, step = 0.5 } },
  { bend_deg = { min = -20, max = 31, step = 2 }, radius_mm = 0.97 },
  { straight_mm = "4mm" },
  { bend_deg = 90, radius_mm = 0.97 },
  { straight_mm = { min = "4mm", max = 8 } },
  { bend_deg = -180, radius_mm = { min = 1.0, max = 2.0, step = 0.25 } },
  { straight_mm = 6 },
  { bend_deg = { min = 61, max = 120, step = 2 }, radius_mm = 0.97 },
  { twist_deg = { min = 10, max = 20 }, over_mm = { min = 2, max = 3 } },
  { straight_mm = 2 },
]
`

func TestReadPattern(t *testing.T) {
	t.Parallel()
	p, err := casefile.ReadPattern("free.toml", []byte(freePath))
	if err != nil {
		t.Fatal(err)
	}
	deg := math.Pi / 180
	want := []spring.Freedom{
		{Name: "step 1, length", Step: 0, Min: 1, Max: 5, Grid: 0.5, Neutral: 1},
		{Name: "step 2, bend", Step: 1, Angle: true, Min: -20 * deg, Max: 31 * deg, Grid: 2 * deg},
		{Name: "step 5, length", Step: 4, Min: 4, Max: 8, Neutral: 4},
		{Name: "step 6, radius", Step: 5, Radius: true, Min: 1, Max: 2, Grid: 0.25, Neutral: 1},
		{Name: "step 8, bend", Step: 7, Angle: true, Min: 61 * deg, Max: 120 * deg, Grid: 2 * deg, Neutral: 91 * deg},
		{Name: "step 9, twist", Step: 8, Angle: true, Min: 10 * deg, Max: 20 * deg, Neutral: 10 * deg},
		{Name: "step 9, length of the twist", Step: 8, Min: 2, Max: 3, Neutral: 2},
	}
	if diff := cmp.Diff(want, p.Freedoms, near); diff != "" {
		t.Errorf("freedoms (-want +got):\n%s", diff)
	}
	if len(p.Steps) != 10 || p.Steps[2].LengthMM != 4 || p.LoopFirst != 3 || p.LoopLast != 7 {
		t.Errorf("path %+v, loop %d to %d", p.Steps, p.LoopFirst, p.LoopLast)
	}
}

// A whole spring file serves as well: the rest is checked and left.
func TestReadPatternTakesASpringFile(t *testing.T) {
	t.Parallel()
	text := strings.Replace(stepSpring, "{ straight_mm = 2.0 }", "{ straight_mm = { min = 1, max = 2 } }", 1)
	p, err := casefile.ReadPattern("free.toml", []byte(text))
	if err != nil || len(p.Freedoms) != 1 {
		t.Errorf("%+v, %v", p.Freedoms, err)
	}
	_, err = casefile.ReadSpring("spring.toml", []byte(text))
	var faults fault.List
	if !errors.As(err, &faults) || len(faults) != 1 || !strings.Contains(faults[0].Text, "is a range") || !strings.Contains(faults[0].Hint, "spring_file") {
		t.Errorf("a spring with a range: %v", err)
	}
}

func TestReadPatternFaults(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, from, to, key, text string }{
		{"ends swapped", "min = 1, max = 5", "min = 5, max = 1", "path[1].straight_mm.max", "not above min"},
		{"no min", "min = 1, max = 5", "max = 5", "path[1].straight_mm.min", "is missing"},
		{"a step of nothing", "step = 0.5", "step = 0", "path[1].straight_mm.step", "out of range"},
		{"unknown key", "step = 0.5", "grid = 0.5", "path[1].straight_mm.grid", "not a known key"},
		{"angle out of range", "max = 31", "max = 370", "path[2].bend_deg.max", "out of range"},
		{"not a number", "min = 1.0", "min = nan", "path[6].radius_mm.min", ""},
		{"no path", freePath, "title = \"x\"", "path", "is missing"},
		{"nothing open", freePath, "path = [ { straight_mm = 2 } ]", "path", "no number open"},
		{"too much open", freePath, "path = [" + strings.Repeat("{ straight_mm = { min = 1, max = 2 } },", 61) + "]", "path", "61 numbers"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := casefile.ReadPattern("free.toml", []byte(strings.Replace(freePath, row.from, row.to, 1)))
			var faults fault.List
			if !errors.As(err, &faults) || len(faults) != 1 {
				t.Fatalf("faults: %v", err)
			}
			if f := faults[0]; f.Key != row.key || !strings.Contains(f.Text, row.text) || f.Line == 0 || f.Hint == "" {
				t.Errorf("fault %+v, want key %s and text %q", f, row.key, row.text)
			}
		})
	}
}

func FuzzReadPattern(f *testing.F) {
	f.Add([]byte(freePath))
	for _, seed := range []string{"path = [{straight_mm = {}}]", "path = [{straight_mm = {min = {min = 1}, max = 2}}]", "path = [{bend_deg = {min = -1e9, max = 1e9, step = 1e-300}, radius_mm = 1}]", stepSpring} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := casefile.ReadPattern("free.toml", data)
		if err != nil {
			checkFaults(t, err)
			return
		}
		for _, f := range p.Freedoms {
			checkFinite(t, f.Min, f.Max, f.Grid, f.Neutral)
			if f.Min >= f.Max || f.Neutral < f.Min || f.Neutral > f.Max || f.Step >= len(p.Steps) {
				t.Errorf("freedom %+v", f)
			}
		}
	})
}
