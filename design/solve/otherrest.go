package solve

import (
	"math"

	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// Two states of rest are told apart from these differences of a load on: what a gauge
	// shows at least, and a tenth of a N·mm, less than couples are known to (choice).
	differentForceN    = 0.01
	differentCoupleNMM = 0.1
	// otherCrossings bounds the search for another rest at one position: 14 ms, or 80 ms of a
	// tight wire. Those found in 300 random springs took up to two thirds of it.
	otherCrossings = mostCrossings / 25
)

// loadsDiffer tells whether a load is another one as far as anybody could tell.
func loadsDiffer(l tooth.Load, m tooth.Load) bool {
	return r3.Norm(r3.Sub(l.ForceN, m.ForceN)) > differentForceN || r3.Norm(r3.Sub(l.CoupleNMM, m.CoupleNMM)) > differentCoupleNMM
}

// positionsDiffer tells whether another rest has other loads on either tooth.
func positionsDiffer(p spring.Position, rest spring.OtherRest) bool {
	return loadsDiffer(rest.Active, p.Active) || loadsDiffer(rest.Anchor, p.Anchor)
}

// near tells whether angles are the same as far as walls tell them apart.
func (a angles) near(b angles) bool {
	for i := range a {
		if !(math.Abs(a[i]-b[i]) <= angleSlackRad) {
			return false
		}
	}
	return true
}

// otherRest looks for a state in which the wire lies rolled the other way in its slots, at
// the seat that it is in, and comes back. A wire with play in third order that is loaded in
// its plane may fall out of it to either side. It is looked for from the mirror image of the
// present state in that plane and from the present state with the roll alone reversed: by the
// contacts, and by letting the wire go from there. nil does not prove that there is none. A
// spring that lies in that plane itself rests in the image of every rest: there it needs no search.
func (f *slotFollower) otherRest(seat spring.Seat, lying spring.Position) *spring.OtherRest {
	if f.problem.play[0] <= tightRad && f.problem.play[perSlot] <= tightRad {
		return nil
	}
	if !f.spring.OneSided() {
		if rest := lying.Mirrored(); positionsDiffer(lying, rest) {
			return &rest
		}
		return nil
	}
	here, lies := f.solver.Configuration(), f.contacts
	f.limit = f.solver.Crossings() + otherCrossings
	f.solver.StopAt(f.limit)
	f.problem.solve = f.solveAt(seat)
	defer func() {
		f.solver.StopAt(0)
		f.solver.Restore(here)
		f.contacts = lies
	}()
	different := func(found contacts, ok bool) *spring.OtherRest {
		if !ok {
			return nil
		}
		f.contacts = found
		rest := spring.OtherRest{
			Active: f.spring.ActiveLoad(f.solver.EndLoad(), f.solver.End().At, seat.Pose(f.spring.Heading)),
			Anchor: f.spring.AnchorLoad(f.solver.BaseLoad()),
			Play:   *f.state(),
		}
		strength := f.spring.Wire.Strength()
		for _, n := range f.solver.AppendNodes(nil) {
			rest.StressRatio = math.Max(rest.StressRatio, strength.Ratio(n.MomentNMM))
		}
		if !positionsDiffer(lying, rest) {
			return nil
		}
		return &rest
	}
	angle, _ := loadsIn(f.solver)
	var tried angles
	for attempt, reversed := range [][]int{{0, 2, 4, perSlot, perSlot + 2, perSlot + 4}, {0, perSlot}} {
		c, turned := lies, angle
		for _, i := range reversed {
			turned[i] = f.between(i, -angle[i])
			c[i] = lies[i].Mirrored()
		}
		if attempt > 0 && turned.near(tried) {
			continue // nothing but the roll was reversed before
		}
		tried = turned
		f.solver.Restore(here)
		_, _, err := f.hold(seat, [2 * perSlot]bool{}, turned)
		if err == nil {
			if f.contacts = c; f.rest(seat) == nil {
				if rest := different(f.contacts, true); rest != nil {
					return rest
				}
				continue // it falls back to where it lay
			}
		}
		if c != lies {
			f.solver.Restore(here)
			found, ok, _ := f.problem.settle(c)
			if rest := different(found, ok); rest != nil {
				return rest
			}
		}
		f.solver.Restore(here)
		if _, _, err := f.hold(seat, [2 * perSlot]bool{}, turned); err != nil {
			continue
		}
		found, ok := f.letGo(seat)
		if rest := different(found, ok); rest != nil {
			return rest
		}
	}
	return nil
}

// warnOfOtherRests warns that the wire may lie in more than one way, and how far the loads differ.
func (e *Evaluation) warnOfOtherRests() {
	var count int
	var active, anchor Effect
	for _, p := range e.Record.Positions {
		if p.OtherRest == nil {
			continue
		}
		count++
		active.add(p.Active, p.OtherRest.Active)
		anchor.add(p.Anchor, p.OtherRest.Anchor)
	}
	if count > 0 {
		e.Warnings = append(e.Warnings, notice.OtherRest{
			At: count, Positions: len(e.Record.Positions),
			ForceN: active.ForceN, CoupleNMM: math.Max(active.CoupleNMM, anchor.CoupleNMM),
		})
	}
}
