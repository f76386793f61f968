package optimize

import (
	"maps"
	"slices"
	"testing"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/presets"
)

// What a path goes beyond is what the search told of the same numbers, though bends that came to nothing are gone
// from it; a bend more in the middle of a straight, of no angle, changes nothing, and a loop that grows does.
func TestRoomOfAPath(t *testing.T) {
	t.Parallel()
	for _, name := range presets.Names() {
		_, c, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		c = c.Variants()[0]
		pattern, err := Options{}.patternFor(c)
		if err != nil {
			t.Fatal(err)
		}
		// The usual shape of the kind, every length a quarter up its range.
		var x []float64
		for _, f := range pattern.Freedoms {
			if f.Angle {
				x = append(x, f.Neutral)
			} else {
				x = append(x, 0.75*f.Min+0.25*f.Max)
			}
		}
		path := spring.PathOf(pattern.StepsFor(x)...)
		made := c.SeatedSpring(path)
		o, err := newObjective(c, pattern, made)
		if err != nil {
			t.Fatal(err)
		}
		want := map[target.Limit]float64{}
		for limit, mm := range o.excesses(x) {
			if mm > exceedMM {
				want[limit] = mm
			}
		}
		r := RoomOf(c, made)
		if !r.known {
			t.Errorf("%s: its kind is not known by its path", name)
			continue
		}
		steps := path.Steps()
		compare := func(what string, steps spring.Steps, fresh []int) {
			list, err := r.Exceeded(t.Context(), steps, fresh, exceedMM)
			if err != nil {
				t.Fatal(err)
			}
			got := map[target.Limit]float64{}
			for _, e := range list {
				got[e.Limit] = e.Beyond
			}
			// The same wire in other steps of integration.
			for _, limit := range slices.Sorted(maps.Keys(want)) {
				if d := got[limit] - want[limit]; d > 0.02 || d < -0.02 {
					t.Errorf("%s, %s: %v exceeded by %v mm, want %v", name, what, limit, got[limit], want[limit])
				}
			}
			if len(got) > len(want) {
				t.Errorf("%s, %s: %v, want %v", name, what, got, want)
			}
		}
		compare("as drawn", steps, nil)
		at := slices.IndexFunc(steps, func(s spring.Step) bool { return s.Kind == spring.Straight && s.LengthMM > 3 })
		if at < 0 {
			continue
		}
		half := spring.StraightStep(steps[at].LengthMM / 2)
		wide := slices.Concat(steps[:at:at], spring.Steps{half, spring.BendStep(1e-9, 1), half}, steps[at+1:])
		compare("with a bend of nothing", wide, []int{at})
	}
}
