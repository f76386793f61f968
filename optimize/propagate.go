package optimize

import (
	"math/rand/v2"
	"slices"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/distuv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// linear is how the judged loads of a design change with the errors of its bender, to
// first order: value + change · z, with z standard normal and independent.
type linear struct {
	terms   []loadTerm
	sources []source
	values  []float64   // of each term, as designed
	changes [][]float64 // of each term by one standard deviation of each source
}

// propagate solves a design and its exact slopes at every position. It reports false where
// the spring cannot be seated or has no slopes.
func (h *hand) propagate(solver *beam.Solver) (linear, bool) {
	l := linear{terms: h.terms, sources: h.sources}
	parameters := pathParameters(h.spring.Path)
	slopes := make([]beam.Slope, len(parameters))
	solver.Reset(h.spring.Rod(), beam.Origin())
	next := 0
	var first loads
	firstChanges := make([]loads, len(h.sources))
	for i, hold := range h.holds {
		if solver.Follow(hold) != nil || !solver.Slopes(hold, parameters, slopes) {
			return linear{}, false
		}
		seat, ok := solver.HoldSlopes(hold)
		if !ok {
			return linear{}, false
		}
		now := loads{h.spring.ActiveLoad(solver.EndLoad(), solver.End().At, hold.Pose), h.spring.AnchorLoad(solver.BaseLoad())}
		byPlace, byTurn := h.slotSlopes(solver, hold.Pose, seat)
		changes := make([]loads, len(h.sources))
		for j, s := range h.sources {
			switch s.kind {
			case stiffnessSource:
				changes[j] = now // loads in prescribed seats are proportional to the moduli
			case slotPlaceSource:
				changes[j] = byPlace[s.index]
			case slotTurnSource:
				changes[j] = byTurn[s.index]
			case readingSource: // works through the steps, below
			case stepSource:
				changes[j] = h.loadsOf(solver, slopes[s.index], hold.Pose)
			}
		}
		if i == 0 {
			first = now
			copy(firstChanges, changes)
		}
		judged := h.judge.at(i, now.active, now.anchor, first.active)
		for ; next < len(h.terms) && h.terms[next].position == i; next++ {
			term := h.terms[next]
			change := make([]float64, len(h.sources))
			for j, s := range h.sources {
				by := h.judge.at(i, changes[j].active, changes[j].anchor, firstChanges[j].active)
				change[j] = s.sd * h.target.Slope(term.quantity, judged, by)
			}
			if h.check != nil {
				for k, slope := range h.check.passOn(change[h.steps:]) {
					at := h.steps - readDirections + k
					change[at] = h.sources[at].sd * slope
				}
			}
			l.values = append(l.values, h.target.Value(term.quantity, judged))
			l.changes = append(l.changes, change)
		}
	}
	return l, true
}

// pathParameters is what a mm of every straight and a rad of every bend and twist does.
func pathParameters(path spring.Path) []beam.Parameter {
	all := spring.Pattern{Steps: path.Steps()}
	for i, step := range all.Steps {
		all.Freedoms = append(all.Freedoms, spring.Freedom{Step: i, Angle: step.Kind != spring.Straight})
	}
	return all.Parameters(all.Steps)
}

// slotSlopes turns slopes by a move of the wire's end into those of the load on the tooth
// by a move of its slot and by a turn about the slot's centre.
func (h *hand) slotSlopes(solver *beam.Solver, slot beam.Pose, seat [6]beam.Slope) (byPlace, byTurn [3]loads) {
	arm := r3.Sub(slot.At, h.spring.Centre(slot))
	force := solver.EndLoad().ForceN
	for k := range 3 {
		moved := seat[k]
		moved.EndShiftMM = r3.Sub(moved.EndShiftMM, axis(k)) // against the slot's centre
		byPlace[k] = h.loadsOf(solver, moved, slot)
		// The end swings about the centre, and with it the arm of the force.
		swing := r3.Cross(axis(k), arm)
		turned := seat[3+k]
		for i, mm := range [...]float64{swing.X, swing.Y, swing.Z} {
			turned.End = plus(turned.End, mm, seat[i].End)
			turned.Base = plus(turned.Base, mm, seat[i].Base)
		}
		turned.End.MomentNMM = r3.Add(turned.End.MomentNMM, r3.Cross(swing, force))
		byTurn[k] = h.loadsOf(solver, turned, slot)
	}
	return byPlace, byTurn
}

// plus is w with share times another wrench about the same point added.
func plus(w beam.Wrench, share float64, other beam.Wrench) beam.Wrench {
	return beam.Wrench{
		ForceN:    r3.Add(w.ForceN, r3.Scale(share, other.ForceN)),
		MomentNMM: r3.Add(w.MomentNMM, r3.Scale(share, other.MomentNMM)),
	}
}

// loads are those on both teeth, or their change, couples about the slots' centres.
type loads struct{ active, anchor tooth.Load }

func (h *hand) loadsOf(solver *beam.Solver, s beam.Slope, slot beam.Pose) loads {
	return loads{activeSlope(h.spring, solver, s, slot), h.spring.AnchorLoad(s.Base)}
}

// share is the share of a sample of standard normal numbers, one row a spring and one
// column a source, whose springs meet every window.
func (l linear) share(sample [][]float64) float64 {
	met := 0
	for _, z := range sample {
		if l.meets(z) {
			met++
		}
	}
	return float64(met) / float64(len(sample))
}

func (l linear) meets(z []float64) bool {
	for i, term := range l.terms {
		if term.window.Misses(l.values[i]+dot(l.changes[i], z)) > 0 {
			return false
		}
	}
	return true
}

// influences returns the first-order share of each source in the variance of the judged
// loads, each load measured by the width of its window; the largest first.
func (l linear) influences() []Influence {
	var out []Influence
	var sum float64
	for j, s := range l.sources {
		var variance float64
		for i, term := range l.terms {
			share := l.changes[i][j] / windowWidth(term.window)
			variance += share * share
		}
		sum += variance
		out = append(out, Influence{s.name, variance})
	}
	if sum == 0 {
		return nil
	}
	for j := range out {
		out[j].Share /= sum
	}
	slices.SortStableFunc(out, func(a, b Influence) int { return compare(b.Share, a.Share) })
	return out
}

// windowWidth is at least a slack that the search would give it too.
func windowWidth(w target.Window) float64 {
	terms := appendTerm(nil, 0, 0, target.Window{Min: w.Min, Max: w.Max, Aimed: true})
	return 2 * terms[0].slack
}

// fixedSample is how many springs of the linear model stand for all in the search: with a
// low-discrepancy sample the share is good to about a hundredth, far less than a design
// has to be better by to be chosen for it.
const fixedSample = 512

// normalSample is a scrambled Halton sample of standard normal numbers, always the same.
func normalSample(springs, sources int) [][]float64 {
	source := rand.NewPCG(1, 2)
	batch := mat.NewDense(springs, sources, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(sources, source), Src: source}.Sample(batch)
	sample := make([][]float64, springs)
	for i := range sample {
		sample[i] = mat.Row(nil, i, batch)
		for j, u := range sample[i] {
			const tail = 1e-9 // a scrambled point may fall on 0
			sample[i][j] = distuv.UnitNormal.Quantile(min(max(u, tail), 1-tail))
		}
	}
	return sample
}
