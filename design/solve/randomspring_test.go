package solve

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// randomKind is a kind of random springs that the solver is measured on.
type randomKind struct {
	name string
	draw func(*rand.Rand) spring.Spring
}

// randomKinds are the kinds that are measured, each with a spring drawn by its own numbers.
func randomKinds() []randomKind {
	return []randomKind{
		{"elastic", randomElastic},
		{"play", randomPlaying},
		{"slide", randomSliding},
		{"tube", randomTubes},
	}
}

// randomSpringOf draws the n-th spring of a kind: the same whatever was drawn before.
func randomSpringOf(k randomKind, n int) spring.Spring {
	return k.draw(rand.New(rand.NewPCG(uint64(n), 0x5072)))
}

func uniform(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

func either(r *rand.Rand, size float64) float64 {
	if r.IntN(2) == 0 {
		return -size
	}
	return size
}

func randomVector(r *rand.Rand, size float64) r3.Vec {
	return r3.Scale(size, r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()})
}

// randomWire is round in a third of all draws. Sizes and moduli are those of usual alloys.
func randomWire(r *rand.Rand) wire.Wire {
	w := wire.Wire{EMPa: uniform(r, 60e3, 200e3), Poisson: 0.3, YieldMPa: 1000}
	if r.IntN(3) == 0 {
		w.DiameterMM = uniform(r, 0.3, 0.51)
		return w
	}
	w.ThicknessMM = uniform(r, 0.40, 0.46)
	w.WidthMM = uniform(r, 0.46, 0.65)
	return w
}

// randomPath bends one to eight times, a third of it out of the plane, and twists at times.
// It begins and ends with a straight.
func randomPath(r *rand.Rand) spring.Path {
	steps := spring.Steps{spring.StraightStep(uniform(r, 1.5, 6))}
	for range 1 + r.IntN(8) {
		bend := spring.BendStep(either(r, uniform(r, 0.1, 2)), uniform(r, 0.6, 1.5))
		if r.IntN(3) == 0 {
			bend.Order = 1
		}
		steps = append(steps, bend)
		if r.IntN(5) == 0 {
			steps = append(steps, spring.Step{Kind: spring.Twist, AngleRad: either(r, uniform(r, 0.05, 0.8)), LengthMM: uniform(r, 1, 3)})
		}
		steps = append(steps, spring.StraightStep(uniform(r, 1.5, 8)))
	}
	return spring.PathOf(steps...)
}

// offPassive puts the first seat a random shift and turn from where the unloaded wire ends,
// and the last one a third of that. A twentieth of the springs each is nearly straight and
// seated too near, so that it bulges, or so far that the wire is drawn nearly straight.
func offPassive(s spring.Spring, r *rand.Rand) spring.Spring {
	passive := passiveSeat(s)
	shift, turn := randomVector(r, uniform(r, 0.2, 2.5)), randomVector(r, uniform(r, 0.02, 0.3))
	switch r.IntN(20) {
	case 0: // slack
		shift = r3.Scale(-uniform(r, 0.05, 0.4), passive.AtMM)
	case 1: // nearly taut, measured along the line from base to seat
		reach := uniform(r, 0.95, 0.9995) * s.Path.WireLengthMM()
		shift = r3.Sub(r3.Scale(reach, r3.Unit(passive.AtMM)), passive.AtMM)
		turn = r3.Scale(0.3, turn)
	}
	seat := func(share float64) spring.Seat {
		p := spring.Seat{Rotation: passive.Rotation}.Pose(s.Heading).Turned(r3.Scale(share, turn))
		return spring.Seat{
			AtMM:     r3.Add(passive.AtMM, r3.Scale(share, shift)),
			Rotation: beam.RotationBetween(spring.Seat{}.Pose(s.Heading), p),
		}
	}
	s.Start, s.End, s.Positions = seat(1), seat(1.0/3), 2
	// Near a half turn the two may be told by vectors of opposite sense; between positions
	// they are mixed.
	if r3.Norm(r3.Sub(s.Start.Rotation, s.End.Rotation)) > math.Pi {
		s.End.Rotation = r3.Sub(s.End.Rotation, r3.Scale(2*math.Pi, r3.Unit(s.End.Rotation)))
	}
	return s
}

func randomElastic(r *rand.Rand) spring.Spring {
	s := spring.Spring{
		Path: randomPath(r), Wire: randomWire(r),
		AnchorSlotLengthMM: uniform(r, 2, 5), ActiveSlotLengthMM: uniform(r, 2, 5),
	}
	if r.IntN(10) == 0 { // bends of a few degrees alone
		steps := s.Path.Steps()
		for i := range steps {
			steps[i].AngleRad *= 0.05
		}
		s.Path = spring.PathOf(steps...)
	}
	return offPassive(s, r)
}

// looseSlot is a slot with up to 0.16 mm of play in height and, in half of the draws, in
// depth as well.
func looseSlot(r *rand.Rand, w wire.Wire) spring.SlotHold {
	h := spring.SlotHold{Play: true, HeightMM: w.HeightMM() + uniform(r, 0.005, 0.16)}
	if r.IntN(2) == 0 {
		h.DepthMM = w.DepthMM() + uniform(r, 0.01, 0.2)
	}
	return h
}

func randomPlaying(r *rand.Rand) spring.Spring {
	s := randomElastic(r)
	switch r.IntN(3) {
	case 0:
		s.AnchorHold = looseSlot(r, s.Wire)
	case 1:
		s.ActiveHold = looseSlot(r, s.Wire)
	default:
		s.AnchorHold, s.ActiveHold = looseSlot(r, s.Wire), looseSlot(r, s.Wire)
	}
	if r.IntN(4) == 0 {
		s.Slide = spring.Slide(1 + r.IntN(2))
	}
	return s
}

func randomSliding(r *rand.Rand) spring.Spring {
	s := randomElastic(r)
	s.Slide = spring.Slide(1 + r.IntN(2))
	return s
}

// randomTubes are held as springs really are: both slots let the wire turn and shift, and it is slid
// to rest and cinched, left to slide, or cinched as it was put in.
func randomTubes(r *rand.Rand) spring.Spring {
	s := randomElastic(r)
	s.AnchorHold, s.ActiveHold = looseSlot(r, s.Wire), looseSlot(r, s.Wire)
	s.AnchorHold.Shifts, s.ActiveHold.Shifts = true, true
	switch slot := spring.Slide(1 + r.IntN(2)); r.IntN(3) {
	case 0:
		s.SlidToRest = slot
	case 1:
		s.Slide = slot
	}
	return s
}

// outOfBalance tells by how much the loads of a solved spring miss balance about a point off
// both slots.
func outOfBalance(s spring.Spring, e Evaluation) error {
	for i, p := range e.Record.Positions {
		for _, loads := range restsOf(p) {
			size := 1 + r3.Norm(loads[0].ForceN) + r3.Norm(loads[0].CoupleNMM) + r3.Norm(loads[1].CoupleNMM)
			about := r3.Vec{X: 3, Y: -5, Z: 7}
			// A sliding hook lies beside its seat: its own place is not in the record.
			active := s.Centre(p.Seat.Pose(s.Heading))
			sum := r3.Add(loads[0].CoupleNMM, loads[1].CoupleNMM)
			sum = r3.Add(sum, r3.Cross(r3.Sub(active, about), loads[0].ForceN))
			sum = r3.Add(sum, r3.Cross(r3.Sub(s.AnchorCentre(), about), loads[1].ForceN))
			force := r3.Norm(r3.Add(loads[0].ForceN, loads[1].ForceN))
			// The places are solved to 1e-10 of the wire's length, and forces have that arm.
			if miss := max(force, r3.Norm(sum)); !(miss <= 1e-7*size) {
				return fmt.Errorf("position %d misses balance by %g", i+1, miss)
			}
		}
	}
	return nil
}

// restsOf are the loads on the active and on the anchor tooth in all states of rest.
func restsOf(p spring.Position) [][2]tooth.Load {
	rests := [][2]tooth.Load{{p.Active, p.Anchor}}
	if o := p.OtherRest; o != nil {
		rests = append(rests, [2]tooth.Load{o.Active, o.Anchor})
	}
	return rests
}

// finer cuts every straight, bend and twist of a spring in three, except the straights at
// the slots, in which a wire slides, with one position more between any two of its own: the
// solver then takes other steps, of its wire and of its way. The middle of a straight gets a
// twist of less than the solver can see, or the three would be one again.
func finer(s spring.Spring) spring.Spring {
	var finer spring.Steps
	steps := s.Path.Steps()
	for i, step := range steps {
		if i == 0 || i == len(steps)-1 {
			finer = append(finer, step)
			continue
		}
		part := step
		part.LengthMM, part.AngleRad = step.LengthMM/3, step.AngleRad/3
		middle := part
		if step.Kind == spring.Straight {
			middle.Kind, middle.AngleRad = spring.Twist, 1e-12
		}
		finer = append(finer, part, middle, part)
	}
	s.Path = spring.PathOf(finer...)
	s.Positions = 2*s.Positions - 1
	return s
}

// againFiner solves a spring with finer steps and tells where its loads differ. Where a wire
// rests in more than one way, it may be any of those found.
func againFiner(s spring.Spring, e Evaluation) error {
	// Cut in three, straights and bends are crossed in steps that are shorter unless they
	// were short already.
	again, err := Evaluate(context.Background(), finer(s), Options{AllowYield: true})
	if err != nil {
		return fmt.Errorf("%w: %w", errUnchecked, err)
	}
	for i, p := range e.Record.Positions {
		q := again.Record.Positions[2*i]
		least := math.Inf(1)
		for _, a := range restsOf(p) {
			for _, b := range restsOf(q) {
				var off float64
				for k := range a {
					off = max(off, r3.Norm(r3.Sub(a[k].ForceN, b[k].ForceN))/(0.01+r3.Norm(a[k].ForceN)),
						r3.Norm(r3.Sub(a[k].CoupleNMM, b[k].CoupleNMM))/(0.1+r3.Norm(a[k].CoupleNMM)))
				}
				least = min(least, off)
			}
		}
		if !(least <= sameLoads) {
			return fmt.Errorf("position %d differs by %.2g with finer steps: %+v and %+v", i+1, least, p.Active, q.Active)
		}
	}
	return nil
}

// errUnchecked means that the finer steps come to no answer.
var errUnchecked = errors.New("not solved with finer steps")

// sameLoads is the share by which loads may differ with finer steps. Steps of 0.5 mm leave
// less than 1e-4 in springs of usual loads, more in wires so tight that they bend within half
// a millimetre.
const sameLoads = 0.01

func isNoStraight(err error) bool { return errors.Is(err, beam.ErrNoStraight) }

// checkUnreachable establishes by other means that a spring has no solution, whatever the
// error says of it; else it returns what speaks against that.
//
//   - Too short: the place of the seat is farther off than the wire is long.
//   - No straight left: cut to parts of its straight, down to a twentieth of a mm, and cinched,
//     the wire still pushes into the slot that it would slide into, or does so up to where it
//     is too short to span the way.
//   - Snaps: with all steps of the wire cut in three, and led in 64 parts on a way that is a
//     little another, the wire comes to a loss of stability, too. (That the solver tells from
//     the second variation, or from how the load grows before a limit point.)
func checkUnreachable(s spring.Spring, err error) error {
	var at *PositionError
	if !errors.As(err, &at) {
		return errors.New("is no error of a position")
	}
	switch {
	case errors.Is(err, ErrTooShort):
		if wire := s.Path.WireLengthMM() + s.AnchorSlotLengthMM/2 + s.ActiveSlotLengthMM/2; !(r3.Norm(at.Seat.AtMM) > wire-s.AnchorSlotLengthMM-s.ActiveSlotLengthMM) {
			return errors.New("the seat is within reach")
		}
		return nil
	case isNoStraight(err):
		return checkNoStraight(s, at)
	case errors.Is(err, beam.ErrUnstable):
		return checkSnaps(s, at)
	}
	return errors.New("nothing is known against a solution")
}

func checkNoStraight(s spring.Spring, at *PositionError) error {
	steps := s.Path.Steps()
	last := len(steps) - 1
	if s.SlidesThrough(spring.SlideAnchor) {
		last = 0
	}
	tried := 0
	whole := steps[last].LengthMM
	for _, leftMM := range []float64{0.99 * whole, 0.95 * whole, 0.75 * whole, 0.25 * whole, 0.05} {
		cut := s
		shorter := slices.Clone(steps)
		shorter[last].LengthMM = leftMM
		cut.Path = spring.PathOf(shorter...)
		cut.Slide, cut.SlidToRest, cut.Start, cut.Positions = spring.NoSlide, spring.NoSlide, at.Seat, 1
		e, err := Evaluate(context.Background(), cut, Options{AllowYield: true})
		if errors.Is(err, ErrTooShort) && tried > 0 {
			return nil // it pushes in up to where it would tear
		}
		if err != nil {
			return fmt.Errorf("cut to %g mm and cinched: %w", leftMM, err)
		}
		tried++
		p := e.Record.Positions[0]
		in := r3.Dot(p.Active.ForceN, at.Seat.Pose(s.Heading).D1)
		if s.SlidesThrough(spring.SlideAnchor) {
			in = -p.Anchor.ForceN.X
		}
		if !(in > 0) {
			return fmt.Errorf("cut to %g mm and cinched, the wire pushes into its slot with %g N", leftMM, in)
		}
	}
	return nil
}

func checkSnaps(s spring.Spring, at *PositionError) error {
	fine := finer(s)
	from := passiveSeat(s)
	if at.Index > 0 {
		from = s.SeatAt(at.Index - 1)
	}
	led := func(to float64) error {
		solver := beam.NewSolver(fine.Rod(), beam.Origin(), solverOptions(fine))
		slots, err := newSlotFollower(fine.Tied(), solver)
		if err != nil {
			return err
		}
		unloaded := solver.Configuration() // else the way is looked for as for a wire that remembers
		slots.unloaded = &unloaded
		if at.Index > 0 {
			for i := range at.Index {
				if _, err := slots.follow(s.SeatAt(i)); err != nil {
					return err
				}
			}
		}
		const parts = 64
		for k := 1.0; k <= parts; k++ {
			if _, err := slots.follow(turnedTowards(from, at.Seat, to*k/parts, s.Heading)); err != nil {
				return err
			}
		}
		return nil
	}
	switch err := led(1); {
	case err == nil:
		return errors.New("led in finer steps it arrives")
	case !errors.Is(err, beam.ErrUnstable):
		return fmt.Errorf("led in finer steps it does not snap: %w", err)
	}
	return nil
}

// turnedTowards is a seat on the way that the solver takes: a steady shift and turn.
func turnedTowards(s spring.Seat, to spring.Seat, share float64, heading spring.Heading) spring.Seat {
	from, end := s.Pose(heading), to.Pose(heading)
	p := from.Turned(r3.Scale(share, beam.RotationBetween(from, end)))
	return spring.Seat{
		AtMM:     r3.Add(r3.Scale(1-share, from.At), r3.Scale(share, end.At)),
		Rotation: beam.RotationBetween(spring.Seat{}.Pose(heading), p),
	}
}
