package effect

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// anchorPlace is where a drifting anchor stands. A spring is solved from its anchor slot, so
// that what it is in goes there and back through seen and inJaw; an anchor that does not move
// leaves both as they are to the last bit.
type anchorPlace struct {
	body AnchorBody
	// All in the jaw. slot is the origin of the spring's axes, which move with the anchor.
	slot              beam.Pose
	slotCentre        r3.Vec // from there, on its axes
	centre            r3.Vec // of resistance
	startCentre, from r3.Vec // of resistance, and of the slot, at the start
}

func newAnchorPlace(s spring.Spring, body AnchorBody) *anchorPlace {
	p := &anchorPlace{body: body, slot: beam.Origin(), slotCentre: s.AnchorCentre(), from: s.AnchorCentre()}
	p.startCentre = r3.Add(p.from, body.OffsetMM)
	p.centre = p.startCentre
	return p
}

// seen is a pose in the jaw as seen from the anchor slot.
func (p *anchorPlace) seen(pose beam.Pose) beam.Pose {
	if !p.body.Moves() {
		return pose
	}
	return beam.Pose{
		At: p.slot.ToLocal(r3.Sub(pose.At, p.slot.At)),
		D1: p.slot.ToLocal(pose.D1), D2: p.slot.ToLocal(pose.D2), D3: p.slot.ToLocal(pose.D3),
	}
}

// inJaw is a load as seen from the anchor slot on the axes of the jaw.
func (p *anchorPlace) inJaw(l tooth.Load) tooth.Load {
	if !p.body.Moves() {
		return l
	}
	return tooth.Load{ForceN: p.slot.ToGlobal(l.ForceN), CoupleNMM: p.slot.ToGlobal(l.CoupleNMM)}
}

func (p *anchorPlace) slotCentreInJaw() r3.Vec {
	return r3.Add(p.slot.At, p.slot.ToGlobal(p.slotCentre))
}

// give is how far the anchor moves under a load about its slot's centre, in the jaw. Its hold
// against turning goes with it.
func (p *anchorPlace) give(mobility float64, onAnchor tooth.Load) (shiftMM, turn r3.Vec) {
	if !p.body.Moves() {
		return r3.Vec{}, r3.Vec{}
	}
	at := onAnchor.AtResistance(r3.Sub(p.centre, p.slotCentreInJaw()))
	shiftMM, turn = p.body.give(mobility, p.slot.ToLocal(at.ForceN), p.slot.ToLocal(at.CoupleNMM))
	return p.slot.ToGlobal(shiftMM), p.slot.ToGlobal(turn)
}

// move shifts the centre of resistance and turns the anchor about it.
func (p *anchorPlace) move(shiftMM, turn r3.Vec) {
	if !p.body.Moves() {
		return
	}
	arm := r3.Sub(p.slot.At, p.centre)
	p.centre = r3.Add(p.centre, shiftMM)
	p.slot = p.slot.Turned(turn)
	p.slot.At = r3.Add(p.centre, beam.Rotate(turn, arm))
}

func (p *anchorPlace) shift() AnchorShift {
	if !p.body.Moves() {
		return AnchorShift{}
	}
	return AnchorShift{
		SlotMM:   r3.Sub(p.slotCentreInJaw(), p.from),
		CentreMM: r3.Sub(p.centre, p.startCentre),
		Rotation: beam.RotationBetween(beam.Origin(), p.slot),
	}
}
