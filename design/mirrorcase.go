package design

import (
	"springwright/design/spring"
	"springwright/design/target"

	"gonum.org/v1/gonum/spatial/r3"
)

// Mirrored is the same case on the other side of the mouth, in the same clinical words: its
// springs are those of the case as Spring.Mirrored has them.
func (c Case) Mirrored() Case {
	c.Teeth = c.Teeth.Mirrored()
	c.Now, c.Goal = c.Now.mirrored(), c.Goal.mirrored()
	for _, w := range [...]*target.LoadWindow{&c.Target.Start, &c.Target.Travel, &c.Target.Anchor} {
		*w = w.Mirrored()
	}
	c.FreePath = c.FreePath.Mirrored()
	c.Anchorage = c.Anchorage.mirrored()
	return c
}

func (p Placement) mirrored() Placement {
	p.CentreMM, p.Rotation = mirroredVector(p.CentreMM), spring.MirroredTurn(p.Rotation)
	return p
}

// mirroredVector is a place or a force in the mirror across y.
func mirroredVector(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: 0 - v.Y, Z: v.Z} }
