package design

import (
	"time"

	"springwright/design/spring"
	"springwright/design/tooth"
)

// Visit is what was seen and done on one day, after the spring had been seated or when it was.
type Visit struct {
	Number int       // in the history, from 1
	Date   time.Time // a day, in UTC
	Done   Deed
	// SpringFile names the spring that is in the mouth when the patient leaves; "" where none is. Spring is
	// what that file holds.
	SpringFile string
	Spring     spring.Spring
	// Now is where the active slot's centre is, seen from the anchor slot's; what was not measured is as in
	// the case and not Known. Components are places by the forces along them, and turns by couples.
	Now   Placement
	Known [tooth.Components]bool
	// Anchor is how far the anchor slot has moved since the first visit, in the jaw: places in mm, turns in
	// rad, on the axes of the case.
	Anchor      [tooth.Components]float64
	AnchorKnown [tooth.Components]bool
	// What these are off by, one standard deviation.
	PlaceSDMM, TurnSDRad, AnchorSDMM, AnchorSDRad float64
	// Gauge is what the check of the free end read; nil where nothing was read.
	Gauge *spring.GaugeReading
	Note  string
}

// Deed is what was done at a visit.
type Deed int

// The deeds.
const (
	LeftAsIs    Deed = iota // the spring stays in its slots
	SeatedFirst             // the first spring is seated
	Reactivated             // the spring was bent and seated again
	Remade                  // another spring is seated
	Removed                 // no spring is left in the mouth
)

var deedWords = [...]string{"left as it is", "seated", "re-activated", "remade", "removed"}

// String is the deed's word in files.
func (d Deed) String() string { return deedWords[d] }

// DeedWords lists the words of files, in the order of the deeds.
func DeedWords() []string { return deedWords[:] }

// NewSpring tells whether a spring was seated.
func (d Deed) NewSpring() bool { return d == SeatedFirst || d == Reactivated || d == Remade }

// At is one of the numbers of a placement, by its component.
func (p Placement) At(k tooth.Component) float64 {
	l := tooth.Load{ForceN: p.CentreMM, CoupleNMM: p.Rotation}
	return l.Component(k)
}

// Set changes one of the numbers of a placement.
func (p *Placement) Set(k tooth.Component, value float64) {
	*[...]*float64{&p.CentreMM.X, &p.CentreMM.Y, &p.CentreMM.Z, &p.Rotation.X, &p.Rotation.Y, &p.Rotation.Z}[k] = value
}

// PlacementOf is where a spring's active slot is at a seat, as a case has it.
func PlacementOf(s spring.Spring, seat spring.Seat) Placement {
	centre := s.Centre(seat.Pose(s.Heading))
	centre.X += s.AnchorSlotLengthMM / 2
	return Placement{CentreMM: centre, Rotation: seat.Rotation}
}

// SeatOf is the entry of the wire for a placement.
func (c Case) SeatOf(p Placement) spring.Seat { return c.seat(p) }
