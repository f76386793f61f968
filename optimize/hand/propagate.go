package hand

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Linear is the model about the hand's design, from its exact slopes at every position. It
// reports false where the spring cannot be seated or has no slopes.
func (h *Hand) Linear() (Linear, bool) {
	return h.propagate(beam.NewSolver(h.spring.Rod(), beam.Origin(), Accuracy))
}

func (h *Hand) propagate(solver *beam.Solver) (Linear, bool) {
	l := Linear{Terms: h.terms, sources: h.sources}
	path := h.spring.Path
	parameters := pathParameters(path)
	slopes := make([]beam.Slope, len(parameters))
	solver.Reset(h.spring.Rod(), beam.Origin())
	next := 0
	var first loads
	firstChanges := make([]loads, len(h.sources))
	for i, hold := range h.holds {
		if solver.Follow(hold) != nil || !solver.Slopes(hold, parameters, slopes) {
			return Linear{}, false
		}
		seat, ok := solver.HoldSlopes(hold)
		if !ok {
			return Linear{}, false
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
		judged := h.judge.At(i, now.active, now.anchor, first.active)
		for ; next < len(h.terms) && h.terms[next].Position == i; next++ {
			term := h.terms[next]
			change := make([]float64, len(h.sources))
			for j, s := range h.sources {
				by := h.judge.At(i, changes[j].active, changes[j].anchor, firstChanges[j].active)
				change[j] = s.sd * h.target.Slope(term.Quantity, judged, by)
			}
			if h.check != nil {
				for k, slope := range h.check.passOn(change[h.steps:]) {
					at := h.steps - readDirections + k
					change[at] = h.sources[at].sd * slope
				}
			}
			l.Values = append(l.Values, h.target.Value(term.Quantity, judged))
			l.Changes = append(l.Changes, change)
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
func (h *Hand) slotSlopes(solver *beam.Solver, slot beam.Pose, seat [6]beam.Slope) (byPlace, byTurn [3]loads) {
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

func (h *Hand) loadsOf(solver *beam.Solver, s beam.Slope, slot beam.Pose) loads {
	return loads{ActiveSlope(h.spring, solver, s, slot), h.spring.AnchorLoad(s.Base)}
}

// ActiveSlope is the change of the load on the active tooth, about its slot's centre, by a
// slope of the solution in a slot that stays. Where a hook slides its force moves with it.
func ActiveSlope(spring spring.Spring, solver *beam.Solver, slope beam.Slope, seat beam.Pose) tooth.Load {
	change := slope.End
	if spring.HookSlides() {
		change.MomentNMM = r3.Add(change.MomentNMM, r3.Cross(slope.EndShiftMM, solver.EndLoad().ForceN))
	}
	return spring.ActiveLoad(change, solver.End().At, seat)
}
