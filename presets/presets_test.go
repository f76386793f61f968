package presets_test

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/presets"
)

func TestEveryPresetReadsAndIsCommented(t *testing.T) {
	t.Parallel()
	names := presets.Names()
	if !slices.Contains(names, presets.Demo) || !slices.IsSorted(names) {
		t.Fatalf("names are %v", names)
	}
	for _, name := range names {
		text, _, err := presets.Case(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if what := presets.For(text); len(what) < 40 || len(what) > 160 || !strings.HasSuffix(what, ".") || strings.Contains(what, "\n") {
			t.Errorf("%s is for %q: want one sentence of one line", name, what)
		}
		for i, line := range bytes.Split(text, []byte("\n")) {
			if bytes.Contains(line, []byte(" = ")) && !bytes.Contains(line, []byte("#")) && !bytes.HasPrefix(line, []byte("title")) {
				t.Errorf("%s, line %d has no comment: %s", name, i+1, line)
			}
		}
	}
}

func TestDemoIsTheMolarItSays(t *testing.T) {
	t.Parallel()
	_, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Teeth.Active.Name(); got != "lower left second molar" {
		t.Errorf("active tooth is %s", got)
	}
	if c.Heading != spring.Back {
		t.Error("the tube is not entered from behind")
	}
	// The numbers of the demo may be tuned; what its comments tell of the mouth may not.
	s := c.SpringFor(spring.Path{})
	if d := s.End.AtMM.Z - s.Start.AtMM.Z; math.Abs(d-1.5) > 1e-12 {
		t.Errorf("travel is %v mm of intrusion, want 1.5", d)
	}
	if gap := s.Start.AtMM.X - c.ActiveSlot.LengthMM; math.Abs(gap-8.75) > 1e-12 {
		t.Errorf("%v mm between the tubes, want 8.75", gap)
	}
	if c.Limits.RoomDistalMM >= c.Limits.RoomMesialMM {
		t.Errorf("room distal %v mm, mesial %v mm: want less behind a last molar", c.Limits.RoomDistalMM, c.Limits.RoomMesialMM)
	}
	if w := c.Target.Travel.CoupleNMM[1]; w.Min+w.Max != 0 || !w.Aimed {
		t.Errorf("tip couple over the travel is %+v, want 0 ± a tolerance", w)
	}
}

func TestCaseRefusesAnUnknownName(t *testing.T) {
	t.Parallel()
	if _, _, err := presets.Case("../demo"); !errors.Is(err, presets.ErrUnknown) || !strings.Contains(err.Error(), presets.Demo) {
		t.Errorf("got %v, want an error that lists the names", err)
	}
}

// The presets cover every kind of spring, every quadrant, and teeth before and behind their anchors; no two are for
// the same thing.
func TestPresetsCoverTheMouth(t *testing.T) {
	t.Parallel()
	const least = 16
	kinds, quadrants, places, lessons := map[string]int{}, map[int]int{}, map[string]int{}, map[string]bool{}
	for _, name := range presets.Names() {
		text, c, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		kind, err := design.FamilyOf(c.Family)
		if err != nil {
			t.Fatal(err)
		}
		kinds[kind.Name]++
		quadrants[int(c.Teeth.Active)/10]++
		if c.Teeth.Active.Place() > c.Teeth.Anchor.Place() {
			places["behind"]++
		} else {
			places["before"]++
		}
		if c.Teeth.Active.Upper() {
			places["upper"]++
		} else {
			places["lower"]++
		}
		lessons[presets.For(text)] = true
	}
	if len(lessons) < least {
		t.Errorf("%d presets for different things, want %d", len(lessons), least)
	}
	for _, kind := range design.Families() {
		if kinds[kind.Name] == 0 {
			t.Errorf("no preset is a %s", kind.Name)
		}
	}
	for quadrant := 1; quadrant <= 4; quadrant++ {
		if quadrants[quadrant] < 2 {
			t.Errorf("%d presets in quadrant %d, want 2", quadrants[quadrant], quadrant)
		}
	}
	for _, place := range [...]string{"before", "behind", "upper", "lower"} {
		if places[place] < 3 {
			t.Errorf("%d presets with a tooth %s, want 3", places[place], place)
		}
	}
}
