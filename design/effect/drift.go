package effect

import (
	"context"
	"errors"
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Drift is the way that both teeth are predicted to take under a spring.
type Drift struct {
	Steps []DriftStep
	// Turns tells that the goal is a turn of the tooth more than a shift; see PredictDrift.
	Turns bool
	// PlannedMM is the planned shift of the slot's centre, ReachedMM how far along it the slot
	// comes to stand: below 0 where it goes the other way.
	PlannedMM, ReachedMM float64
	// Planned is the planned turn of the slot, rotation vector, rad; ReachedRad is how far about
	// its axis the slot comes to be turned, below 0 where it turns the other way.
	Planned    r3.Vec
	ReachedRad float64
	// SlackMM is the planned shift that the spring leaves undone; 0 where it gets there.
	SlackMM float64
	// SlotMM is where the slot's centre comes to lie, from where it is now.
	SlotMM r3.Vec
	End    DriftEnd
}

// DriftEnd says why a drift goes no farther.
type DriftEnd int

const (
	DriftArrived    DriftEnd = iota // the goal is reached
	DriftDied                       // the force or couple towards the goal has died out
	DriftCentreGone                 // the centre of resistance has gone as far as planned
	DriftAside                      // it hardly comes nearer, so that it is followed no farther
	DriftAgainst                    // the force or couple works away from the goal
)

// String is the end's word in files.
func (e DriftEnd) String() string {
	if e < 0 || int(e) >= len(driftEnds) {
		return fmt.Sprintf("end %d", int(e))
	}
	return driftEnds[e]
}

var driftEnds = [...]string{"arrived", "spent", "centre of resistance gone as far as planned", "hardly coming nearer", "working the other way"}

// DriftStep is one place on the way. Places, turns and loads are those in the jaw, on the axes of
// the spring as it stands at the start.
type DriftStep struct {
	Seat     spring.Seat // of the wire's entry into the active slot
	ShiftMM  r3.Vec      // of the centre of resistance since the start
	Rotation r3.Vec      // of the tooth since the start, rotation vector, rad
	Active   tooth.Load  // on the active tooth, about its slot's centre
	Anchor   AnchorShift
	OnAnchor tooth.Load // on the anchor tooth, about its slot's centre
}

// AnchorShift is how far the anchor has moved since the start.
type AnchorShift struct {
	SlotMM   r3.Vec // its slot's centre
	CentreMM r3.Vec // the centre of resistance of all that holds it
	Rotation r3.Vec // rotation vector, rad
}

// AnchorLost is how far the anchor has moved at the end of the way.
func (d Drift) AnchorLost() AnchorShift {
	if len(d.Steps) == 0 {
		return AnchorShift{}
	}
	return d.Steps[len(d.Steps)-1].Anchor
}

// AnchorMost is how far the anchor slot is off its place where it is farthest, and how much the
// anchor is tipped along the arch where it is most, either way.
func (d Drift) AnchorMost() (lostMM, tipRad float64) {
	for _, s := range d.Steps {
		lostMM, tipRad = max(lostMM, r3.Norm(s.Anchor.SlotMM)), max(tipRad, math.Abs(s.Anchor.Rotation.Y))
	}
	return lostMM, tipRad
}

const (
	driftSteps = 40
	// mostDriftParts times as many steps end the way of a tooth that turns so much, or whose anchor
	// does, that its steps are cut short.
	mostDriftParts = 4
	// driftForceN is a force along the way that no longer moves a tooth, driftCoupleNMM a
	// couple: that of the force some 10 mm from the slot to the centre of resistance.
	driftForceN    = 0.02
	driftCoupleNMM = 0.2
	// mostMobility bounds a, as a multiple of the first step's: where the force has died out
	// but couples have not, a tooth would swing to and fro about its place of rest.
	mostMobility = 4
	// largestDriftTurn and largestDriftMM keep a step small where a couple would turn the tooth
	// much for little travel, and where a force would shift a tooth much that is to turn.
	largestDriftTurn = math.Pi / 360
	largestDriftMM   = 0.1
)

// ErrNoDrift means that the active tooth is planned to stay where it is.
var ErrNoDrift = errors.New("the tooth is to stay where it stands")

// PredictDrift is PredictBothDrift with an anchor that stays.
func PredictDrift(ctx context.Context, s spring.Spring, offset r3.Vec, leverMM2 float64) (Drift, error) {
	return PredictBothDrift(ctx, s, offset, leverMM2, AnchorBody{})
}

// PredictBothDrift lets both teeth move in small steps in proportion to the load at their centres
// of resistance and solves the spring again after each: the active tooth by a shift a·F of that
// centre and a turn a·M/leverMM2 about it, the anchor as AnchorBody has it by the same a. a is
// chosen so that a step closes the same part of the travel along the planned way, by both teeth
// together, less where the force has nearly died out. It ends when the active tooth has done the
// slot's travel, the force along it has died out, or its centre of resistance has gone the length
// of the travel: a tooth whose root comes after would go on turning without an end that anybody
// planned. The travel is that of the slot in the jaw: what the anchor comes to meet it brings it no
// nearer. offset is from the slot's centre to the centre of resistance at the start.
//
// Where the planned turn of the tooth weighs more than its shift, the turn by the root's
// lever against the shift, the steps are parts of that turn, the couple about its axis takes
// the place of the force, and the centre of resistance has gone as far as planned when it has
// shifted by as much as the turn about the slot, or about a point at the root's lever, would
// carry it.
//
// Teeth do not move in proportion to load, and not evenly; what holds is the direction: a
// tooth whose load has no couple at its centre of resistance does not tip. The error wraps
// ErrNoDrift, is a *PositionError or that of ctx.
func PredictBothDrift(ctx context.Context, s spring.Spring, offset r3.Vec, leverMM2 float64, anchor AnchorBody) (Drift, error) {
	return predictDrift(ctx, s, offset, leverMM2, anchor, driftSteps)
}

// In one piece: one step of a march, which moves all that it holds.
func predictDrift(ctx context.Context, s spring.Spring, offset r3.Vec, leverMM2 float64, anchor AnchorBody, steps int) (Drift, error) {
	goal, err := goalOf(s, offset, leverMM2)
	if err != nil {
		return Drift{}, err
	}
	wire, err := solve.NewSeatFollower(s)
	if err != nil {
		return Drift{}, err
	}
	start := s.Start.Pose(s.Heading)
	startCentre := r3.Add(s.Centre(start), offset)
	held := newAnchorPlace(s, anchor)
	// Of what closes the travel the tooth itself makes this part.
	own := 1.0
	if anchor.Moves() {
		own = anchor.Ratio / (anchor.Ratio + 1)
	}

	drift := Drift{Turns: goal.turns, PlannedMM: goal.shiftMM, Planned: goal.turn}
	var first float64 // mobility of the first step
	end, centre := start, startCentre
	for {
		if err := ctx.Err(); err != nil {
			return Drift{}, err
		}
		hung := end
		if s.HookSlides() { // along the arch: what it hangs on does not tip with the one tooth
			hung.D1, hung.D2, hung.D3 = start.D1, start.D2, start.D3
		}
		load, onAnchor, err := wire.Follow(held.seen(end), held.seen(hung))
		if err != nil {
			return Drift{}, &solve.PositionError{Index: len(drift.Steps), Positions: steps + 1, Seat: spring.SeatOf(end, s.Heading), Cause: err}
		}
		load, onAnchor = held.inJaw(load), held.inJaw(onAnchor)
		turn := beam.RotationBetween(start, end)
		drift.Steps = append(drift.Steps, DriftStep{
			Seat:     spring.SeatOf(end, s.Heading),
			ShiftMM:  r3.Sub(centre, startCentre),
			Rotation: turn,
			Active:   load,
			Anchor:   held.shift(),
			OnAnchor: onAnchor,
		})
		drift.SlotMM = r3.Sub(s.Centre(end), s.Centre(start))
		drift.ReachedMM = r3.Dot(goal.along, drift.SlotMM)
		drift.ReachedRad = r3.Dot(goal.about, turn)
		drift.SlackMM = max(0, goal.shiftMM-drift.ReachedMM)
		atCentre := load.AtResistance(r3.Sub(centre, s.Centre(end)))
		left, push, gone := goal.progress(&drift, atCentre)
		switch {
		case left < hairMM:
			drift.End = DriftArrived
			return drift, nil
		case push < -goal.leastPush:
			drift.End = DriftAgainst
			return drift, nil
		case push < goal.leastPush:
			drift.End = DriftDied
			return drift, nil
		case gone > goal.mostGoneMM-hairMM:
			drift.End = DriftCentreGone
			return drift, nil
		case len(drift.Steps) > mostDriftParts*steps:
			drift.End = DriftAside
			return drift, nil
		}
		mobility := min(own*goal.size/float64(steps), left) * goal.perPush / push
		if len(drift.Steps) == 1 {
			first = mobility
		}
		mobility = min(mobility, mostMobility*first)
		shift := r3.Scale(mobility, atCentre.ForceN)
		rotation := r3.Scale(mobility/leverMM2, atCentre.CoupleNMM)
		anchorShift, anchorTurn := held.give(mobility, onAnchor)
		cut, finer := 1.0, driftSteps/float64(steps)
		if angle := max(r3.Norm(rotation), r3.Norm(anchorTurn)); angle > finer*largestDriftTurn {
			cut = finer * largestDriftTurn / angle
		}
		if way := max(r3.Norm(shift), r3.Norm(anchorShift)); goal.turns && cut*way > finer*largestDriftMM {
			cut = finer * largestDriftMM / way
		}
		shift, rotation = r3.Scale(cut, shift), r3.Scale(cut, rotation)
		arm := r3.Sub(end.At, centre)
		centre = r3.Add(centre, shift)
		end = end.Turned(rotation)
		end.At = r3.Add(centre, beam.Rotate(rotation, arm))
		held.move(r3.Scale(cut, anchorShift), r3.Scale(cut, anchorTurn))
	}
}

const hairMM = 1e-6 // mm or rad: rounding

// driftGoal is what a drift is on its way to.
type driftGoal struct {
	shiftMM      float64 // of the slot's centre
	along, about r3.Vec  // unit vectors of the shift and the turn, zero where there is none
	turn         r3.Vec  // of the slot, rotation vector, rad

	turns      bool
	size       float64 // of what counts: mm, or rad where it turns
	perPush    float64 // what a unit of mobility makes of a push: 1, or the lever where it turns
	leastPush  float64 // N, or N·mm where it turns
	mostGoneMM float64 // way of the centre of resistance
}

func goalOf(s spring.Spring, offset r3.Vec, leverMM2 float64) (driftGoal, error) {
	if !(leverMM2 > 0) {
		return driftGoal{}, fmt.Errorf("no drift to predict: lever %.3g mm² (must be above 0)", leverMM2)
	}
	start, end := s.Start.Pose(s.Heading), s.End.Pose(s.Heading)
	way := r3.Sub(s.Centre(end), s.Centre(start))
	g := driftGoal{shiftMM: r3.Norm(way), turn: beam.RotationBetween(start, end)}
	turnRad := r3.Norm(g.turn)
	const roundingMM = 1e-6 // as for Travel
	if g.shiftMM < roundingMM {
		g.shiftMM = 0
	} else {
		g.along = r3.Unit(way)
	}
	if turnRad < roundingMM {
		g.turn = r3.Vec{}
	} else {
		g.about = r3.Unit(g.turn)
	}
	switch {
	case g.along == (r3.Vec{}) && g.about == (r3.Vec{}):
		return driftGoal{}, fmt.Errorf("no drift to predict: %w", ErrNoDrift)
	case math.Sqrt(leverMM2)*turnRad > g.shiftMM:
		g.turns, g.size, g.perPush, g.leastPush = true, turnRad, leverMM2, driftCoupleNMM
		g.mostGoneMM = g.shiftMM + turnRad*max(r3.Norm(offset), math.Sqrt(leverMM2))
	default:
		g.size, g.perPush, g.leastPush, g.mostGoneMM = g.shiftMM, 1, driftForceN, g.shiftMM
	}
	return g, nil
}

// progress is what is left of the way, what pushes towards the goal, and how far the centre
// of resistance has gone: along the way, or at all where the tooth is to turn.
func (g driftGoal) progress(d *Drift, atCentre tooth.Load) (left, push, goneMM float64) {
	shift := d.Steps[len(d.Steps)-1].ShiftMM
	if g.turns {
		return g.size - d.ReachedRad, r3.Dot(g.about, atCentre.CoupleNMM), r3.Norm(shift)
	}
	return g.size - d.ReachedMM, r3.Dot(g.along, atCentre.ForceN), r3.Dot(g.along, shift)
}

// LargestTurn has the parts of a rotation vector that are largest on the way, each with its
// sign; they need not come at the same place.
func (d Drift) LargestTurn() r3.Vec {
	var most r3.Vec
	for _, s := range d.Steps {
		for _, part := range [...]struct {
			now float64
			to  *float64
		}{{s.Rotation.X, &most.X}, {s.Rotation.Y, &most.Y}, {s.Rotation.Z, &most.Z}} {
			if math.Abs(part.now) > math.Abs(*part.to) {
				*part.to = part.now
			}
		}
	}
	return most
}
