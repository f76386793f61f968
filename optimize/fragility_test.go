package optimize

import (
	"testing"

	"springwright/design"
	"springwright/design/family"
	"springwright/optimize/internal/invented"
)

func TestFragility(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	pattern := family.RectangularLoop(c)
	x := []float64{2.5, degree(17), 3, degree(90), 5.5, degree(-120), 9.5, degree(-73), 5, degree(-102), 1.5, degree(10), 1}
	cost := func(b design.Bender) float64 {
		c.Bender = b
		s := newTrial(t, c, pattern)
		return s.fragility(x)
	}
	if got := cost(design.Bender{}); got != 0 {
		t.Errorf("perfect hand: cost %v", got)
	}
	careful, skilled := cost(invented.Shrunk(design.SkilledBender(), 0.3)), cost(design.SkilledBender())
	if !(0 < careful && careful < skilled && skilled <= fragileCost) {
		t.Errorf("costs %v for a careful and %v for a skilled hand", careful, skilled)
	}
}
