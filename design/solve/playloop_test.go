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

// loopSpring bends in all three orders over its travel.
func loopSpring() spring.Spring {
	return spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(3), spring.BendStep(math.Pi/2, 0.97), spring.StraightStep(4), spring.BendStep(-math.Pi/2, 0.97), spring.StraightStep(7),
			spring.BendStep(-1.45, 0.97), spring.StraightStep(4),
			spring.Step{Kind: spring.Bend, AngleRad: 0.1, RadiusMM: 0.97, Order: 1},
			spring.BendStep(math.Pi/2, 0.97),
			spring.Step{Kind: spring.Twist, AngleRad: 0.15, LengthMM: 1},
			spring.StraightStep(3),
		),
		Wire: betaTitanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5,
		Start: spring.Seat{AtMM: r3.Vec{X: 17, Y: 0.3, Z: -2.5}, Rotation: r3.Vec{X: 0.1, Y: 0.1, Z: -0.05}}, End: spring.Seat{AtMM: r3.Vec{X: 17.5}},
		Positions: 5,
	}
}

func playing(s spring.Spring, heightMM, depthMM float64) spring.Spring {
	s.AnchorHold = spring.SlotHold{Play: true, HeightMM: heightMM, DepthMM: depthMM}
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
		slide             spring.Slide
		firm              int // positions
	}{{0.4572, 0, spring.NoSlide, 5}, {0.5588, 0, spring.SlideActive, 5}, {0.5588, 0.7112, spring.NoSlide, 3}, {0.5588, 0.7112, spring.SlideAnchor, 4}} {
		s := playing(loopSpring(), row.heightMM, row.depthMM)
		s.Slide = row.slide
		whole := evaluated(t, s)
		for i, p := range whole.Record.Positions[:row.firm] {
			alone := s
			alone.Start, alone.Positions = s.SeatAt(i), 1
			e, err := Evaluate(context.Background(), alone, Options{AllowYield: true})
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
	solver := beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
	f, err := newSlotFollower(s, solver)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.follow(s.Start); err != nil {
		t.Fatal(err)
	}
	want, load := f.contacts, solver.EndLoad()
	f.limit = math.MaxInt // here more than one seat's work is done
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
		for i, angle := range [...]int{0, 1, 2, perSlot, perSlot + 1, perSlot + 2} {
			start[angle] = []spring.Contact{spring.PlusWall, spring.MinusWall}[k>>i&1]
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
func intrusionLoop() spring.Spring {
	degree := math.Pi / 180
	bend := func(angleDeg float64) spring.Step { return spring.BendStep(angleDeg*degree, 0.9659) }
	return spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(2.5), bend(17), spring.StraightStep(3), bend(90), spring.StraightStep(5.5), bend(-120), spring.StraightStep(9.5),
			bend(-73), spring.StraightStep(5), bend(-102), spring.StraightStep(1.5), bend(10), spring.StraightStep(1),
		),
		Wire: betaTitanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5, Heading: spring.Back,
		Start: spring.Seat{AtMM: r3.Vec{X: 12.25, Z: -2}}, End: spring.Seat{AtMM: r3.Vec{X: 12.25}}, Positions: 7,
	}
}

// From firm to slack, a plane loop has a state at every position, in slots with and without
// play in first order, and no slack loop turns a tooth.
func TestPlaneLoopWithPlay(t *testing.T) {
	t.Parallel()
	for _, depth := range []float64{0, 0.7112} {
		for _, slide := range []spring.Slide{spring.NoSlide, spring.SlideActive} {
			s := playing(intrusionLoop(), 0.5588, depth)
			s.Slide = slide
			positions := evaluated(t, s).Record.Positions
			if first := positions[0]; first.Play.Anchor.ThirdOrder == spring.Free || first.Play.Anchor.SecondOrder != spring.PlusWall {
				t.Errorf("depth %g mm, %v: the loaded loop lies %+v", depth, slide, first.Play)
			}
			slack := positions[5]
			within(t, "couple of the slack loop", r3.Norm(slack.Active.CoupleNMM)+r3.Norm(slack.Anchor.CoupleNMM), 0, 1e-8)
		}
	}
}

func contactsOf(p *spring.PlayState) contacts {
	return contacts{
		p.Anchor.ThirdOrder, p.Anchor.SecondOrder, p.Anchor.FirstOrder, spring.Tied, spring.Tied,
		p.Active.ThirdOrder, p.Active.SecondOrder, p.Active.FirstOrder,
	}
}

// A round wire turns freely about itself: no couple about it in any slot, also in a loop
// and across a step, where a straight one may roll as it likes.
func TestRoundWireWithPlay(t *testing.T) {
	t.Parallel()
	round := wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, DiameterMM: 0.4064}
	for _, s := range []spring.Spring{loopSpring(), straightSpring()} {
		s.Wire = round
		s = playing(s, 0.5588, 0.7112)
		if s.Path.Bends() == 0 {
			s.Start = spring.Seat{AtMM: r3.Vec{X: 8, Y: 0.4, Z: 0.6}}
		}
		for i, p := range evaluated(t, s).Record.Positions {
			if p.Play.Active.ThirdOrder != spring.Free || p.Play.Anchor.ThirdOrder != spring.Free {
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
	s.Slide, s.Positions = spring.SlideActive, 1
	slid := evaluated(t, s).Record.Positions[0]
	if math.Abs(slid.Play.SlidMM) < 1e-3 {
		t.Fatalf("nothing slides: %g mm", slid.Play.SlidMM)
	}
	cinched := s
	cinched.Slide = spring.NoSlide
	steps := s.Path.Steps()
	steps[len(steps)-1].LengthMM += slid.Play.SlidMM
	cinched.Path = spring.PathOf(steps...)
	fixed := evaluated(t, cinched).Record.Positions[0]
	within(t, "force", r3.Norm(r3.Sub(slid.Active.ForceN, fixed.Active.ForceN)), 0, 1e-6)
	within(t, "couple", r3.Norm(r3.Sub(slid.Active.CoupleNMM, fixed.Active.CoupleNMM)), 0, 1e-5)
}

func TestPlayEffect(t *testing.T) {
	t.Parallel()
	s := loopSpring()
	c, err := PlayEffect(context.Background(), s, Options{AllowYield: true})
	if err != nil || c.Active != (Effect{}) || c.Anchor != (Effect{}) {
		t.Errorf("tied slots: %+v, %v", c.Active, err)
	}
	if c, err = PlayEffect(context.Background(), playing(s, 0.5588, 0), Options{AllowYield: true}); err != nil {
		t.Fatal(err)
	}
	t.Logf("active %+v, anchor %+v", c.Active, c.Anchor)
	if !(c.Active.CoupleNMM > 0.5) || !(c.Anchor.CoupleNMM > 0.5) || !(c.Active.ForceN > 0.01) || c.Active.ForceN != c.Anchor.ForceN {
		t.Errorf("active %+v, anchor %+v", c.Active, c.Anchor)
	}
	if _, err = PlayEffect(context.Background(), playing(s, 0.4, 0), Options{}); !errors.Is(err, wire.ErrTooThick) {
		t.Errorf("error %v, want ErrTooThick", err)
	}
}

func BenchmarkEvaluateTied(b *testing.B) { benchmarkEvaluate(b, loopSpring()) }

func BenchmarkEvaluateWithPlay(b *testing.B) { benchmarkEvaluate(b, playing(loopSpring(), 0.5588, 0)) }

func benchmarkEvaluate(b *testing.B, s spring.Spring) {
	for b.Loop() {
		if _, err := Evaluate(context.Background(), s, Options{AllowYield: true}); err != nil {
			b.Fatal(err)
		}
	}
}
