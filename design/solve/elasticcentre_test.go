package solve_test

import (
	"math"
	"testing"

	"springwright/design/designtest"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// centreline is the centroid and the second moments of a wire's centreline, worked out by
// walking along its lines and arcs in the plane: ∫ds, ∫(x−x̄)² ds, ∫(z−z̄)² ds and
// ∫(x−x̄)(z−z̄) ds; and of its direction (cos φ, sin φ): ∫cos² ds, ∫sin² ds and ∫sin·cos ds.
type centreline struct{ length, x, z, xx, zz, xz, coscos, sinsin, sincos float64 }

func walk(path spring.Path) centreline {
	const cells = 4000 // of each step; the midpoint rule is off by less than 1e-7
	type point struct{ x, z, cos, sin, ds float64 }
	var points []point
	x, z, direction := 0.0, 0.0, 0.0
	for _, step := range path.Steps() {
		length := step.LengthMM
		turn := 0.0
		if step.Kind == spring.Bend {
			length, turn = math.Abs(step.AngleRad)*step.RadiusMM, step.AngleRad
		}
		ds := length / cells
		for range cells {
			direction += turn / cells / 2
			cos, sin := math.Cos(direction), math.Sin(direction)
			points = append(points, point{x + cos*ds/2, z + sin*ds/2, cos, sin, ds})
			x, z = x+cos*ds, z+sin*ds
			direction += turn / cells / 2
		}
	}
	var c centreline
	for _, p := range points {
		c.length += p.ds
		c.x += p.x * p.ds
		c.z += p.z * p.ds
		c.coscos += p.cos * p.cos * p.ds
		c.sinsin += p.sin * p.sin * p.ds
		c.sincos += p.sin * p.cos * p.ds
	}
	c.x, c.z = c.x/c.length, c.z/c.length
	for _, p := range points {
		c.xx += (p.x - c.x) * (p.x - c.x) * p.ds
		c.zz += (p.z - c.z) * (p.z - c.z) * p.ds
		c.xz += (p.x - c.x) * (p.z - c.z) * p.ds
	}
	return c
}

// checkElasticCentre pulls a spring's end by a small way in its plane and compares the load
// on the active tooth with the elastic centre's (column analogy; Timoshenko, Strength of
// Materials II, 3rd ed. 1956): no couple at the centroid, and there a force that the
// flexibilities of bending, stretch and shear turn into the movement.
func checkElasticCentre(t *testing.T, path spring.Path, heading spring.Heading, movedMM r3.Vec) (onTooth tooth.Load, c centreline) {
	t.Helper()
	s := spring.Spring{
		Path: path, Wire: designtest.Titanium(), Heading: heading, Positions: 1,
		Start: spring.Seat{AtMM: r3.Add(designtest.UnloadedEnd(path).At, movedMM)},
	}
	onTooth = designtest.Evaluate(t, s).Record.Positions[0].Active
	c = walk(path)
	section := s.Wire.Section()
	flexX := c.zz/section.EI2 + c.coscos/section.EA + c.sinsin/section.GA3
	flexZ := c.xx/section.EI2 + c.sinsin/section.EA + c.coscos/section.GA3
	flexXZ := -c.xz/section.EI2 + c.sincos*(1/section.EA-1/section.GA3)
	determinant := flexX*flexZ - flexXZ*flexXZ
	// On the tooth: against the way the slot has been moved.
	want := r3.Scale(-1/determinant, r3.Vec{X: flexZ*movedMM.X - flexXZ*movedMM.Z, Z: flexX*movedMM.Z - flexXZ*movedMM.X})
	// The same force at the centroid, moved to the slot.
	couple := r3.Cross(r3.Sub(r3.Vec{X: c.x, Z: c.z}, s.Start.AtMM), want).Y

	// The geometry changes by the movement itself, 0.002 mm in some mm of loop.
	const share = 1e-3
	size := r3.Norm(want)
	if d := r3.Norm(r3.Sub(onTooth.ForceN, want)); d > share*size {
		t.Errorf("moved by %v: force on the tooth %v N, want %v N", movedMM, onTooth.ForceN, want)
	}
	const longestArmMM = 10
	if d := math.Abs(onTooth.CoupleNMM.Y - couple); d > share*size*longestArmMM {
		t.Errorf("moved by %v: couple on the tooth %v N·mm, want %v N·mm", movedMM, onTooth.CoupleNMM.Y, couple)
	}
	return onTooth, c
}

const smallMM = 0.002

func TestSmallMovementsActThroughTheElasticCentre(t *testing.T) {
	t.Parallel()
	loop := func(legMM, heightMM, widthMM, returnMM, backMM float64) spring.Path {
		const quarter = math.Pi / 2
		return spring.PathOf(
			spring.StraightStep(legMM), spring.BendStep(quarter, 0.6), spring.StraightStep(heightMM),
			spring.BendStep(-quarter, 0.6), spring.StraightStep(widthMM), spring.BendStep(-quarter, 0.6),
			spring.StraightStep(returnMM), spring.BendStep(-quarter, 0.6), spring.StraightStep(backMM),
		)
	}
	for _, path := range []spring.Path{loop(4, 8, 10, 8, 5), loop(2, 6, 9, 5, 3), loop(7, 3, 4, 5, 6)} {
		for _, moved := range []r3.Vec{{Z: -smallMM}, {X: smallMM}, {X: smallMM, Z: smallMM / 2}} {
			checkElasticCentre(t, path, spring.Back, moved)
		}
	}
}

// A loop that is its own mirror image about the middle has no ∫xz, and the formula takes
// its plain form: F = EI v / Ixx and the couple F (xB − x̄) on the slot, so that the couple
// on the tooth is about −y for an intrusive force.
func TestSymmetricLoopFollowsThePlainFormula(t *testing.T) {
	t.Parallel()
	const quarter = math.Pi / 2
	path := spring.PathOf(
		spring.StraightStep(4), spring.BendStep(quarter, 0.6), spring.StraightStep(6), spring.BendStep(-quarter, 0.6),
		spring.StraightStep(5), spring.BendStep(-quarter, 0.6), spring.StraightStep(6), spring.BendStep(quarter, 0.6),
		spring.StraightStep(4),
	)
	load, c := checkElasticCentre(t, path, spring.On, r3.Vec{Z: -smallMM})
	if math.Abs(c.xz) > 1e-6*c.xx {
		t.Fatalf("∫xz = %v of ∫x² = %v: not symmetric", c.xz, c.xx)
	}
	wantN := designtest.Titanium().Section().EI2 * smallMM / c.xx
	// The plain formula leaves out stretch and shear: (t/L)² E/G, below 1 %.
	if math.Abs(load.ForceN.Z-wantN) > 1e-2*wantN {
		t.Errorf("intrusive force %v N, want %v N", load.ForceN.Z, wantN)
	}
	armMM := designtest.UnloadedEnd(path).At.X - c.x // half the span, by symmetry
	if math.Abs(armMM-designtest.UnloadedEnd(path).At.X/2) > 1e-6 {
		t.Errorf("centroid %v mm before the slot, want half of %v mm", armMM, designtest.UnloadedEnd(path).At.X)
	}
	// r × F about the slot's centre with r = (x̄ − xB, 0, …): y component is armMM·Fz.
	if want := armMM * wantN; math.Abs(load.CoupleNMM.Y-want) > 1e-2*want {
		t.Errorf("couple %v N·mm, want %v N·mm", load.CoupleNMM.Y, want)
	}
}

// With its centroid over the slot a loop pushes along z with hardly any couple: why the
// loop surrounds the slot.
func TestCentroidOverTheSlotLeavesNoCouple(t *testing.T) {
	t.Parallel()
	const quarter = math.Pi / 2
	with := func(backMM float64) spring.Path {
		return spring.PathOf(
			spring.StraightStep(2), spring.BendStep(quarter, 0.6), spring.StraightStep(8), spring.BendStep(-quarter, 0.6),
			spring.StraightStep(10), spring.BendStep(-quarter, 0.6), spring.StraightStep(8), spring.BendStep(-quarter, 0.6),
			spring.StraightStep(backMM),
		)
	}
	lower, upper := 1.0, 9.0
	for range 60 {
		middle := (lower + upper) / 2
		if c := walk(with(middle)); designtest.UnloadedEnd(with(middle)).At.X > c.x {
			lower = middle
		} else {
			upper = middle
		}
	}
	path := with(lower)
	c := walk(path)
	// ∫xz does not vanish here: only with this share of movement along x does the loop push
	// along z alone.
	moved := r3.Vec{X: smallMM * c.xz / c.xx, Z: -smallMM}
	load, _ := checkElasticCentre(t, path, spring.Back, moved)
	// Stretch and shear again, now in the direction and, on an arm of 3 mm, in the couple.
	if math.Abs(load.ForceN.X) > 1e-2*math.Abs(load.ForceN.Z) || math.Abs(load.CoupleNMM.Y) > 3e-2*math.Abs(load.ForceN.Z) {
		t.Errorf("load %+v, want a force along z alone", load)
	}
}
