package optimize

import (
	"context"
	"math"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/spring"
)

// A search tells of better designs while it runs, each on numbers that a hand can bend, and the
// last of them is what it returns.
func TestSearchTellsOfBetterDesigns(t *testing.T) {
	t.Parallel()
	for _, c := range []design.Case{demoCase(t), demoCase(t).Mirrored()} {
		c.Bender.Springs = 0
		var told []spring.Spring
		r := search(t, c, Options{Workers: 2, Better: func(of design.Case, s spring.Spring) {
			if of.Teeth != c.Teeth {
				t.Errorf("told of teeth %v", of.Teeth)
			}
			told = append(told, s)
		}})
		if len(told) < 3 {
			t.Fatalf("told of %d designs, want one for each stage and more", len(told))
		}
		for i, s := range told {
			for _, step := range s.Path.Steps() {
				value, grid := step.LengthMM, c.Search.LengthStepMM
				if step.Kind != spring.Straight {
					value, grid = step.AngleRad, c.Search.AngleStepRad
				}
				if off := math.Abs(value/grid - math.Round(value/grid)); off > 1e-6 {
					t.Errorf("design %d has %v, which lies off the steps of %v", i, value, grid)
				}
			}
		}
		if last := told[len(told)-1]; !slices.Equal(last.Path.Steps(), r.Spring.Path.Steps()) {
			t.Errorf("told of %v last, returned %v", last.Path.Steps(), r.Spring.Path.Steps())
		}
	}
}

// One that is stopped has told of what it had.
func TestStoppedSearchHasToldOfItsBest(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	told := 0
	_, err := Search(ctx, demoCase(t), Options{Workers: 2, Better: func(design.Case, spring.Spring) { told++; stop() }})
	if err == nil || told == 0 {
		t.Errorf("told of %d designs, error %v", told, err)
	}
}
