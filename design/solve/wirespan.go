package solve

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// wireSpan is the wire between the anchor slot and another one, in which it slides, as it is seen from where
// it leaves the anchor slot. Both ends are held.
type wireSpan struct {
	spring  spring.Spring
	solver  *beam.Solver
	memory  bool
	towards float64 // from the anchor slot along x: +1 to the active slot, -1 beyond
	far     slotWays
	seat    beam.Pose // of the wire's end in the far slot, seen from the anchor slot
	stress  func() float64
	kept    beam.Configuration // what a trial begins from

	at       spanHold    // at which it was solved last; the zero value: nowhere yet
	start    beam.Pose   // of the wire, where it leaves the anchor slot
	atAnchor beam.Wrench // of the anchor slot on the wire, about its centre line in the slot's middle
	atFar    [2]float64  // loads of the far slot on the wire along its ways
}

// spanHold is how both ends are held.
type spanHold struct {
	turnRad, shiftMM float64    // in the anchor slot
	far              [2]float64 // along the ways of the far slot
	seat             beam.Pose
}

func newWireSpan(s spring.Spring, far slotWays, towards float64) (*wireSpan, error) {
	p := &wireSpan{spring: s, far: far, towards: towards, memory: s.Wire.IsSuperelastic()}
	if p.memory {
		held, err := newHistoryWire(s)
		if err != nil {
			return nil, err
		}
		p.solver = held.solver
		strain := strainGauge(s)
		p.stress = func() float64 { return strain(p.solver.Responses()) }
	} else {
		p.solver = beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
		strength := s.Wire.Strength()
		p.stress = func() float64 {
			worst := 0.0
			for _, n := range p.solver.AppendNodes(nil) {
				worst = max(worst, strength.Ratio(n.MomentNMM))
			}
			return worst
		}
	}
	p.keep()
	return p, nil
}

// keep takes the present state as the one to go on from.
func (p *wireSpan) keep() {
	if p.memory {
		p.solver.Keep()
	}
	p.kept = p.solver.Configuration()
}

// hold holds the wire, whose pose in the middle of the anchor slot is centre, and solves it from the state that
// was kept.
func (p *wireSpan) hold(at spanHold, centre beam.Pose) error {
	if p.at == at {
		return nil
	}
	p.at = spanHold{}
	p.solver.Restore(p.kept)
	halfMM := p.spring.AnchorSlotLengthMM / 2
	p.start = centre.Along(p.towards * halfMM)
	if p.towards < 0 {
		p.start.D1, p.start.D2 = r3.Scale(-1, p.start.D1), r3.Scale(-1, p.start.D2)
	}
	slot := beam.Slot{LeverMM: p.far.lengthMM / 2, Slides: true}
	slot.TurnRad.Y = at.far[0]
	if p.far.ways == 2 {
		slot.HeightArmMM, slot.EdgeRad[0] = p.far.armMM, at.far[1]
	}
	if err := p.solver.FollowSlots(p.local(p.seat), beam.Slot{LeverMM: halfMM}, slot); err != nil {
		return err
	}
	p.atAnchor = p.global(p.solver.BaseLoad()).About(p.start.At, centre.At)
	_, _, _, onFar := p.solver.InSlots()
	p.atFar, p.at = [2]float64{onFar[1], onFar[3]}, at
	return nil
}

// local is a pose as seen from where the wire leaves the anchor slot.
func (p *wireSpan) local(pose beam.Pose) beam.Pose {
	s := p.start
	return beam.Pose{At: s.ToLocal(r3.Sub(pose.At, s.At)), D1: s.ToLocal(pose.D1), D2: s.ToLocal(pose.D2), D3: s.ToLocal(pose.D3)}
}

// global is a load on the axes of the anchor slot.
func (p *wireSpan) global(w beam.Wrench) beam.Wrench {
	return beam.Wrench{ForceN: p.start.ToGlobal(w.ForceN), MomentNMM: p.start.ToGlobal(w.MomentNMM)}
}

// onFarTooth is the load on the tooth of the far slot, about its centre.
func (p *wireSpan) onFarTooth() tooth.Load {
	l := p.spring.ActiveLoad(p.solver.EndLoad(), p.solver.End().At, p.local(p.seat))
	return tooth.Load{ForceN: p.start.ToGlobal(l.ForceN), CoupleNMM: p.start.ToGlobal(l.CoupleNMM)}
}
