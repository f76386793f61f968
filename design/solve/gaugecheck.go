package solve

import (
	"math"
	"slices"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// GaugeCheck is the bench check: the anchor end clamped, the free end pulled by a force
// gauge along the force that drives its travel, or else along its largest force, free to turn and to move sideways, until it is
// level with where the active slot is at the first position.
type GaugeCheck struct {
	Axis     tooth.Component // ForceX, ForceY or ForceZ: the axis that it is pulled along
	ForceN   float64         // pull, towards the slot
	TravelMM float64         // how far the free end is pulled, along the axis, with its sign
	Solved   bool            // false where there is no check
	Lack     GaugeLack       // why there is none
}

// GaugeLack says why a spring has no gauge check.
type GaugeLack int

const (
	GaugeLevel    GaugeLack = iota // the free end lies level with the slot as it is
	GaugeCouples                   // the spring is to turn the tooth by couples, no force is wanted
	GaugeUnsolved                  // no equilibrium was found for the pulled end
)

const (
	// leastPullMM is a pull below which a gauge's own graduation hides the answer.
	leastPullMM = 0.3
	// leastPulledN is a force that such a gauge does not tell from none: they are graduated in
	// 5 or 10 gf (common practice).
	leastPulledN = 0.05
	// wellShownN is a force that such a gauge shows well.
	wellShownN = 2 * leastPulledN
	// leastShareOfPull is the share of the largest force from which another one may stand for
	// it, where the free end need not be pulled along the largest one (choice).
	leastShareOfPull = 0.5
)

// gaugeCheck solves the bench check of a spring whose load on the active tooth at the first
// position is active. With history the wire may yield on the way.
func gaugeCheck(s spring.Spring, active tooth.Load, history bool) GaugeCheck {
	solver := beam.NewSolver(s.Rod(), beam.Origin(), beam.Options{})
	if history {
		tied := s.Tied()
		tied.Slide, tied.SlidToRest, tied.DrawnToN = spring.NoSlide, spring.NoSlide, 0
		wire, err := newHistoryWire(tied)
		if err != nil {
			return GaugeCheck{Lack: GaugeUnsolved}
		}
		solver = wire.solver
	}
	end := solver.End()
	check := gaugeWay(s, active, end.At)
	if check.Lack == GaugeCouples || check.TravelMM == 0 {
		return check
	}
	force, err := pulled(solver, check.Axis, check.TravelMM, history)
	if err != nil {
		check.Lack = GaugeUnsolved
		return check
	}
	check.Solved = true
	check.ForceN = math.Abs(force)
	return check
}

// GaugeForceN is what a gauge reads, N, that pulls the free end of a spring by travelMM along an axis as in
// GaugeCheck, from where it lies: above 0 where the wire holds against the pull. The wire is taken as elastic.
func GaugeForceN(s spring.Spring, axis tooth.Component, travelMM float64, o beam.Options) (float64, error) {
	force, err := pulled(beam.NewSolver(s.Rod(), beam.Origin(), o), axis, travelMM, false)
	return math.Copysign(1, travelMM) * force, err
}

// pulled is the force along the axis on the free end that was pulled by travelMM.
func pulled(solver *beam.Solver, which tooth.Component, travelMM float64, history bool) (float64, error) {
	start, axis := solver.End().At, which-tooth.ForceX
	hook := beam.Hold{
		Pose:     beam.Origin(),
		FreeMove: [3]bool{true, true, true},
		FreeTurn: [3]bool{true, true, true},
	}
	hook.FreeMove[axis] = false
	pulls := 1.0
	if history {
		pulls = math.Ceil(math.Abs(travelMM) / historyMoveMM)
	}
	for k := 1.0; k <= pulls; k++ {
		hook.Pose.At = r3.Add(start, along(axis, travelMM*k/pulls))
		if err := solver.Follow(hook); err != nil {
			return 0, err
		}
	}
	return tooth.Load{ForceN: solver.EndLoad().ForceN}.Component(which), nil
}

// gaugeWay chooses the axis and the length of the pull: along the largest force on the tooth,
// against it as the slot pulls the wire, from where the free end lies to the slot. Where it
// need not be pulled that way, the next largest force takes its place.
func gaugeWay(s spring.Spring, active tooth.Load, freeEndMM r3.Vec) GaugeCheck {
	axes := []tooth.Component{tooth.ForceZ, tooth.ForceX, tooth.ForceY} // of equal forces, the first
	slices.SortStableFunc(axes, func(a, b tooth.Component) int {
		switch d := math.Abs(active.Component(b)) - math.Abs(active.Component(a)); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	most := math.Abs(active.Component(axes[0]))
	// The force that drives the travel is the wanted one, and stands for the others where a
	// gauge shows it well.
	enough := leastShareOfPull * most
	if wanted, sense := s.Travel().Component(); !s.Travel().None() && !wanted.Couple() && sense*active.Component(wanted) >= wellShownN {
		i := slices.Index(axes, wanted)
		axes = append([]tooth.Component{wanted}, slices.Delete(axes, i, i+1)...)
		enough = min(enough, wellShownN)
	}
	if s.Travel().Turns || most < leastPulledN {
		return GaugeCheck{Lack: GaugeCouples}
	}
	gap := tooth.Load{ForceN: r3.Sub(s.SeatAt(0).AtMM, freeEndMM)}
	for _, axis := range axes {
		force, wayMM := active.Component(axis), gap.Component(axis)
		if math.Abs(force) >= enough && math.Abs(wayMM) >= leastPullMM && force*wayMM < 0 {
			return GaugeCheck{Axis: axis, TravelMM: wayMM}
		}
	}
	return GaugeCheck{Axis: axes[0], Lack: GaugeLevel}
}

// along is a vector of so many mm along axis x, y or z.
func along(axis tooth.Component, mm float64) r3.Vec {
	return [...]r3.Vec{{X: mm}, {Y: mm}, {Z: mm}}[axis]
}
