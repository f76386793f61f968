package solve_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/designtest"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Laws of mechanics on random springs (see designtest.CheckLaw). Images behind a mirror, with every kind of slot and of
// wire, are TestMirrorImages.

// solved is what a spring gives at its positions; nil where it has no solution, which is told as an error of a position.
func solved(t *rapid.T, s spring.Spring) []spring.Position {
	t.Helper()
	e, err := solve.Evaluate(t.Context(), s, solve.Options{AllowYield: true})
	var failed *solve.PositionError
	switch {
	case errors.As(err, &failed):
		return nil
	case err != nil:
		t.Fatalf("%v\n%s", err, casefile.WriteSpring(s))
	}
	return e.Record.Positions
}

// most counts draws and holds that most of them had a solution: else a law was not tried.
type most struct{ drawn, solved int }

func (m *most) count(solved bool) bool {
	m.drawn++
	if solved {
		m.solved++
	}
	return solved
}

func (m *most) check(t *testing.T) {
	t.Helper()
	t.Logf("%d of %d springs are solved", m.solved, m.drawn)
	if 4*m.solved < 3*m.drawn {
		t.Errorf("only %d of %d springs are solved", m.solved, m.drawn)
	}
}

// sameLoad holds a load to another; off is the share of the largest loads of the spring by which it may differ.
func sameLoad(t *rapid.T, what string, got, want tooth.Load, all []spring.Position, off float64) {
	t.Helper()
	force, couple := 1e-3, 1e-2 // below these no gauge shows any
	for _, p := range all {
		for _, l := range []tooth.Load{p.Active, p.Anchor} {
			force, couple = max(force, r3.Norm(l.ForceN)), max(couple, r3.Norm(l.CoupleNMM))
		}
	}
	if r3.Norm(r3.Sub(got.ForceN, want.ForceN)) > off*force || r3.Norm(r3.Sub(got.CoupleNMM, want.CoupleNMM)) > off*couple {
		t.Errorf("%s: got %+v, want %+v; forces differ by %.2g of the largest, couples by %.2g", what, got, want, r3.Norm(r3.Sub(got.ForceN, want.ForceN))/force, r3.Norm(r3.Sub(got.CoupleNMM, want.CoupleNMM))/couple)
	}
}

// seenFrom is a load in the axes of a pose.
func seenFrom(p beam.Pose, l tooth.Load) tooth.Load {
	return tooth.Load{ForceN: p.ToLocal(l.ForceN), CoupleNMM: p.ToLocal(l.CoupleNMM)}
}

// fromTheOtherEnd is a spring as it lies at its first position, taken from the active slot to the anchor slot: the axes
// are those of from, the wire's end turned about its second axis.
func fromTheOtherEnd(s spring.Spring) (turned spring.Spring, from beam.Pose) {
	about := func(p beam.Pose) beam.Pose { // the wire runs the other way
		p.D1, p.D3 = r3.Scale(-1, p.D1), r3.Scale(-1, p.D3)
		return p
	}
	from = about(s.Start.Pose(s.Heading))
	base := about(beam.Origin())
	steps := s.Path.Steps()
	back := make(spring.Steps, len(steps))
	for i, step := range steps {
		if step.Kind == spring.Bend && step.Order == 2 { // about the axis that stays
			step.AngleRad = -step.AngleRad
		}
		back[len(steps)-1-i] = step
	}
	turned = s
	turned.Path, turned.Heading, turned.Positions = spring.PathOf(back...), spring.On, 1
	turned.AnchorSlotLengthMM, turned.ActiveSlotLengthMM = s.ActiveSlotLengthMM, s.AnchorSlotLengthMM
	turned.Start = spring.SeatOf(beam.Pose{
		At: from.ToLocal(r3.Sub(base.At, from.At)), D1: from.ToLocal(base.D1), D2: from.ToLocal(base.D2), D3: from.ToLocal(base.D3),
	}, spring.On)
	turned.End = turned.Start
	return turned, from
}

// The same wire between the same teeth gives the same loads whichever end is called the anchor's; its axes are then
// those of the other slot.
func TestLawOfReversal(t *testing.T) {
	t.Parallel()
	var m most
	designtest.CheckLaw(t, func(t *rapid.T) {
		s := designtest.RandomSpring().Draw(t, "spring")
		s.Positions = 1
		turned, from := fromTheOtherEnd(s)
		one, other := solved(t, s), solved(t, turned)
		if !m.count(one != nil && other != nil) {
			return
		}
		// The steps of the wire begin at its other end: the two differ by the integration's error.
		const off = 1e-3
		sameLoad(t, "active tooth", other[0].Anchor, seenFrom(from, one[0].Active), other, off)
		sameLoad(t, "anchor tooth", other[0].Active, seenFrom(from, one[0].Anchor), other, off)
	})
	m.check(t)
}

// Turned and moved with both teeth, a spring's loads turn along.
func TestLawOfTurning(t *testing.T) {
	t.Parallel()
	var m most
	designtest.CheckLaw(t, func(t *rapid.T) {
		s := designtest.RandomSpring().Draw(t, "spring")
		place := designtest.RandomPose().Draw(t, "mouth")
		led := func(base beam.Pose) (end, clamp beam.Wrench, err error) {
			seat := s.Start.Pose(s.Heading)
			hold := beam.Pose{At: r3.Add(base.At, base.ToGlobal(seat.At)), D1: base.ToGlobal(seat.D1), D2: base.ToGlobal(seat.D2), D3: base.ToGlobal(seat.D3)}
			solver := beam.NewSolver(s.Rod(), base, beam.Options{})
			err = solver.Follow(beam.Clamp(hold))
			return solver.EndLoad(), solver.BaseLoad(), err
		}
		end, clamp, err := led(beam.Origin())
		turnedEnd, turnedClamp, turnedErr := led(place)
		if (err == nil) != (turnedErr == nil) {
			t.Fatalf("here %v, turned %v", err, turnedErr)
		}
		if !m.count(err == nil) {
			return
		}
		load := func(w beam.Wrench) tooth.Load { return tooth.Load{ForceN: w.ForceN, CoupleNMM: w.MomentNMM} }
		// Both are solved to 1e-10 of the wire's length; a place 70 mm off costs digits.
		const off = 1e-6
		all := []spring.Position{{Active: load(end), Anchor: load(clamp)}}
		sameLoad(t, "end", seenFrom(place, load(turnedEnd)), load(end), all, off)
		sameLoad(t, "base", seenFrom(place, load(turnedClamp)), load(clamp), all, off)
	})
	m.check(t)
}

// The work that is done on an elastic spring's end on its way is the energy that is stored in the wire.
func TestLawOfEnergy(t *testing.T) {
	t.Parallel()
	var m most
	designtest.CheckLaw(t, func(t *rapid.T) {
		s := designtest.RandomSpring().Draw(t, "spring")
		rod := s.Rod()
		end, seat := rod.UnloadedEnd(beam.Origin()), s.Start.Pose(s.Heading)
		shift, turn := r3.Sub(seat.At, end.At), beam.RotationBetween(end, seat)
		solver := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 0.1, StepRad: math.Pi / 60})
		// The end moves straight and turns about one axis: power is force by shift and moment by turn.
		work := func(parts int) (sumNMM float64, err error) { // Simpson's rule
			for i := range parts + 1 {
				share := float64(i) / float64(parts)
				pose := end.Turned(r3.Scale(share, turn))
				pose.At = r3.Add(end.At, r3.Scale(share, shift))
				if err := solver.Follow(beam.Clamp(pose)); err != nil {
					return 0, err
				}
				load, weight := solver.EndLoad(), [...]float64{2, 4}[i%2]
				if i == 0 || i == parts {
					weight = 1
				}
				sumNMM += weight / float64(3*parts) * (r3.Dot(load.ForceN, shift) + r3.Dot(load.MomentNMM, turn))
			}
			return sumNMM, nil
		}
		const off = 3e-3 // loads of a taut wire change within some tenths of a mm: the sum over the wire leaves a third of it
		workNMM, err := work(8)
		for parts, before := 16, math.Inf(1); err == nil && math.Abs(workNMM-before) > off/10*workNMM+1e-9 && parts < 2000; parts *= 2 { // a wire that is drawn taut stiffens at the end
			before = workNMM
			workNMM, err = work(parts)
		}
		if !m.count(err == nil) {
			return
		}
		nodes := solver.AppendNodes(nil)
		product := func(a, b beam.Node) float64 { // N: of the load of the one with the strain of the other
			over := func(v r3.Vec, x, y, z float64) r3.Vec { return r3.Vec{X: v.X / x, Y: v.Y / y, Z: v.Z / z} }
			of := rod.Section
			return r3.Dot(a.ForceN, over(b.ForceN, of.EA, of.GA2, of.GA3)) + r3.Dot(a.MomentNMM, over(b.MomentNMM, of.GJ, of.EI2, of.EI3))
		}
		storedNMM := 0.0
		for i, a := range nodes[:len(nodes)-1] { // loads go nearly straight from node to node
			b := nodes[i+1]
			storedNMM += (product(a, a) + product(a, b) + product(b, b)) / 6 * (b.ArcMM - a.ArcMM)
		}
		if math.Abs(workNMM-storedNMM) > off*storedNMM+1e-9 { // what is solved of no load at all
			t.Errorf("work %.9g N·mm, stored %.9g N·mm", workNMM, storedNMM)
		}
	})
	m.check(t)
}

// inOnePlane tells whether a wire is its own image behind a mirror: in slots with play it then leans to either side.
func inOnePlane(p spring.Path) bool {
	steps := p.Steps()
	other := func(order int) bool {
		return slices.ContainsFunc(steps, func(s spring.Step) bool { return s.Kind == spring.Twist || s.Kind == spring.Bend && s.Order != order })
	}
	return !other(1) || !other(2)
}

// More positions on the same way tell the same loads where there were some before.
func TestLawOfMorePositions(t *testing.T) {
	t.Parallel()
	var m most
	designtest.CheckLaw(t, func(t *rapid.T) {
		s := designtest.RandomSpring().Draw(t, "spring")
		hold := rapid.SampledFrom(everyHold()).Draw(t, "hold")
		s = hold.of(s)
		if s.AnchorHold.Play && inOnePlane(s.Path) {
			return
		}
		more := s
		more.Positions = 2*s.Positions - 1
		few, many := solved(t, s), solved(t, more)
		if !m.count(few != nil && many != nil) {
			return
		}
		off := 1e-4 // that of images behind a mirror with a hook (imagesAgreeOnHook), the loosest of elastic wires
		if s.Wire.TangentMPa > 0 {
			off = 0.01 // what yields is followed in steps from position to position: as with finer steps of the wire
		}
		for i, p := range few {
			sameLoad(t, "active tooth", many[2*i].Active, p.Active, few, off)
			sameLoad(t, "anchor tooth", many[2*i].Anchor, p.Anchor, few, off)
		}
	})
	m.check(t)
}

// The loads on both teeth balance about the points that they are stated about, whatever holds the wire.
func TestLawOfBalance(t *testing.T) {
	t.Parallel()
	var m most
	offMM := 0.0
	designtest.CheckLaw(t, func(t *rapid.T) {
		hold := rapid.SampledFrom(everyHold()).Draw(t, "hold")
		s := hold.of(designtest.RandomSpring().Draw(t, "spring"))
		positions := solved(t, s)
		m.count(positions != nil)
		for i, p := range positions {
			if p.HookMM != nil {
				offMM = max(offMM, r3.Norm(r3.Sub(*p.HookMM, p.Seat.AtMM)))
			}
			if force, couple := unbalanced(s, p); force > 1e-6 || couple > 1e-6 {
				t.Errorf("position %d: %.3g N and %.3g N·mm are left over", i, force, couple)
			}
		}
	})
	m.check(t)
	if offMM < 0.5 {
		t.Errorf("no hook slid by more than %v mm: nothing is tried", offMM)
	}
}
