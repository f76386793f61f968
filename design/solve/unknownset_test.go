package solve

import (
	"testing"

	"springwright/design/beam"
	"springwright/design/notice"
	"springwright/design/spring"
)

// brittle answers until it is let go.
type brittle struct{ least float64 }

func (b brittle) Respond(load beam.Stretch) (e beam.Stretch, c [4][4]float64, ok bool) {
	for i := range e {
		e[i], c[i][i] = load[i]/300, 1.0/300
	}
	return e, c, b.least <= 0
}

func (b brittle) Keep() {}

func (b brittle) Clone() beam.Point { return brittle{1} }

// A set that is not found is said to be unknown; it is no error and no number.
func TestUnknownSet(t *testing.T) {
	t.Parallel()
	s := spring.Spring{Path: spring.PathOf(spring.StraightStep(10))}
	s.Wire.DiameterMM, s.Wire.EMPa, s.Wire.YieldMPa, s.Wire.Poisson = 0.4, 65000, 900, 0.3
	solver := beam.NewMemorySolver(s.Rod(), beam.Origin(), beam.Options{}, func(int, float64) beam.Point { return brittle{} })
	set := setOf(s, solver)
	if set != (PermanentSet{Unknown: true}) {
		t.Fatalf("set %+v", set)
	}
	e := Evaluation{Set: Set{AfterTrial: set}}
	if e.warnOfHistory(s); only(e.Warnings) != (notice.PermanentSet{Unknown: true}) {
		t.Errorf("warnings %+v", e.Warnings)
	}
}
