package optimize

import (
	"math"
	"testing"

	"springwright/design/family"

	"gonum.org/v1/gonum/mat"
)

// A loop's top that reaches too high at one corner or, tilted the other way, at another one
// must not make a kink in the landscape: a search rests on kinks wherever it meets them.
func TestLimitsMakeNoKinks(t *testing.T) {
	t.Parallel()
	c := presetCase(t, "t-loop")
	pattern, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	o := newTrial(t, c, pattern).worker
	x := make([]float64, len(pattern.Freedoms))
	tilting := -1
	for j, f := range pattern.Freedoms {
		x[j] = f.Min + 1.37*float64(j%3) // no two of the straights alike
		if f.Angle {
			x[j] = f.Neutral
		}
		if f.Name == "first corner" {
			tilting = j
		}
	}
	if tilting < 0 {
		t.Fatal("the T-loop has no first corner")
	}
	level := x[tilting]
	n, m := o.size()
	r := newRows(o)
	r.slopes = mat.NewDense(m, n, nil)
	// The slope of what the limits on the unloaded wire cost by the tilt.
	slope := func(tiltRad float64) (sum float64) {
		x[tilting] = level + tiltRad
		o.lay(x, r)
		o.putReaches(r, -1)
		for i := range r.next {
			if v, weighs := r.kinds[i].hinge(r.values[i]); weighs {
				sum += v * r.slopes.At(i, tilting)
			}
		}
		return sum
	}
	slope(0)
	for i, term := range o.reaches {
		if term.position < 0 {
			o.reaches[i].limitMM = term.reach(o.nodes) - 0.02
		}
	}
	const tiltRad = 1e-5
	tilted, back := slope(tiltRad), slope(-tiltRad)
	further := slope(3 * tiltRad)
	if tilted == 0 || back == 0 || further == 0 {
		t.Fatal("the limits do not weigh in this test")
	}
	// The slope goes on as evenly across the level as beside it.
	if jump, beside := math.Abs(tilted-back), math.Abs(further-tilted); jump > 1.1*beside {
		t.Errorf("the slope of the limits' cost jumps from %v to %v as the top tilts over, and goes on to %v", back, tilted, further)
	}
}
