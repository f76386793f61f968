package solve_test

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// unit is the direction of a force component.
func unit(axis tooth.Component) r3.Vec {
	return [...]r3.Vec{tooth.ForceX: {X: 1}, tooth.ForceY: {Y: 1}, tooth.ForceZ: {Z: 1}}[axis]
}

// A spring is pulled along the force that drives its travel, or else along its largest: here an arm whose seat lies aside of its free
// end along one axis, and less along another.
func TestGaugeCheckPullsAlongTheWantedForce(t *testing.T) {
	t.Parallel()
	arm := spring.PathOf(spring.StraightStep(3), spring.BendStep(0.4, 0.97), spring.StraightStep(9), spring.BendStep(-0.4, 0.97), spring.StraightStep(9))
	loop := designtest.SampleSprings(t)["rectangular-loop.toml"]
	closing := spring.PathOf(
		spring.StraightStep(5), spring.BendStep(math.Pi/2, 0.97), spring.StraightStep(6.5), spring.BendStep(-math.Pi, 1.2),
		spring.StraightStep(6.5), spring.BendStep(math.Pi/2, 0.97), spring.StraightStep(5),
	)
	hooked := func(path spring.Path, x, y, z float64) spring.Spring {
		s := spring.Spring{Path: path, Wire: designtest.Titanium(), ActiveHold: spring.SlotHold{Hook: true}, Positions: 2}
		if x == 0 { // or the length of the wire pushes
			s.Slide = spring.SlideActive
		}
		end := designtest.UnloadedEnd(path).At
		s.End = spring.Seat{AtMM: r3.Add(end, r3.Vec{X: x / 2, Y: y / 2, Z: z / 2})}
		s.Start = spring.Seat{AtMM: r3.Add(end, r3.Vec{X: x, Y: y, Z: z})}
		return s
	}
	for _, test := range []struct {
		name string
		s    spring.Spring
		axis tooth.Component
		mm   float64 // pulled; 0: not asked
	}{
		{"up or down", hooked(arm, 0, 0.5, -2), tooth.ForceZ, -2},
		{"to the cheek", hooked(arm, 0, 2, 0.5), tooth.ForceY, 2},
		{"to the tongue", hooked(arm, 0, -2, 0.5), tooth.ForceY, -2},
		{"along the arch", hooked(closing, 1, 0, 0.1), tooth.ForceX, 1},
		{"loop of the samples", loop, tooth.ForceZ, 0},
		{"out of its plane", spatialLoop(), tooth.ForceZ, 0}, // the wanted way, beside a larger force along the arch
	} {
		e := designtest.Evaluate(t, test.s)
		gauge, load := e.Gauge, e.Record.Positions[0].Active
		if !gauge.Solved || gauge.ForceN <= 0 || gauge.Axis != test.axis || test.mm != 0 && math.Abs(gauge.TravelMM-test.mm) > 1e-9 {
			t.Errorf("%s: %+v for %v N", test.name, gauge, load.ForceN)
			continue
		}
		for k := tooth.ForceX; k <= tooth.ForceZ; k++ {
			if wanted, _ := test.s.Travel().Component(); gauge.Axis != wanted && math.Abs(load.Component(k)) > math.Abs(load.Component(gauge.Axis)) {
				t.Errorf("%s: pulled along %d, but the tooth feels %v N", test.name, gauge.Axis, load.ForceN)
			}
		}
		// The end is pulled as the slot holds it, so against the force on the tooth.
		if load.Component(gauge.Axis)*gauge.TravelMM >= 0 {
			t.Errorf("%s: pulled %v mm, the tooth feels %v N", test.name, gauge.TravelMM, load.ForceN)
		}
		// Solved again as a rod with a dead load, it comes to where it is to be pulled.
		solver := beam.NewSolver(test.s.Rod(), beam.Origin(), beam.Options{})
		along := unit(gauge.Axis)
		from := r3.Dot(along, solver.End().At)
		pull := math.Copysign(gauge.ForceN, gauge.TravelMM)
		if err := solver.Follow(beam.Hang(beam.Wrench{ForceN: r3.Scale(pull, along)})); err != nil {
			t.Fatal(err)
		}
		to := r3.Dot(along, test.s.SeatAt(0).AtMM)
		if got := r3.Dot(along, solver.End().At); math.Abs(got-to) > 1e-6 || math.Abs(to-from-gauge.TravelMM) > 1e-9 {
			t.Errorf("%s: %v N pull the end from %v to %v mm, want %v mm", test.name, gauge.ForceN, from, got, to)
		}
	}
}

// What a gauge cannot show is told as that.
func TestGaugeCheckSaysWhyThereIsNone(t *testing.T) {
	t.Parallel()
	if gauge := designtest.Evaluate(t, designtest.TurningSpring(-0.1, 0.2)).Gauge; gauge.Solved || gauge.Lack != solve.GaugeCouples {
		t.Errorf("a spring that turns a tooth by a twist: %+v", gauge)
	}
	// With a force beside the couple, which nobody asked for: that is no check of the couple.
	beside := designtest.TurningSpring(-0.1, 0.2)
	beside.Slide = spring.SlideActive
	beside.Start.AtMM.Z, beside.End.AtMM.Z = 0.5, 0.5
	e := designtest.Evaluate(t, beside)
	if force := e.Record.Positions[0].Active.ForceN; math.Abs(force.Z) < 0.2 || e.Gauge.Solved || e.Gauge.Lack != solve.GaugeCouples {
		t.Errorf("a couple with %v N beside it: %+v", force, e.Gauge)
	}
	// Level with its slot, turned against it: the force comes from the angle alone.
	level := spring.Spring{
		Path: spring.PathOf(spring.StraightStep(8), spring.BendStep(0.2, 0.97), spring.StraightStep(8)), Wire: designtest.Titanium(), Positions: 2,
		AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3, Slide: spring.SlideActive,
	}
	end := designtest.UnloadedEnd(level.Path).At
	level.Start, level.End = spring.Seat{AtMM: end}, spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: 0.1})}
	e = designtest.Evaluate(t, level)
	if force := e.Record.Positions[0].Active.ForceN; e.Gauge.Solved || e.Gauge.Lack != solve.GaugeLevel || math.Abs(force.Z) < 0.2 {
		t.Errorf("level, with %v N: %+v", force, e.Gauge)
	}
}
