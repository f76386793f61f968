package design

import "gonum.org/v1/gonum/spatial/r3"

// Mirrored is the same case on the other side of the mouth, in the same clinical words: its
// springs are those of the case as Spring.Mirrored has them.
func (c Case) Mirrored() Case {
	c.Teeth = c.Teeth.Mirrored()
	c.Now, c.Goal = c.Now.mirrored(), c.Goal.mirrored()
	for _, w := range [...]*LoadWindow{&c.Target.Start, &c.Target.Travel, &c.Target.Anchor} {
		*w = w.mirrored()
	}
	c.FreePath = c.FreePath.Mirrored()
	return c
}

func (p Placement) mirrored() Placement {
	p.CentreMM, p.Rotation = mirroredVector(p.CentreMM), mirroredTurn(p.Rotation)
	return p
}

// mirroredVector is a place or a force in the mirror across y.
func mirroredVector(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: 0 - v.Y, Z: v.Z} }

// mirroredTurn is a turn or a couple in the mirror across y.
func mirroredTurn(v r3.Vec) r3.Vec { return r3.Vec{X: 0 - v.X, Y: v.Y, Z: 0 - v.Z} }

func (w LoadWindow) mirrored() LoadWindow {
	w.ForceN[1] = w.ForceN[1].negative()
	w.CoupleNMM[0], w.CoupleNMM[2] = w.CoupleNMM[0].negative(), w.CoupleNMM[2].negative()
	return w
}

// negative is the window of the values with the other sign.
func (w Window) negative() Window {
	w.Min, w.Max = 0-w.Max, 0-w.Min
	return w
}

// Mirrored is the pattern of the mirrored springs.
func (p Pattern) Mirrored() Pattern {
	p.Path = p.Path.Mirrored()
	p.Freedoms = append([]Freedom(nil), p.Freedoms...)
	for i, f := range p.Freedoms {
		if f.Angle && p.Path[f.Step].Chiral() {
			p.Freedoms[i].Min, p.Freedoms[i].Max, p.Freedoms[i].Neutral = 0-f.Max, 0-f.Min, 0-f.Neutral
		}
	}
	return p
}

// MirroredValues are those of the pattern's freedoms in a mirrored spring.
func (p Pattern) MirroredValues(values []float64) []float64 {
	twin := append([]float64(nil), values...)
	for i, f := range p.Freedoms {
		if f.Angle && p.Path[f.Step].Chiral() {
			twin[i] = 0 - values[i] // 0 stays 0, not −0
		}
	}
	return twin
}
