package optimize

import (
	"testing"

	"springwright/design"
	"springwright/design/family"
	"springwright/design/spring"
	"springwright/optimize/lsq"

	"gonum.org/v1/gonum/mat"
)

// trial is a search on one core that tests take apart.
type trial struct {
	*problem
	crew   *crew
	plan   plan
	worker *objective
}

func newTrial(t testing.TB, c design.Case, pattern spring.Pattern) trial {
	t.Helper()
	p := newProblem(t.Context(), c, pattern)
	w, err := newCrew(p, Options{Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	return trial{p, w, planFor(c, Options{}), w.workers[0]}
}

// trialOf is newTrial for the pattern that the case asks for.
func trialOf(t testing.TB, c design.Case) trial {
	t.Helper()
	pattern, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	return newTrial(t, c, pattern)
}

func (s trial) startingPoints() [][]float64 { return startingPoints(s.problem, s.plan) }

// closed pulls a point, which it overwrites, to where the wire about closes.
func (s trial) closed(x []float64) {
	s.descend(newClosing(s.worker), forTarget(), s.box, x, closeIterations)
}

// polished is what the first two stages come to.
func (s trial) polished(t testing.TB) (free, finest []candidate) {
	t.Helper()
	free, finest = polish(s.problem, s.crew, s.plan, scatter(s.problem, s.crew, s.plan))
	if len(free) == 0 {
		t.Fatal("nothing solved")
	}
	return free, finest
}

// settle brings a design onto the grid.
func (s trial) settle(x []float64) candidate {
	c := newDescent(s.problem, s.worker, s.box).settle(x)
	c.cost.fragility = s.fragility(c.x)
	return c
}

// costAt is all that a design costs.
func (s trial) costAt(x []float64) cost {
	c := costAt(s.worker, x)
	c.bends, c.fragility = s.bendsCost(x), s.fragility(x)
	return c
}

// residuals are the rows of a landscape as the least-squares method sees them.
func residuals(land landscape, x, r []float64, jacobian *mat.Dense) bool {
	return newSquares(land, onGrid()).Residuals(x, r, jacobian, lsq.ToTheEnd)
}
