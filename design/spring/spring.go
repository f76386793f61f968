package spring

import (
	"springwright/design/beam"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Slot is a bracket slot or a tube.
type Slot struct {
	HeightMM float64 // clear height, across the wire's thickness
	DepthMM  float64 // clear size across the wire's width; 0: see SlotHold
	LengthMM float64 // along the wire
	Play     bool    // the finished spring is evaluated with play; see SlotHold
	// Hook tells that the wire is hooked or tied to the tooth as a point, at the slot's
	// centre, and enters no slot; LengthMM is 0 then. See SlotHold.
	Hook bool
	// Fast tells that the case holds the wire tied fast there, without play.
	Fast bool
	// Seating is how the wire is really seated there; see Case.SeatedSpring.
	Seating Seating
}

// Centre returns the centre of the active slot when the wire's end is at pose.
func (s Spring) Centre(end beam.Pose) r3.Vec { return end.Along(s.ActiveSlotLengthMM / 2).At }

// ActiveLoad is the load on the active tooth, about the centre of its slot at seat, of a rod
// held at its far end, which lies at endMM, by hold. A hook that slides holds the wire beside
// that centre, so that its force has a couple about it.
func (s Spring) ActiveLoad(hold beam.Wrench, endMM r3.Vec, seat beam.Pose) tooth.Load {
	return OnTooth(hold.About(endMM, s.Centre(seat)))
}

// AnchorLoad is the load on the anchor tooth, about its slot's centre, of a rod clamped at
// the origin by clamp.
func (s Spring) AnchorLoad(clamp beam.Wrench) tooth.Load {
	return OnTooth(clamp.About(r3.Vec{}, s.AnchorCentre()))
}

// AnchorCentre is the centre of the anchor slot.
func (s Spring) AnchorCentre() r3.Vec { return r3.Vec{X: -s.AnchorSlotLengthMM / 2} }

// onTooth turns the load of a slot on the wire into that of the wire on the tooth.
func OnTooth(w beam.Wrench) tooth.Load {
	return tooth.Load{ForceN: r3.Scale(-1, w.ForceN), CoupleNMM: r3.Scale(-1, w.MomentNMM)}
}

// Heading is the way the wire runs through the active slot.
type Heading int

const (
	On   Heading = iota // along +x: the slot is entered from the anchor's side
	Back                // along −x: the slot is entered from the far side
)

// String returns the word used in files: "on" or "back".
func (h Heading) String() string {
	if h == Back {
		return "back"
	}
	return "on"
}

// Seat is a place and turn of the active slot.
type Seat struct {
	AtMM     r3.Vec // where the wire enters the slot, mm
	Rotation r3.Vec // rotation vector, rad: X torque, Y tip, Z rotation
}

// Spring is an explicit wire held in two slots, and the travel of the active slot.
type Spring struct {
	Title              string
	Teeth              tooth.Pair // that it is made for; the zero pair where they are not known
	Path               Path
	Wire               wire.Wire
	AnchorSlotLengthMM float64 // the slot's centre lies half of it behind the origin
	ActiveSlotLengthMM float64 // the slot's centre lies half of it beyond the entry
	AnchorHold         SlotHold
	ActiveHold         SlotHold
	Slide              Slide // the path must begin or end there with a straight
	// SlidToRest is the slot through which the wire, at its first seat, is slid until no force is
	// left along it, and where it is cinched then. Where it slides on it has no effect.
	SlidToRest Slide
	// DrawnToN is the force along the wire, tension above 0, to which it is drawn there instead; 0: none.
	DrawnToN   float64
	Heading    Heading
	Start, End Seat
	Positions  int // evenly spaced from Start to End, both included; at least 1
	// Shortfall is what the spring misses of the target it was designed for; nil where it
	// meets it as drawn, and where nobody has held it against one.
	Shortfall *target.Shortfall
}

// SeatAt returns the active slot's seat at position i of the travel: place and rotation
// vector are both interpolated linearly.
func (s Spring) SeatAt(i int) Seat {
	if s.Positions < 2 {
		return s.Start
	}
	return s.Start.Towards(s.End, float64(i)/float64(s.Positions-1))
}

// Towards returns the seat at a share of the way to another.
func (s Seat) Towards(to Seat, share float64) Seat {
	mix := func(a, b r3.Vec) r3.Vec { return r3.Add(r3.Scale(1-share, a), r3.Scale(share, b)) }
	return Seat{AtMM: mix(s.AtMM, to.AtMM), Rotation: mix(s.Rotation, to.Rotation)}
}

// Pose returns the pose of the wire's end in a slot with the given heading.
func (s Seat) Pose(heading Heading) beam.Pose {
	p := beam.Origin()
	if heading == Back {
		p.D1, p.D3 = r3.Vec{X: -1}, r3.Vec{Z: -1}
	}
	p.At = s.AtMM
	return p.Turned(s.Rotation)
}

// SeatOf is the seat whose Pose with that heading is end.
func SeatOf(end beam.Pose, heading Heading) Seat {
	return Seat{AtMM: end.At, Rotation: beam.RotationBetween(Seat{}.Pose(heading), end)}
}

// Rod returns the unloaded wire as the solver sees it.
func (s Spring) Rod() beam.Rod {
	return beam.Rod{Section: s.Wire.Section(), Pieces: s.Path.steps.Pieces()}
}

// RateNPerMM is the loss of force along the travel by its length, from the loads on the
// active tooth at both ends of the travel; 0 where the slot only turns.
func (s Spring) RateNPerMM(first, last tooth.Load) float64 {
	way := r3.Sub(s.End.AtMM, s.Start.AtMM)
	if length2 := r3.Norm2(way); length2 > 0 {
		return r3.Dot(way, r3.Sub(first.ForceN, last.ForceN)) / length2
	}
	return 0
}
