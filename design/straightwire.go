package design

import (
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// StraightWire returns a plain straight wire in the slots of a case over the same travel,
// to hold a spring against: it lies at rest where the active slot is at its goal, enters
// the active slot from the anchor's side and is free to slide through it.
func (c Case) StraightWire(title string, w wire.Wire) Spring {
	c.Heading, c.Wire, c.Title = On, w, title
	s := c.SpringFor(nil)
	s.Path = Path{StraightStep(r3.Norm(s.End.AtMM))}
	return s
}
