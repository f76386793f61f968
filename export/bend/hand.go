package bend

import (
	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// # By hand
//
// The wire is held level as it lies on the drawing: seen from the cheek, the page's right at
// the right hand, the page's top up. A pen line runs along the whole top of the straight
// wire and stays on the wire's own side wherever that turns. At a mark the straight in front
// of it is held so again, the wire is turned about itself until the line faces as the row
// says, and the free end is bent up. Said so, a step holds in whatever order the bends are
// made, as it speaks of the wire's own sides alone.

// Facing is where the pen line along the wire's top faces while a bend is made upwards.
type Facing int

// The ways that the line may face, each a quarter turn from the one before, the top going
// towards the hand's owner.
const (
	FacesUp Facing = iota
	FacesYou
	FacesDown
	FacesAway
)

// facings are the words of the column line_faces.
var facings = [...]string{"up", "you", "down", "away"}

// String is the word of the table as CSV.
func (f Facing) String() string { return facings[f] }

// facing is how the line faces when a bend goes up.
func (v View) facing(s spring.Step) Facing {
	up := s.AngleRad > 0
	if s.Order == 1 {
		// Held so, right is XSign·d1 and up ZSign·d3; towards the hand's owner is right × up,
		// −XSign·ZSign·d2. What faces the owner comes up when the top goes away.
		if up == (v.XSign*v.ZSign < 0) {
			return FacesAway
		}
		return FacesYou
	}
	if up == (v.ZSign > 0) {
		return FacesUp
	}
	return FacesDown
}

// topToYou tells whether a twist carries the top of the free end towards the hand's owner:
// about the page's right, up goes there.
func (v View) topToYou(s spring.Step) bool { return s.AngleRad*v.XSign > 0 }

// AnchorLeft tells whether the anchor end is held in the left hand.
func (v View) AnchorLeft() bool { return v.XSign > 0 }

// TopWord is the side of the straight wire that is up, and has the line.
func (v View) TopWord() string {
	if v.ZSign > 0 {
		return "apical"
	}
	return v.OcclusalWord()
}

// Held is the hand's axes at the pose where a step begins, the free end bent up: the page's
// right, up, and towards the hand's owner.
func (v View) Held(s spring.Step, at beam.Pose) (right, up, toYou r3.Vec) {
	right, up = r3.Scale(v.XSign, at.D1), r3.Scale(v.ZSign, at.D3)
	if s.Kind == spring.Bend {
		up = side(s, at)
	}
	return right, up, r3.Cross(right, up)
}

// side is the direction in which a bend turns the wire.
func side(s spring.Step, at beam.Pose) r3.Vec {
	way := at.D3
	if s.Order == 1 {
		way = at.D2
	}
	if s.AngleRad < 0 {
		way = r3.Scale(-1, way)
	}
	return way
}
