package report

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Activation is the trial activation of a spring on the bench: its free end is brought to where it is seated at
// the start and let go again, so that what sets, sets there and not in the mouth.
type Activation struct {
	// Off is how the free end has to go, as an offset along the global axes, mm, and a rotation vector, rad.
	Off   [tooth.Components]float64
	Times int
	// AllowedMM and AllowedRad are how far the free end may come to lie from where it lay before.
	AllowedMM, AllowedRad float64
	// Sets tells that the wire is reckoned to take a set, which is part of what is allowed.
	Sets bool
	// Beforehand is what may be bent in for the first day, as shares of Off: from Low to High. It is nothing
	// where no loss is known, and where Beyond tells why not: the loads at first would miss these.
	Beforehand spring.Band
	Beyond     []target.Miss
	// Loss is what the first day takes; the zero range where nothing is known.
	Loss wire.Relaxation
}

// Size is how far the free end has to go, and to turn.
func (a Activation) Size() (shiftMM, turnRad float64) {
	return r3.Norm(r3.Vec{X: a.Off[0], Y: a.Off[1], Z: a.Off[2]}), r3.Norm(r3.Vec{X: a.Off[3], Y: a.Off[4], Z: a.Off[5]})
}

// ActivationTimes is how often (common practice: two or three times).
const ActivationTimes = 3

// What is told of a shift and of a turn by the eye on a template, 19 of 20 times: less is no set (see
// design.SkilledBender).
const toldSDs = 2

// least an activation has for a trial to tell anything (choice): twice what the eye tells.
const leastActivations = 2

// ActivationOf is the trial activation of a spring made for a case; ok is false where there is none: the free end
// has hardly to move, or the wire is stressed beyond yield and nobody knows what it keeps.
func ActivationOf(c design.Case, s spring.Spring, e solve.Evaluation) (a Activation, ok bool) {
	positions := e.Record.Positions
	if len(positions) == 0 || positions[0].StressRatio > 1 && !e.History {
		return a, false
	}
	free, seat := s.Rod().UnloadedEnd(beam.Origin()), s.Start.Pose(s.Heading)
	shift, turn := r3.Sub(seat.At, free.At), beam.RotationBetween(free, seat)
	if c.ActiveSlot.Hook { // it turns as it likes
		turn = r3.Vec{}
	}
	a.Off = [tooth.Components]float64{shift.X, shift.Y, shift.Z, turn.X, turn.Y, turn.Z}
	usual := design.SkilledBender()
	a.Times, a.AllowedMM, a.AllowedRad = ActivationTimes, toldSDs*usual.CheckSDMM, toldSDs*usual.CheckSDRad
	if r3.Norm(shift) < leastActivations*a.AllowedMM && r3.Norm(turn) < leastActivations*a.AllowedRad {
		return a, false
	}
	if set := e.Set.AfterTrial; set.Unknown {
		return a, false
	} else if set.ShiftMM > 0 || set.TurnRad > 0 {
		a.Sets = true
		a.AllowedMM, a.AllowedRad = a.AllowedMM+set.ShiftMM, a.AllowedRad+set.TurnRad
	}
	loss := e.Record.FirstDayLoss
	if !loss.Known() {
		return a, true
	}
	a.Loss = loss
	// What is left of 1 + b after a share q of it is lost is 1 where b = q / (1 − q).
	in := func(q float64) float64 { return q / (1 - q) }
	known := map[target.Quantity]bool{}
	for _, miss := range c.Misses(e.Record) {
		known[miss.Quantity] = true
	}
	for _, miss := range c.Misses(e.Record.BentIn(in(loss.High))) {
		if !known[miss.Quantity] {
			a.Beyond = append(a.Beyond, miss)
		}
	}
	if len(a.Beyond) == 0 && !(positions[0].StressRatio*(1+in(loss.High)) > min(1, c.Limits.StressRatio())) {
		a.Beforehand = spring.Band{Low: in(loss.Low), Median: in((loss.Low + loss.High) / 2), High: in(loss.High)}
	}
	return a, true
}

// Lost is what a trial activation has taken of a spring.
type Lost struct {
	// Off is how far the free end lies from where it lay before, mm and rad; NaN where it was not read.
	Off [tooth.Components]float64
	// Share of the activation, in the directions that were read; of the loads it is about the same share.
	Share float64
	// Within tells that no more was lost than is allowed.
	Within bool
}

// LostOf is what readings after a trial activation tell; ok is false where there are none.
func (a Activation) LostOf(after []spring.EndReading) (l Lost, ok bool) {
	for k := range l.Off {
		l.Off[k] = math.NaN()
	}
	// A millimetre and a degree are weighed by what is allowed of them.
	along, all, shiftMM, turnRad := 0.0, 0.0, 0.0, 0.0
	for _, r := range after {
		l.Off[r.Along] = r.Off
		allowed := a.AllowedMM
		if r.Along.Couple() {
			allowed = a.AllowedRad
			turnRad = math.Hypot(turnRad, r.Off)
		} else {
			shiftMM = math.Hypot(shiftMM, r.Off)
		}
		along += r.Off * a.Off[r.Along] / (allowed * allowed)
		all += a.Off[r.Along] * a.Off[r.Along] / (allowed * allowed)
	}
	if all > 0 {
		l.Share = along / all
	}
	l.Within = shiftMM <= a.AllowedMM && turnRad <= a.AllowedRad
	return l, len(after) > 0
}
