package design

import (
	"context"
	"errors"
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

func betaTitanium() wire.Wire {
	return wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635}
}

// straightSpring is a straight wire in two slots 8 mm apart. Its slots are so tight that
// the play, (S − d)/W, is a few milliradians: hand formulas for small angles hold.
func straightSpring() Spring {
	tight := SlotHold{Play: true, HeightMM: 0.4318 + 0.010}
	return Spring{
		Path: Path{StraightStep(8)}, Wire: betaTitanium(),
		AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 2.5,
		AnchorHold: tight, ActiveHold: tight, Slide: SlideActive,
		Start: Seat{AtMM: r3.Vec{X: 8}}, Positions: 1,
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
func handCouples(s Spring, anchorRad, activeRad float64) (anchor, active float64) {
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
func evaluated(t *testing.T, s Spring) Evaluation {
	t.Helper()
	e, err := Evaluate(context.Background(), s, EvaluateOptions{AllowYield: true})
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
func checkBalance(t *testing.T, s Spring, i int, p Position) {
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
func checkContacts(t *testing.T, s Spring) {
	t.Helper()
	solver := beam.NewSolver(s.Rod(), beam.Origin(), s.solverOptions())
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
		a, b := solver.SlotCouples()
		angle, couple := anglesOf(solver.BaseTurn(), solver.EndTurn()), anglesOf(a, b)
		for k, c := range f.contacts {
			const tolerance = 1e-9 // rad and N·mm
			play := f.problem.play[k]
			var wrong float64
			switch c {
			case Free:
				wrong = max(math.Abs(couple[k]), math.Abs(angle[k])-play)
			case PlusWall:
				wrong = max(math.Abs(angle[k]-play), couple[k])
			case MinusWall:
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
		if d := r3.Norm(r3.Sub(end.Along(s.ActiveSlotLengthMM/2).At, at)); !(d <= 1e-9) {
			t.Errorf("position %d: the wire misses the slot's centre by %g mm", i+1, d)
		}
		if s.Slide == SlideActive && !(math.Abs(r3.Dot(end.D1, load.ForceN)) <= 1e-9) {
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

func playsOf(t *testing.T, s Spring) (anchor, active Play) {
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
	p, err := SlotHold{Play: true, HeightMM: 0.022 * 25.4, DepthMM: 0.028 * 25.4}.PlayOf(betaTitanium(), 0.125*25.4)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "third order", p.ThirdOrder, 12.48*degree, 0.01*degree)
	within(t, "second order", p.SecondOrder, 2.284*degree, 0.001*degree)
	// S cos t = d + W sin t with the depth and the width.
	within(t, "first order", 0.028*math.Cos(p.FirstOrder), 0.025+0.125*math.Sin(p.FirstOrder), 1e-12)

	if p, err = (SlotHold{HeightMM: 0.5588}).PlayOf(betaTitanium(), 3); err != nil || p != (Play{}) {
		t.Errorf("tied: %v, %v", p, err)
	}
	round := wire.Wire{DiameterMM: 0.4064}
	if p, err = (SlotHold{Play: true, HeightMM: 0.5588}).PlayOf(round, 3); err != nil || !math.IsInf(p.ThirdOrder, 1) || p.FirstOrder != 0 {
		t.Errorf("round: %v, %v", p, err)
	}
	if _, err = (SlotHold{Play: true, HeightMM: 0.4}).PlayOf(betaTitanium(), 3); !errors.Is(err, wire.ErrTooThick) {
		t.Errorf("too thick: %v", err)
	}
	if _, err = (SlotHold{Play: true, HeightMM: 0.5, DepthMM: 0.5}).PlayOf(betaTitanium(), 3); !errors.Is(err, wire.ErrTooThick) {
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
		want := Free
		if share > 1 {
			want = MinusWall // the wire lags behind the slot
		} else if share < -1 {
			want = PlusWall
		}
		if p.Play.Active.SecondOrder != want || p.Play.Anchor.SecondOrder != Tied || p.Play.Active.FirstOrder != Tied {
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
		wantAnchor := Free
		if math.Abs(turned) > anchorPlay.SecondOrder {
			turned = math.Copysign(anchorPlay.SecondOrder, turned)
			wantAnchor = PlusWall
			if turned < 0 {
				wantAnchor = MinusWall
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
		if row.leftDeg > 0 && (p.Play.Active.ThirdOrder != MinusWall || p.Play.Anchor.ThirdOrder != PlusWall) {
			t.Errorf("%g°: state %+v", row.torqueDeg, p.Play)
		}
	}
}

// loopSpring bends in all three orders over its travel.
func loopSpring() Spring {
	return Spring{
		Path: Path{
			StraightStep(3), BendStep(math.Pi/2, 0.97), StraightStep(4), BendStep(-math.Pi/2, 0.97), StraightStep(7),
			BendStep(-1.45, 0.97), StraightStep(4),
			{Kind: Bend, AngleRad: 0.1, RadiusMM: 0.97, Order: 1},
			BendStep(math.Pi/2, 0.97),
			{Kind: Twist, AngleRad: 0.15, LengthMM: 1},
			StraightStep(3),
		},
		Wire: betaTitanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5,
		Start: Seat{AtMM: r3.Vec{X: 17, Y: 0.3, Z: -2.5}, Rotation: r3.Vec{X: 0.1, Y: 0.1, Z: -0.05}}, End: Seat{AtMM: r3.Vec{X: 17.5}},
		Positions: 5,
	}
}

func playing(s Spring, heightMM, depthMM float64) Spring {
	s.AnchorHold = SlotHold{Play: true, HeightMM: heightMM, DepthMM: depthMM}
	s.ActiveHold = s.AnchorHold
	return s
}

// In slots just as high and deep as the wire, play is nothing, and the spring that of tied
// slots.
func TestNoPlayIsTied(t *testing.T) {
	t.Parallel()
	s := loopSpring()
	tied, tight := evaluated(t, s), evaluated(t, playing(s, s.Wire.ThicknessMM, s.Wire.WidthMM))
	for i, p := range tight.Record.Positions {
		plain := tied.Record.Positions[i]
		for _, d := range []r3.Vec{
			r3.Sub(p.Active.ForceN, plain.Active.ForceN), r3.Sub(p.Active.CoupleNMM, plain.Active.CoupleNMM),
			r3.Sub(p.Anchor.ForceN, plain.Anchor.ForceN), r3.Sub(p.Anchor.CoupleNMM, plain.Anchor.CoupleNMM),
		} {
			// The plain spring is solved to 1e-10 of EI/L² and EI/L.
			within(t, "difference", r3.Norm(d), 0, 5e-9)
		}
		if plain.Play != nil {
			t.Error("a tied spring has a state of play")
		}
	}
}

// All kinds of slots over a whole travel: checkContacts and checkBalance are the test, and
// that while the wire is firmly held, the state at each position is the one that is found
// there alone. Near slack, a wire free to roll has more than one place to rest; the travel
// then decides.
func TestLoopWithPlay(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		heightMM, depthMM float64
		slide             Slide
		firm              int // positions
	}{{0.4572, 0, NoSlide, 5}, {0.5588, 0, SlideActive, 5}, {0.5588, 0.7112, NoSlide, 3}, {0.5588, 0.7112, SlideAnchor, 4}} {
		s := playing(loopSpring(), row.heightMM, row.depthMM)
		s.Slide = row.slide
		whole := evaluated(t, s)
		for i, p := range whole.Record.Positions[:row.firm] {
			alone := s
			alone.Start, alone.Positions = s.SeatAt(i), 1
			e, err := Evaluate(context.Background(), alone, EvaluateOptions{AllowYield: true})
			if err != nil {
				t.Fatal(err)
			}
			q := e.Record.Positions[0]
			if contactsOf(p.Play) != contactsOf(q.Play) {
				t.Errorf("%+v, position %d: %+v, alone %+v", row, i+1, p.Play, q.Play)
			}
			within(t, "force alone", r3.Norm(r3.Sub(p.Active.ForceN, q.Active.ForceN)), 0, 1e-7)
			within(t, "couple alone", r3.Norm(r3.Sub(p.Active.CoupleNMM, q.Active.CoupleNMM)), 0, 1e-7)
			within(t, "slid alone", p.Play.SlidMM, q.Play.SlidMM, 1e-8)
		}
	}
}

// Whatever contacts the search starts from, it ends on the same ones.
func TestStartingContactsDoNotMatter(t *testing.T) {
	t.Parallel()
	s := playing(loopSpring(), 0.4572, 0.6604)
	solver := beam.NewSolver(s.Rod(), beam.Origin(), s.solverOptions())
	f, err := newSlotFollower(s, solver)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.follow(s.Start); err != nil {
		t.Fatal(err)
	}
	want, load := f.contacts, solver.EndLoad()
	f.problem.solve = f.solveAt(s.Start)
	if _, _, err := f.problem.solve(contacts{}); err != nil {
		t.Fatal(err)
	}
	tied := solver.Configuration()
	found := func(how string, got contacts) {
		if got != want {
			t.Errorf("%s: %v, want %v", how, got, want)
		}
		within(t, how+": force", r3.Norm(r3.Sub(solver.EndLoad().ForceN, load.ForceN)), 0, 1e-8)
		within(t, how+": moment", r3.Norm(r3.Sub(solver.EndLoad().MomentNMM, load.MomentNMM)), 0, 1e-8)
		solver.Restore(tied)
	}
	settled := 0
	for k := range 64 {
		var start contacts
		for i := range start {
			start[i] = []Contact{PlusWall, MinusWall}[k>>i&1]
		}
		// Where the search gives up, slotFollower goes another way.
		if got, ok, _ := f.problem.settle(start); ok {
			found("from walls", got)
			settled++
		} else {
			solver.Restore(tied)
		}
	}
	if settled < 32 {
		t.Errorf("settled from %d of 64 starts", settled)
	}
	got, ok := f.letGo(s.Start)
	if !ok {
		t.Fatal("let go, the wire finds no rest")
	}
	found("let go", got)
	if got, err = f.enumerate(f.problem.startFrom(angles{})); err != nil {
		t.Fatal(err)
	}
	found("one by one", got)
}

// intrusionLoop is a loop that lies in one plane: free to roll, it leaves its plane where it
// is loaded, rattles where it is slack, and may go to either side.
func intrusionLoop() Spring {
	degree := math.Pi / 180
	bend := func(angleDeg float64) Step { return BendStep(angleDeg*degree, 0.9659) }
	return Spring{
		Path: Path{
			StraightStep(2.5), bend(17), StraightStep(3), bend(90), StraightStep(5.5), bend(-120), StraightStep(9.5),
			bend(-73), StraightStep(5), bend(-102), StraightStep(1.5), bend(10), StraightStep(1),
		},
		Wire: betaTitanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5, Heading: Back,
		Start: Seat{AtMM: r3.Vec{X: 12.25, Z: -2}}, End: Seat{AtMM: r3.Vec{X: 12.25}}, Positions: 7,
	}
}

// From firm to slack, a plane loop has a state at every position, in slots with and without
// play in first order, and no slack loop turns a tooth.
func TestPlaneLoopWithPlay(t *testing.T) {
	t.Parallel()
	for _, depth := range []float64{0, 0.7112} {
		for _, slide := range []Slide{NoSlide, SlideActive} {
			s := playing(intrusionLoop(), 0.5588, depth)
			s.Slide = slide
			positions := evaluated(t, s).Record.Positions
			if first := positions[0]; first.Play.Anchor.ThirdOrder == Free || first.Play.Anchor.SecondOrder != PlusWall {
				t.Errorf("depth %g mm, %v: the loaded loop lies %+v", depth, slide, first.Play)
			}
			slack := positions[5]
			within(t, "couple of the slack loop", r3.Norm(slack.Active.CoupleNMM)+r3.Norm(slack.Anchor.CoupleNMM), 0, 1e-8)
		}
	}
}

func contactsOf(p *PlayState) contacts {
	return contacts{
		p.Anchor.ThirdOrder, p.Anchor.SecondOrder, p.Anchor.FirstOrder,
		p.Active.ThirdOrder, p.Active.SecondOrder, p.Active.FirstOrder,
	}
}

// A round wire turns freely about itself: no couple about it in any slot, also in a loop
// and across a step, where a straight one may roll as it likes.
func TestRoundWireWithPlay(t *testing.T) {
	t.Parallel()
	round := wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, DiameterMM: 0.4064}
	for _, s := range []Spring{loopSpring(), straightSpring()} {
		s.Wire = round
		s = playing(s, 0.5588, 0.7112)
		if len(s.Path) == 1 {
			s.Start = Seat{AtMM: r3.Vec{X: 8, Y: 0.4, Z: 0.6}}
		}
		for i, p := range evaluated(t, s).Record.Positions {
			if p.Play.Active.ThirdOrder != Free || p.Play.Anchor.ThirdOrder != Free {
				t.Errorf("position %d: %+v", i+1, p.Play)
			}
		}
	}
}

// A wire that slides through the active slot is that of a length with which nothing has to
// slide.
func TestSlidWireIsOneOfThatLength(t *testing.T) {
	t.Parallel()
	s := loopSpring()
	s.Slide, s.Positions = SlideActive, 1
	slid := evaluated(t, s).Record.Positions[0]
	if math.Abs(slid.Play.SlidMM) < 1e-3 {
		t.Fatalf("nothing slides: %g mm", slid.Play.SlidMM)
	}
	cinched := s
	cinched.Slide = NoSlide
	cinched.Path = append(Path(nil), s.Path...)
	cinched.Path[len(s.Path)-1].LengthMM += slid.Play.SlidMM
	fixed := evaluated(t, cinched).Record.Positions[0]
	within(t, "force", r3.Norm(r3.Sub(slid.Active.ForceN, fixed.Active.ForceN)), 0, 1e-6)
	within(t, "couple", r3.Norm(r3.Sub(slid.Active.CoupleNMM, fixed.Active.CoupleNMM)), 0, 1e-5)
}

func TestPlayEffect(t *testing.T) {
	t.Parallel()
	s := loopSpring()
	c, err := PlayEffect(context.Background(), s, EvaluateOptions{AllowYield: true})
	if err != nil || c.Active != (Effect{}) || c.Anchor != (Effect{}) {
		t.Errorf("tied slots: %+v, %v", c.Active, err)
	}
	if c, err = PlayEffect(context.Background(), playing(s, 0.5588, 0), EvaluateOptions{AllowYield: true}); err != nil {
		t.Fatal(err)
	}
	t.Logf("active %+v, anchor %+v", c.Active, c.Anchor)
	if !(c.Active.CoupleNMM > 0.5) || !(c.Anchor.CoupleNMM > 0.5) || !(c.Active.ForceN > 0.01) || c.Active.ForceN != c.Anchor.ForceN {
		t.Errorf("active %+v, anchor %+v", c.Active, c.Anchor)
	}
	if _, err = PlayEffect(context.Background(), playing(s, 0.4, 0), EvaluateOptions{}); !errors.Is(err, wire.ErrTooThick) {
		t.Errorf("error %v, want ErrTooThick", err)
	}
}

func BenchmarkEvaluateTied(b *testing.B)     { benchmarkEvaluate(b, loopSpring()) }
func BenchmarkEvaluateWithPlay(b *testing.B) { benchmarkEvaluate(b, playing(loopSpring(), 0.5588, 0)) }

func benchmarkEvaluate(b *testing.B, s Spring) {
	for b.Loop() {
		if _, err := Evaluate(context.Background(), s, EvaluateOptions{AllowYield: true}); err != nil {
			b.Fatal(err)
		}
	}
}
