package tooth

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestComponentsAreThoseOfTheirAxes(t *testing.T) {
	t.Parallel()
	l := Load{ForceN: r3.Vec{X: 1, Y: 2, Z: 3}, CoupleNMM: r3.Vec{X: 4, Y: 5, Z: 6}}
	for k, want := range map[Component]float64{ForceX: 1, ForceY: 2, ForceZ: 3, CoupleX: 4, CoupleY: 5, CoupleZ: 6} {
		if got := l.Component(k); got != want {
			t.Errorf("component %v: %v, want %v", k, got, want)
		}
	}
}

// A couple is a force times its arm, so its mirror image is that of both.
func TestMirroredLoadIsThatOfMirroredForces(t *testing.T) {
	t.Parallel()
	mirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	force, arm := r3.Vec{X: 1, Y: 2, Z: -3}, r3.Vec{X: -5, Y: 7, Z: 11}
	got := Load{ForceN: force, CoupleNMM: r3.Cross(arm, force)}.Mirrored()
	want := Load{ForceN: mirror(force), CoupleNMM: r3.Cross(mirror(arm), mirror(force))}
	if got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// A force through the slot's centre turns the tooth about a point beside it by minus the arm times the force.
func TestLoadAtResistance(t *testing.T) {
	t.Parallel()
	offset, force, couple := r3.Vec{X: 2, Y: -4, Z: 8}, r3.Vec{X: 1, Y: 3, Z: -0.5}, r3.Vec{X: 10, Y: 20, Z: 40}
	got := Load{ForceN: force, CoupleNMM: couple}.AtResistance(offset)
	if want := (Load{ForceN: force, CoupleNMM: r3.Sub(couple, r3.Cross(offset, force))}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Distal is against mesial, inward against buccal, on either side of either jaw.
func TestResistanceLiesDistalInwardApical(t *testing.T) {
	t.Parallel()
	r := Resistance{InwardMM: 4, DistalMM: 2.5, ApicalMM: 8}
	for _, teeth := range []Pair{{17, 16}, {27, 26}, {37, 36}, {47, 46}, {36, 37}} {
		offset := ResistanceOffset(teeth, r)
		if offset.X*teeth.MesialSign() != -2.5 || offset.Y*teeth.BuccalSign() != -4 || offset.Z != 8 {
			t.Errorf("%v: %+v with mesial %v, buccal %v", teeth, offset, teeth.MesialSign(), teeth.BuccalSign())
		}
	}
}

// The spreads and the place are those of 50 upper first molars by computed tomography (see ResistanceOf).
func TestResistanceOfTheMeasuredMolar(t *testing.T) {
	t.Parallel()
	r := ResistanceOf(16)
	if r.Guess || r.InwardMM != 4.94 || r.DistalMM != 2.54 || r.ApicalMM != 7.86 || r.SpreadMM != [3]float64{1.39, 2.7, 1.66} {
		t.Errorf("%+v", r)
	}
	if lower := ResistanceOf(36); !lower.Guess {
		t.Errorf("the lower molar's place passes for measured: %+v", lower)
	}
}
