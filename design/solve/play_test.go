package solve

import (
	"context"
	"errors"
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

func betaTitanium() wire.Wire {
	return wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635}
}

// straightSpring is a straight wire in two slots 8 mm apart. Its slots are so tight that
// the play, (S − d)/W, is a few milliradians: hand formulas for small angles hold.
func straightSpring() spring.Spring {
	tight := spring.SlotHold{Play: true, HeightMM: 0.4318 + 0.010}
	return spring.Spring{
		Path: spring.PathOf(spring.StraightStep(8)), Wire: betaTitanium(),
		AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 2.5,
		AnchorHold: tight, ActiveHold: tight, Slide: spring.SlideActive,
		Start: spring.Seat{AtMM: r3.Vec{X: 8}}, Positions: 1,
	}
}

// handCouples are the second-order couples about the slots' centres that a straight wire of
// lengthMM puts on its slots when it is turned in them by small angles (about +y) against
// the line of the centres: the stiffness of a clamped beam,
//
//	EI/L (4 + φ)/(1 + φ), EI/L (2 − φ)/(1 + φ),   φ = 12 EI/(GA L²)
//
// (Timoshenko; Przemieniecki, Theory of Matrix Structural Analysis, 1968, section 5.6), with
// the rigid ends inside the slots carried along.
func handCouples(s spring.Spring, anchorRad, activeRad float64) (anchor, active float64) {
	section, length := s.Wire.Section(), s.Path.WireLengthMM()
	a, b := s.AnchorSlotLengthMM/2, s.ActiveSlotLengthMM/2
	phi := 12 * section.EI2 / (section.GA3 * length * length)
	near, far := section.EI2/length*(4+phi)/(1+phi), section.EI2/length*(2-phi)/(1+phi)
	chord := -(a*anchorRad + b*activeRad) / length // of the wire outside the slots
	u, v := anchorRad-chord, activeRad-chord
	m, n := near*u+far*v, far*u+near*v
	shear := (m + n) / length
	return -(m + shear*a), -(n + shear*b)
}

// evaluated evaluates a spring at its first seat, and checks what must hold in any state.
func evaluated(t *testing.T, s spring.Spring) Evaluation {
	t.Helper()
	e, err := Evaluate(context.Background(), s, Options{AllowYield: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range e.Record.Positions {
		checkBalance(t, s, i, p)
	}
	checkContacts(t, s)
	return e
}

// checkBalance: forces are equal and opposite, and the moments about any point add up to
// nothing, the couples taken about the slots' centres.
func checkBalance(t *testing.T, s spring.Spring, i int, p spring.Position) {
	t.Helper()
	size := 1e-9 * (1 + r3.Norm(p.Active.ForceN) + r3.Norm(p.Active.CoupleNMM))
	if d := r3.Norm(r3.Add(p.Active.ForceN, p.Anchor.ForceN)); !(d <= size) {
		t.Errorf("position %d: forces miss balance by %g N", i+1, d)
	}
	seat := p.Seat.Pose(s.Heading).Along(s.ActiveSlotLengthMM / 2).At
	sum := r3.Add(p.Active.CoupleNMM, p.Anchor.CoupleNMM)
	sum = r3.Add(sum, r3.Cross(seat, p.Active.ForceN))
	sum = r3.Add(sum, r3.Cross(s.AnchorCentre(), p.Anchor.ForceN))
	if d := r3.Norm(sum); !(d <= 20*size) {
		t.Errorf("position %d: moments miss balance by %g N·mm", i+1, d)
	}
}

// checkContacts carries a spring over its travel and checks the complementarity of every
// angle to 1e-9, and the force along a wire that slides.
func checkContacts(t *testing.T, s spring.Spring) {
	t.Helper()
	solver := beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
	f, err := newSlotFollower(s, solver)
	if err != nil {
		t.Fatal(err)
	}
	for i := range max(1, s.Positions) {
		if _, err := f.follow(s.SeatAt(i)); err != nil {
			t.Fatal(err)
		}
		if s.Plain() {
			continue
		}
		angle, couple := loadsIn(solver)
		for k, c := range f.contacts {
			const tolerance = 1e-9 // rad and N·mm
			play := f.problem.play[k]
			var wrong float64
			switch c {
			case spring.Free:
				wrong = max(math.Abs(couple[k]), math.Abs(angle[k])-play)
			case spring.PlusWall:
				wrong = max(math.Abs(angle[k]-play), couple[k])
			case spring.MinusWall:
				wrong = max(math.Abs(angle[k]+play), -couple[k])
			default:
				wrong = math.Abs(angle[k])
			}
			if !(wrong <= tolerance) {
				t.Errorf("position %d, angle %d: %v, wrong by %g", i+1, k, c, wrong)
			}
		}
		end, load := solver.End(), solver.EndLoad()
		at := s.SeatAt(i).Pose(s.Heading).Along(s.ActiveSlotLengthMM / 2).At
		shift := s.SeatAt(i).Pose(s.Heading).ToLocal(r3.Sub(end.Along(s.ActiveSlotLengthMM/2).At, at))
		var clear r3.Vec // how far it may be shifted, and gone on straight from where it bends inside
		if h := s.ActiveHold; h.Shifts {
			beyond := func(k int, armMM float64) float64 { return armMM / 2 * math.Abs(f.active.Give[k]*couple[perSlot+k]) }
			clear.Z = (h.HeightMM-s.Wire.HeightMM())/2 + beyond(3, f.active.HeightArmMM)
			if h.DepthMM > 0 {
				clear.Y = (h.DepthMM-s.Wire.DepthMM())/2 + beyond(2, f.active.DepthArmMM)
			}
		}
		if s.HookSlides() {
			clear.X = HookToleranceMM
		}
		const tolerance = 1e-9
		if !(math.Abs(shift.X) <= clear.X+tolerance) || !(math.Abs(shift.Y) <= clear.Y+tolerance) || !(math.Abs(shift.Z) <= clear.Z+tolerance) {
			t.Errorf("position %d: the wire misses the slot's centre by %v mm, clear are %v", i+1, shift, clear)
		}
		if s.Slide == spring.SlideActive && !(math.Abs(r3.Dot(end.D1, load.ForceN)) <= 1e-9) {
			t.Errorf("position %d: force along the sliding wire %g N", i+1, r3.Dot(end.D1, load.ForceN))
		}
	}
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g ± %.2g", what, got, want, tolerance)
	}
}

func playsOf(t *testing.T, s spring.Spring) (anchor, active spring.Play) {
	t.Helper()
	anchor, err := s.AnchorHold.PlayOf(s.Wire, s.AnchorSlotLengthMM)
	if err != nil {
		t.Fatal(err)
	}
	if active, err = s.ActiveHold.PlayOf(s.Wire, s.ActiveSlotLengthMM); err != nil {
		t.Fatal(err)
	}
	return anchor, active
}

// The plays of the geometry that package wire is tested for: 0.017 × 0.025 in in 0.022 in
// turns by 12.48° (Meling's formula), 0.017 in tips by 2.284° in 0.022 in of 0.125 in
// (Kusy and Whitley's).
func TestPlayOf(t *testing.T) {
	t.Parallel()
	degree := math.Pi / 180
	p, err := spring.SlotHold{Play: true, HeightMM: 0.022 * 25.4, DepthMM: 0.028 * 25.4}.PlayOf(betaTitanium(), 0.125*25.4)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "third order", p.ThirdOrder, 12.48*degree, 0.01*degree)
	within(t, "second order", p.SecondOrder, 2.284*degree, 0.001*degree)
	// S cos t = d + W sin t with the depth and the width.
	within(t, "first order", 0.028*math.Cos(p.FirstOrder), 0.025+0.125*math.Sin(p.FirstOrder), 1e-12)

	if p, err = (spring.SlotHold{HeightMM: 0.5588}).PlayOf(betaTitanium(), 3); err != nil || p != (spring.Play{}) {
		t.Errorf("tied: %v, %v", p, err)
	}
	round := wire.Wire{DiameterMM: 0.4064}
	if p, err = (spring.SlotHold{Play: true, HeightMM: 0.5588}).PlayOf(round, 3); err != nil || !math.IsInf(p.ThirdOrder, 1) || p.FirstOrder != 0 {
		t.Errorf("round: %v, %v", p, err)
	}
	if _, err = (spring.SlotHold{Play: true, HeightMM: 0.4}).PlayOf(betaTitanium(), 3); !errors.Is(err, wire.ErrTooThick) {
		t.Errorf("too thick: %v", err)
	}
	if _, err = (spring.SlotHold{Play: true, HeightMM: 0.5, DepthMM: 0.5}).PlayOf(betaTitanium(), 3); !errors.Is(err, wire.ErrTooThick) {
		t.Errorf("too wide: %v", err)
	}
}

// The active slot tips, the anchor slot ties: no load until the play is used up, then that
// of the clamped beam turned by what is left.
func TestTippedSlotOnATiedWire(t *testing.T) {
	t.Parallel()
	s := straightSpring()
	s.AnchorHold.Play = false
	_, play := playsOf(t, s)
	for _, share := range []float64{-2, -0.9, 0, 0.5, 0.999, 1.001, 1.5, 3} {
		tip := share * play.SecondOrder
		centre := s.Start.AtMM.X + s.ActiveSlotLengthMM/2
		s.Start.Rotation = r3.Vec{Y: tip}
		// Turn the slot about its centre, so that the centres stay in line.
		s.Start.AtMM = r3.Sub(r3.Vec{X: centre}, r3.Scale(s.ActiveSlotLengthMM/2, beam.Rotate(s.Start.Rotation, r3.Vec{X: 1})))
		p := evaluated(t, s).Record.Positions[0]
		left := math.Copysign(max(0, math.Abs(tip)-play.SecondOrder), tip)
		anchor, active := handCouples(s, 0, left)
		tolerance := 1e-8 + 1e-4*math.Abs(active) // angles of 10 mrad: their squares
		within(t, "anchor couple", p.Anchor.CoupleNMM.Y, anchor, tolerance)
		within(t, "active couple", p.Active.CoupleNMM.Y, active, tolerance)
		want := spring.Free
		if share > 1 {
			want = spring.MinusWall // the wire lags behind the slot
		} else if share < -1 {
			want = spring.PlusWall
		}
		if p.Play.Active.SecondOrder != want || p.Play.Anchor.SecondOrder != spring.Tied || p.Play.Active.FirstOrder != spring.Tied {
			t.Errorf("%g of the play: state %+v", share, p.Play)
		}
		s.Start.AtMM = r3.Vec{X: 8}
	}
}

// Both slots have play: the anchor end follows freely (3EI/L with the far end hinged, here
// with rigid ends) until it lies on its own wall, then both ends carry.
func TestTippedSlotOnAWireWithPlayAtBothEnds(t *testing.T) {
	t.Parallel()
	s := straightSpring()
	anchorPlay, activePlay := playsOf(t, s)
	// With unit angles the couples give the stiffness on the wire; the hinged end turns by
	// −K12/K11.
	k11, k12 := handCouples(s, 1, 0)
	ratio := -k12 / k11
	contactAt := activePlay.SecondOrder + anchorPlay.SecondOrder/math.Abs(ratio)
	for _, tip := range []float64{0.5 * activePlay.SecondOrder, 0.5 * (activePlay.SecondOrder + contactAt), 1.5 * contactAt} {
		s.Start.Rotation = r3.Vec{Y: tip}
		s.Start.AtMM = r3.Sub(r3.Vec{X: 8 + s.ActiveSlotLengthMM/2}, r3.Scale(s.ActiveSlotLengthMM/2, beam.Rotate(s.Start.Rotation, r3.Vec{X: 1})))
		p := evaluated(t, s).Record.Positions[0]
		left := max(0, tip-activePlay.SecondOrder)
		turned := ratio * left
		wantAnchor := spring.Free
		if math.Abs(turned) > anchorPlay.SecondOrder {
			turned = math.Copysign(anchorPlay.SecondOrder, turned)
			wantAnchor = spring.PlusWall
			if turned < 0 {
				wantAnchor = spring.MinusWall
			}
		}
		anchor, active := handCouples(s, turned, left)
		within(t, "anchor couple", p.Anchor.CoupleNMM.Y, anchor, 1e-7+2e-4*math.Abs(active))
		within(t, "active couple", p.Active.CoupleNMM.Y, active, 1e-7+2e-4*math.Abs(active))
		if got := p.Play.Anchor.SecondOrder; got != wantAnchor {
			t.Errorf("tip %g: anchor %v, want %v", tip, got, wantAnchor)
		}
	}
}

// A step between two parallel slots: the wire lies slanted in both, without load, until the
// narrower play is used up; far beyond, each end is turned by what its play leaves.
func TestStepWithPlayAtBothEnds(t *testing.T) {
	t.Parallel()
	s := straightSpring()
	s.AnchorSlotLengthMM, s.ActiveSlotLengthMM = 3, 3
	play, _ := playsOf(t, s)
	centres := 8 + 3.0
	for _, share := range []float64{0.9, 1.1, 4, -4} {
		step := share * play.SecondOrder * centres
		s.Start.AtMM = r3.Vec{X: 8, Z: step}
		p := evaluated(t, s).Record.Positions[0]
		// Upwards is a turn about −y of the line of the centres; the slots stay level.
		slope := -step / centres
		left := -math.Copysign(max(0, math.Abs(slope)-play.SecondOrder), slope)
		anchor, active := handCouples(s, left, left)
		within(t, "anchor couple", p.Anchor.CoupleNMM.Y, anchor, 1e-7+1e-3*math.Abs(active))
		within(t, "active couple", p.Active.CoupleNMM.Y, active, 1e-7+1e-3*math.Abs(active))
		within(t, "force", p.Active.ForceN.Z, (anchor+active)/centres, 1e-7+1e-3*math.Abs(active))
	}
}

// Torque: 0.017 × 0.025 in in slots of 0.022 in turns by 12.48° in each until it carries,
// then by GJ/L of what is left.
func TestTorquedSlots(t *testing.T) {
	t.Parallel()
	s := straightSpring()
	s.AnchorHold.HeightMM, s.ActiveHold.HeightMM = 0.5588, 0.5588
	degree := math.Pi / 180
	for _, row := range []struct{ torqueDeg, leftDeg float64 }{{20, 0}, {24.9, 0}, {30, 30 - 2*12.48}, {-40, -40 + 2*12.48}} {
		s.Start.Rotation = r3.Vec{X: row.torqueDeg * degree}
		p := evaluated(t, s).Record.Positions[0]
		want := -s.Wire.Section().GJ / 8 * row.leftDeg * degree
		within(t, "active couple", p.Active.CoupleNMM.X, want, 0.02*degree*s.Wire.Section().GJ/8) // 12.48° is rounded
		within(t, "anchor couple", p.Anchor.CoupleNMM.X, -want, 0.02*degree*s.Wire.Section().GJ/8)
		if row.leftDeg > 0 && (p.Play.Active.ThirdOrder != spring.MinusWall || p.Play.Anchor.ThirdOrder != spring.PlusWall) {
			t.Errorf("%g°: state %+v", row.torqueDeg, p.Play)
		}
	}
}

// followerOf is a spring's solver with the follower that carries its wire.
func followerOf(t *testing.T, s spring.Spring) (*beam.Solver, *slotFollower) {
	t.Helper()
	solver := beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
	f, err := newSlotFollower(s, solver)
	if err != nil {
		t.Fatal(err)
	}
	return solver, f
}
