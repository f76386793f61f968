package design

import (
	"context"
	"fmt"
	"math"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// Drift is the way a tooth is predicted to take under a spring.
type Drift struct {
	Steps []DriftStep
	// SlackMM is the planned travel of the slot that the spring leaves undone; 0 where it
	// gets there.
	SlackMM float64
	// Turned tells that it is left undone because the tooth turns: its centre of resistance
	// has gone as far as planned, and the slot has stayed behind. Else the force along the
	// way has died out.
	Turned bool
}

// DriftStep is one place on the way.
type DriftStep struct {
	Seat     Seat   // of the wire's entry into the active slot
	ShiftMM  r3.Vec // of the centre of resistance since the start
	Rotation r3.Vec // of the tooth since the start, rotation vector, rad
	Active   Load   // on the active tooth, about its slot's centre
}

const (
	driftSteps = 40
	// mostDriftSteps ends the way of a tooth that turns so much that its steps are cut short.
	mostDriftSteps = 4 * driftSteps
	// driftForceN is a force along the way that no longer moves a tooth.
	driftForceN = 0.02
	// mostMobility bounds a, as a multiple of the first step's: where the force has died out
	// but couples have not, a tooth would swing to and fro about its place of rest.
	mostMobility = 4
)

// PredictDrift lets the active tooth move in small steps in proportion to the load at its
// centre of resistance and solves the spring again after each: a shift a·F of that centre
// and a turn a·M/leverMM2 about it, a chosen so that a step brings the tooth the same part
// of the travel along its planned way, less where the force has nearly died out. The anchor tooth stays. It ends when the slot's
// travel is done, the force along it has died out, or the centre of resistance has gone the
// length of the travel: a tooth whose root comes after would go on turning without an end
// that anybody planned. offset is from the slot's centre to the
// centre of resistance at the start.
//
// Teeth do not move in proportion to load, and not evenly; what holds is the direction: a
// tooth whose load has no couple at its centre of resistance does not tip.
func PredictDrift(ctx context.Context, s Spring, offset r3.Vec, leverMM2 float64) (Drift, error) {
	way := r3.Sub(s.End.AtMM, s.Start.AtMM)
	travelMM := r3.Norm(way)
	if travelMM == 0 || !(leverMM2 > 0) {
		return Drift{}, fmt.Errorf("no drift to predict: travel %.3g mm, lever %.3g mm² (both must be above 0)", travelMM, leverMM2)
	}
	along := r3.Scale(1/travelMM, way)
	solver := beam.NewSolver(s.Rod(), beam.Origin(), beam.Options{})
	start := s.Start.Pose(s.Heading)
	startCentre := r3.Add(s.Centre(start), offset)

	var drift Drift
	var first float64 // mobility of the first step
	end, centre := start, startCentre
	for {
		if err := ctx.Err(); err != nil {
			return Drift{}, err
		}
		if err := solver.Follow(s.holdAt(end)); err != nil {
			return Drift{}, &PositionError{Index: len(drift.Steps), Positions: driftSteps + 1, Seat: s.seatOf(end), Cause: err}
		}
		load := s.ActiveLoad(solver.EndLoad(), end)
		turn := beam.RotationBetween(start, end)
		drift.Steps = append(drift.Steps, DriftStep{
			Seat:     s.seatOf(end),
			ShiftMM:  r3.Sub(centre, startCentre),
			Rotation: turn,
			Active:   load,
		})
		done := r3.Dot(along, r3.Sub(end.At, s.Start.AtMM))
		atCentre := load.AtResistance(r3.Sub(centre, s.Centre(end)))
		push := r3.Dot(along, atCentre.ForceN)
		const hairMM = 1e-6 // rounding
		left, gone := travelMM-done, r3.Dot(along, r3.Sub(centre, startCentre))
		switch {
		case left < hairMM || push < driftForceN:
			drift.SlackMM = max(0, left)
			return drift, nil
		case gone > travelMM-hairMM || len(drift.Steps) > mostDriftSteps:
			drift.SlackMM, drift.Turned = left, true
			return drift, nil
		}
		stepMM := min(travelMM/driftSteps, left)
		mobility := stepMM / push
		if len(drift.Steps) == 1 {
			first = mobility
		}
		mobility = min(mobility, mostMobility*first)
		shift := r3.Scale(mobility, atCentre.ForceN)
		rotation := r3.Scale(mobility/leverMM2, atCentre.CoupleNMM)
		if angle := r3.Norm(rotation); angle > largestDriftTurn {
			shift, rotation = r3.Scale(largestDriftTurn/angle, shift), r3.Scale(largestDriftTurn/angle, rotation)
		}
		arm := r3.Sub(end.At, centre)
		centre = r3.Add(centre, shift)
		end = end.Turned(rotation)
		end.At = r3.Add(centre, beam.Rotate(rotation, arm))
	}
}

// largestDriftTurn keeps a step small where a couple would turn the tooth much for little
// travel.
const largestDriftTurn = math.Pi / 360

// seatOf is the seat whose pose is end.
func (s Spring) seatOf(end beam.Pose) Seat {
	return Seat{AtMM: end.At, Rotation: beam.RotationBetween(Seat{}.Pose(s.Heading), end)}
}
