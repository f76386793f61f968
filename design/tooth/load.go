package tooth

import (
	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// Load is a force and a couple on a tooth, global axes, the couple about the centre of
// that tooth's slot.
type Load struct {
	ForceN    r3.Vec
	CoupleNMM r3.Vec
}

// Component returns one component of the load.
func (l Load) Component(k Component) float64 {
	v := l.ForceN
	if k.Couple() {
		v = l.CoupleNMM
	}
	return [...]float64{v.X, v.Y, v.Z}[k%3]
}

// ResistanceOffset turns a centre of resistance into the vector from the slot's centre, on
// the axes of the package comment.
func ResistanceOffset(teeth Pair, r Resistance) r3.Vec {
	return r3.Vec{
		X: -r.DistalMM * teeth.MesialSign(),
		Y: -r.InwardMM * teeth.BuccalSign(),
		Z: r.ApicalMM,
	}
}

// AtResistance moves a load from the slot's centre to the centre of resistance, which lies
// at offset from it.
func (l Load) AtResistance(offset r3.Vec) Load {
	w := beam.Wrench{ForceN: l.ForceN, MomentNMM: l.CoupleNMM}.About(r3.Vec{}, offset)
	return Load{ForceN: w.ForceN, CoupleNMM: w.MomentNMM}
}

// BeyondRootMM is farther than any point of a tooth lies from its centre of resistance.
const BeyondRootMM = 20

// Mirrored is the load on the tooth of the other side of the mouth: the mirror image across y.
func (l Load) Mirrored() Load {
	l.ForceN.Y = -l.ForceN.Y
	l.CoupleNMM.X, l.CoupleNMM.Z = -l.CoupleNMM.X, -l.CoupleNMM.Z
	return l
}
