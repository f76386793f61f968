package wire

import (
	"fmt"

	"springwright/design/beam"
	"springwright/design/fibre"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bending makes the sections of a wire in its bends, each once.
type Bending struct {
	wire     Wire
	straight map[[2]int]*fibre.Section // by how many fibres across and through
	bent     map[r3.Vec]bentSection
}

type bentSection struct {
	section      *fibre.Section
	heldRadPerMM float64
}

// Bending returns the bending of the wire, of which nothing is bent yet.
func (w Wire) Bending() *Bending {
	return &Bending{wire: w, straight: map[[2]int]*fibre.Section{}, bent: map[r3.Vec]bentSection{}}
}

// Fibres is the section of Wire.Fibres where the wire was bent or twisted by hand and let go
// so that a curvature remains, in 1/mm on the section frame: X twist, Y about d2, Z about d3,
// one of them at most. The fibres hold the stress that this leaves (elementary plasticity: Hill,
// The Mathematical Theory of Plasticity, 1950, on the bending of a sheet, from memory; closed
// forms are in the tests). heldRadPerMM is what the hand bends to, 0 for straight wire. A
// superelastic wire and one that is stress-relieved hold no stress, and nothing is held then.
// The error says that there is no such bend.
//
// The wire is bent as an elastic, then perfectly plastic one: bends strain it by 20 to 40 times
// the strain at yield, where TangentMPa, the slope just past yield, would run up to stresses
// that no wire bears.
//
// A solid bar bent to such a radius and back gives way earlier, from a quarter of the yield moment
// on, and keeps more of a set (testdata/solid3d-bentback.json): that a bend is thick beside its
// radius is left out here, so that what bends lose is rather more than these sections say.
//
// Which layers at the rim yield against a bend only many fibres tell. With 32 of them the set of
// a corner loaded against its bend by 0.6 … 1.0 of the yield moment comes within 4 % of what
// more of them give, with the 16 of Wire.Fibres within 10 %.
func (b *Bending) Fibres(curvature r3.Vec) (section *fibre.Section, heldRadPerMM float64, err error) {
	if known, ok := b.bent[curvature]; ok {
		return known.section, known.heldRadPerMM, nil
	}
	w := b.wire
	var made bentSection
	switch {
	case w.IsSuperelastic() || w.StressRelieved || curvature == (r3.Vec{}):
		made.section = w.Fibres()
	default:
		across, through := 4, 32
		switch {
		case curvature.X != 0:
			across, through = 6, 16
		case curvature.Z != 0: // few springs are bent much this way
			across, through = 16, 16
		}
		law := w.kinematic()
		law.TangentMPa = 0
		var ok bool
		made.section, made.heldRadPerMM, ok = b.cut(across, through).Bent(law, beam.Stretch{0, curvature.X, curvature.Y, curvature.Z})
		if !ok {
			return nil, 0, fmt.Errorf("no bend leaves a wire with a curvature of (%g, %g, %g) rad/mm: must be finite, about one axis of its section",
				curvature.X, curvature.Y, curvature.Z)
		}
	}
	b.bent[curvature] = made
	return made.section, made.heldRadPerMM, nil
}

// cut is the straight wire's section.
func (b *Bending) cut(across, through int) *fibre.Section {
	fineness := [2]int{across, through}
	if b.straight[fineness] == nil {
		b.straight[fineness] = b.wire.cut(b.wire.kinematic(), across, through)
	}
	return b.straight[fineness]
}
