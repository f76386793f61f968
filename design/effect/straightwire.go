package effect

import (
	"springwright/design"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// StraightSpring returns a plain straight wire in the slots of a case over the same travel,
// to hold a spring against: it lies at rest where the active slot is at its goal, enters
// the active slot from the anchor's side and slides through it without friction.
func StraightSpring(c design.Case, title string, w wire.Wire) spring.Spring {
	c.Heading, c.Wire, c.Title, c.Slide = spring.On, w, title, spring.SlideActive
	s := c.SpringFor(spring.Path{})
	s.Path = spring.PathOf(spring.StraightStep(r3.Norm(s.End.AtMM)))
	return s
}
