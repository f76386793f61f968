package beam_test

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// travel is a wire taken from its passive shape to each of several positions on a line.
type travel struct {
	name      string
	rod       beam.Rod
	shift     r3.Vec // the last position
	rotation  r3.Vec
	positions int
}

// loopTravel is a rectangular loop of seven positions, 3 mm down.
func loopTravel(t testing.TB) travel {
	t.Helper()
	for _, spring := range readSolidSprings(t) {
		if spring.Name == "rectangular-loop-flat" {
			return travel{name: spring.Name, rod: spring.rod(t), shift: r3.Vec{Z: -3}, positions: 7}
		}
	}
	t.Fatal("no rectangular loop")
	return travel{}
}

// boxTravel is the box loop in space, 13 positions.
func boxTravel() travel {
	return travel{
		name:      "box loop",
		rod:       boxLoop(titaniumWire()),
		shift:     r3.Vec{X: 1, Y: 0.5, Z: 0.8},
		rotation:  r3.Scale(math.Pi/180, r3.Vec{X: 5, Y: -4, Z: 8}),
		positions: 13,
	}
}

// coarse options are the largest steps whose loads stay within 0.05 % on both travels.
func coarse() beam.Options {
	return beam.Options{StepMM: 8, StepRad: math.Pi / 4, Tolerance: 1e-7, RoughTangent: true}
}

// run follows the path on a solver and hands each position's loads to visit.
func (p travel) run(t testing.TB, s *beam.Solver, visit func(position int, base, end beam.Wrench)) {
	base := beam.Origin()
	s.Reset(p.rod, base)
	for i := range p.positions {
		share := float64(i) / float64(p.positions-1)
		mustFollow(t, s, moved(p.rod, base, r3.Scale(share, p.shift), r3.Scale(share, p.rotation)))
		visit(i, s.BaseLoad(), s.EndLoad())
	}
}

// Large steps are accurate enough for a search: every load of a travel within 0.05 % of the
// converged one, couples by the larger couple.
func TestCoarseSteps(t *testing.T) {
	for _, p := range []travel{loopTravel(t), boxTravel()} {
		type loads struct{ base, end beam.Wrench }
		converged := make([]loads, p.positions)
		p.run(t, beam.NewSolver(p.rod, beam.Origin(), fine()), func(i int, base, end beam.Wrench) {
			converged[i] = loads{base, end}
		})
		s := beam.NewSolver(p.rod, beam.Origin(), coarse())
		worst := 0.0
		p.run(t, s, func(i int, base, end beam.Wrench) {
			if i == 0 {
				nearWrench(t, p.name+", passive", end, beam.Wrench{}, 0)
				return
			}
			want := converged[i]
			couple := max(r3.Norm(want.base.MomentNMM), r3.Norm(want.end.MomentNMM))
			worst = max(
				worst,
				r3.Norm(r3.Sub(end.ForceN, want.end.ForceN))/r3.Norm(want.end.ForceN),
				r3.Norm(r3.Sub(end.MomentNMM, want.end.MomentNMM))/couple,
				r3.Norm(r3.Sub(base.MomentNMM, want.base.MomentNMM))/couple,
			)
		})
		t.Logf("%s: %d steps, largest deviation %.4f %%", p.name, s.Nodes()-1, 100*worst)
		near(t, p.name+", largest deviation", worst, 0, 5e-4)
	}
}

// A solver that is used again allocates nothing.
func TestFollowAllocatesNothing(t *testing.T) {
	p := loopTravel(t)
	s := beam.NewSolver(p.rod, beam.Origin(), coarse())
	allocations := testing.AllocsPerRun(5, func() {
		p.run(t, s, func(int, beam.Wrench, beam.Wrench) {})
	})
	if allocations != 0 {
		t.Errorf("%g allocations", allocations)
	}
}

func benchmarkTravel(b *testing.B, p travel, options beam.Options) {
	s := beam.NewSolver(p.rod, beam.Origin(), options)
	b.ReportAllocs()
	for b.Loop() {
		p.run(b, s, func(int, beam.Wrench, beam.Wrench) {})
	}
}

func BenchmarkPath(b *testing.B) { benchmarkTravel(b, loopTravel(b), coarse()) }

// tubes are two tubes 0.022 in high and 0.028 in deep, 4 and 3.5 mm long, around wire of 0.017 ×
// 0.025 in: the plays that package wire reckons, in third, second and first order, and the arms
// with which half the clearance is the play.
func tubes() (base, end beam.Slot, room [2]beam.SlotCoordinates) {
	base = beam.Slot{LeverMM: 2, HeightArmMM: 0.0635 / 0.03134, DepthArmMM: 0.0381 / 0.01893}
	end = beam.Slot{LeverMM: 1.75, HeightArmMM: 0.0635 / 0.03570, DepthArmMM: 0.0381 / 0.02159}
	return base, end, [2]beam.SlotCoordinates{
		{0.2179, 0.03134, 0.01893, 0.03134, 0.01893},
		{0.2179, 0.03570, 0.02159, 0.03570, 0.02159},
	}
}

// runSeated is run in tubes: the wire comes to rest in the first position, sliding through
// the far tube where it is slid to rest, and is cinched then.
func (p travel) runSeated(t testing.TB, s *beam.Solver, slid bool, visit func(position int, base, end beam.Wrench)) {
	baseSlot, endSlot, room := tubes()
	var touch [2]beam.Touches
	base := beam.Origin()
	s.Reset(p.rod, base)
	for k := range p.positions {
		i := p.positions - 1 - k
		share := float64(i) / float64(p.positions-1)
		seat := moved(p.rod, base, r3.Scale(share, p.shift), r3.Scale(share, p.rotation)).Pose
		s.TrustStability(k > 0)
		if k == 0 {
			if err := s.FollowTied(beam.Clamp(seat), baseSlot, endSlot); err != nil {
				t.Fatal(err)
			}
		}
		endSlot.Slides = slid && k == 0
		if err := s.RestInSlots(seat, baseSlot, endSlot, &room, &touch); err != nil {
			t.Fatalf("position %d: %v", i, err)
		}
		visit(i, s.BaseLoad(), s.EndLoad())
	}
}

// BenchmarkSeatedPath is BenchmarkPath in two tubes, slid to rest in the first position and
// cinched; "tied" is how many times as long it takes as the tied path in the same run.
func BenchmarkSeatedPath(b *testing.B) {
	p := loopTravel(b)
	s := beam.NewSolver(p.rod, beam.Origin(), coarse())
	nothing := func(int, beam.Wrench, beam.Wrench) {}
	var tied, seated time.Duration
	b.ReportAllocs()
	for b.Loop() {
		began := time.Now()
		s.TrustStability(false)
		p.run(b, s, nothing)
		between := time.Now()
		p.runSeated(b, s, true, nothing)
		tied += between.Sub(began)
		seated += time.Since(between)
	}
	b.ReportMetric(seated.Seconds()/tied.Seconds(), "tied/op")
}

func BenchmarkPathWithDefaults(b *testing.B) { benchmarkTravel(b, loopTravel(b), beam.Options{}) }

func BenchmarkBoxPath(b *testing.B) { benchmarkTravel(b, boxTravel(), coarse()) }
