package design_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// resistanceCase is a lower left second molar whose centre of resistance lies where the
// upper first molar's was measured.
func resistanceCase() design.Case {
	c := design.Case{
		Teeth:   tooth.Pair{Anchor: 36, Active: 37},
		Heading: spring.Back,
		Now:     design.Placement{CentreMM: r3.Vec{X: 12, Z: -2}, Rotation: r3.Vec{Y: 0.2}},
		Goal:    design.Placement{CentreMM: r3.Vec{X: 12}},
	}
	c.Resistance.Active = tooth.ResistanceOf(16)
	c.Target.AtResistance = true
	return c
}

// A force through the slot, moved to the centre of resistance by hand: 4.94 mm inwards
// and 2.54 mm distal of it are the arms.
func TestIntrusionTipsByForceTimesArm(t *testing.T) {
	t.Parallel()
	c := resistanceCase()
	c.Now.Rotation = r3.Vec{}
	const forceN = 0.5
	judged := c.JudgedLoad(tooth.Load{ForceN: r3.Vec{Z: forceN}}, spring.Seat{})
	for _, k := range []struct {
		component tooth.Component
		want      float64
		word      func(float64) string
	}{
		{tooth.CoupleX, forceN * 4.94, c.Teeth.ActiveMember().CoupleXWord},
		{tooth.CoupleY, forceN * 2.54, c.Teeth.CoupleYWord},
		{tooth.CoupleZ, 0, c.Teeth.CoupleZWord},
	} {
		if got := math.Abs(judged.Component(k.component)); math.Abs(got-k.want) > 1e-12 {
			t.Errorf("component %d is %v N·mm, want %v", k.component, got, k.want)
		}
	}
	if got := c.Teeth.ActiveMember().CoupleXWord(judged.CoupleNMM.X); got != "buccal crown torque" {
		t.Errorf("intrusion at the tube gives %q", got)
	}
	// The force pushes the mesial side into the bone: the crown goes mesially.
	if got := c.Teeth.CoupleYWord(judged.CoupleNMM.Y); got != "crown-mesial" {
		t.Errorf("intrusion mesial of the centre gives %q", got)
	}
	c.Target.AtResistance = false
	if got := c.JudgedLoad(tooth.Load{ForceN: r3.Vec{Z: forceN}}, spring.Seat{}); got.CoupleNMM != (r3.Vec{}) {
		t.Errorf("judged at the slot the couple is %v", got.CoupleNMM)
	}
}

// The offset is measured on the tooth as it stands now and turns with it: by 0.2 rad about
// y from now to a seat without rotation.
func TestOffsetTurnsWithTheTooth(t *testing.T) {
	t.Parallel()
	c := resistanceCase()
	want := tooth.ResistanceOffset(c.Teeth, c.Resistance.Active)
	if d := r3.Norm(r3.Sub(c.ActiveOffset(spring.Seat{Rotation: c.Now.Rotation}), want)); d > 1e-12 {
		t.Errorf("the offset now is off by %v mm", d)
	}
	// Turned back by −0.2 about y: x' = x cos 0.2 − z sin 0.2, z' = x sin 0.2 + z cos 0.2.
	sin, cos := math.Sincos(0.2)
	want = r3.Vec{X: want.X*cos - want.Z*sin, Y: want.Y, Z: want.X*sin + want.Z*cos}
	if d := r3.Norm(r3.Sub(c.ActiveOffset(spring.Seat{}), want)); d > 1e-12 {
		t.Errorf("the turned offset is off by %v mm", d)
	}
}
