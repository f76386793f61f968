package design

import (
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// StraightWire returns a plain straight wire in the slots of a case over the same travel,
// to hold a spring against: it lies at rest where the active slot is at its goal, enters
// the active slot from the anchor's side and slides through it without friction.
func (c Case) StraightWire(title string, w wire.Wire) Spring {
	c.Heading, c.Wire, c.Title, c.Slide = On, w, title, SlideActive
	s := c.SpringFor(nil)
	s.Path = Path{StraightStep(r3.Norm(s.End.AtMM))}
	return s
}
