package design

import (
	"springwright/design/beam"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

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
	Heading            Heading
	Start, End         Seat
	Positions          int // evenly spaced from Start to End, both included; at least 1
	// Shortfall is what the spring misses of the target it was designed for; nil where it
	// meets it as drawn, and where nobody has held it against one.
	Shortfall *Shortfall
}

// SeatAt returns the active slot's seat at position i of the travel: place and rotation
// vector are both interpolated linearly.
func (s Spring) SeatAt(i int) Seat {
	if s.Positions < 2 {
		return s.Start
	}
	return s.Start.towards(s.End, float64(i)/float64(s.Positions-1))
}

// towards returns the seat at a share of the way to another.
func (s Seat) towards(to Seat, share float64) Seat {
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

// Rod returns the unloaded wire as the solver sees it.
func (s Spring) Rod() beam.Rod {
	return beam.Rod{Section: s.Wire.Section(), Pieces: s.Path.Pieces()}
}

// RateNPerMM is the loss of force along the travel by its length, from the loads on the
// active tooth at both ends of the travel; 0 where the slot only turns.
func (s Spring) RateNPerMM(first, last Load) float64 {
	way := r3.Sub(s.End.AtMM, s.Start.AtMM)
	if length2 := r3.Norm2(way); length2 > 0 {
		return r3.Dot(way, r3.Sub(first.ForceN, last.ForceN)) / length2
	}
	return 0
}
