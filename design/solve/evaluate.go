package solve

import (
	"context"
	"errors"
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/notice"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrYield means that the wire would yield, so that elastic figures would be wrong.
var ErrYield = errors.New("the wire yields")

// YieldError is ErrYield with its values.
type YieldError struct {
	StressRatio  float64
	YieldMPa     float64
	TravelLeftMM float64 // where the stress is largest
}

func (e *YieldError) Error() string {
	return fmt.Sprintf("%v: stress is %.2f of the yield stress %.0f MPa with %.2f mm of travel left (allowed: up to 1.00)",
		ErrYield, e.StressRatio, e.YieldMPa, e.TravelLeftMM)
}

// Unwrap returns ErrYield.
func (e *YieldError) Unwrap() error { return ErrYield }

// Options sets how a spring is evaluated. The zero value refuses yield.
type Options struct {
	AllowYield bool // only warn where the stress ratio is above 1
}

const (
	// warnStressRatio is where a spring gets a warning: the yield stress of wires of one
	// name differs by more than a tenth (see package wire).
	warnStressRatio = 0.9
	// The wire is drawn and its stress is sampled at least this closely.
	sampleMM  = 0.5
	sampleRad = math.Pi / 36
)

// PositionError says at which position of the travel a spring could not be solved.
type PositionError struct {
	Index, Positions int // Index counts from 0
	Seat             spring.Seat
	Cause            error
}

func (e *PositionError) Error() string {
	return fmt.Sprintf("position %d of %d, active slot entered at (%.3g, %.3g, %.3g) mm: %v",
		e.Index+1, e.Positions, e.Seat.AtMM.X, e.Seat.AtMM.Y, e.Seat.AtMM.Z, e.Cause)
}

// Unwrap returns the cause, which wraps beam.ErrNoConvergence, beam.ErrUnstable,
// beam.ErrNoStraight, ErrTooShort, ErrNoContact or ErrTooMuchWork.
func (e *PositionError) Unwrap() error { return e.Cause }

// Evaluate solves a spring at every position of its travel, starting from the unloaded
// wire. A superelastic wire, one that yields and has a TangentMPa, and one that yields in its
// bends alone by what bending left in them, is solved with the history of its sections; others
// are elastic. The errors are *PositionError, ErrYield, that of SlotHold.PlayOf and that of ctx;
// with ErrYield the evaluation is complete all the same.
func Evaluate(ctx context.Context, s spring.Spring, o Options) (Evaluation, error) {
	for i := range max(1, s.Positions) {
		if err := checkSpan(s, s.SeatAt(i), mostStretch(s)); err != nil {
			return Evaluation{}, &PositionError{Index: i, Positions: s.Positions, Seat: s.SeatAt(i), Cause: err}
		}
	}
	if s.Wire.IsSuperelastic() {
		return evaluateWithHistory(ctx, s, nil)
	}
	rod := s.Rod()
	solver := beam.NewSolver(rod, beam.Origin(), solverOptions(s))
	slots, err := newSlotFollower(s, solver)
	if err != nil {
		return Evaluation{}, err
	}
	unloaded := solver.Configuration()
	slots.unloaded = &unloaded
	nodes := solver.AppendNodes(nil)
	e := Evaluation{Record: spring.Record{Title: s.Title, Teeth: s.Teeth, FirstDayLoss: s.Wire.FirstDayLoss()}, Passive: poses(nodes), Samples: samples(nodes)}
	strength := s.Wire.Strength()
	bends := newBentCheck(s, rod.Section, strength)
	var opposed []OpposedBend

	for i := range max(1, s.Positions) {
		if err := ctx.Err(); err != nil {
			return Evaluation{}, err
		}
		seat := s.SeatAt(i)
		play, err := slots.follow(seat)
		if err != nil {
			return Evaluation{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: explained(s, seat, err)}
		}
		nodes = solver.AppendNodes(nodes[:0])
		if i == 0 {
			e.Seated = poses(nodes)
			opposed = opposedBends(s, nodes)
		}
		position := spring.Position{
			Seat:         seat,
			TravelLeftMM: r3.Norm(r3.Sub(s.End.AtMM, seat.AtMM)),
			Active:       s.ActiveLoad(solver.EndLoad(), solver.End().At, seat.Pose(s.Heading)),
			Anchor:       s.AnchorLoad(solver.BaseLoad()),
			HookMM:       hookAt(s, solver.End()),
			Play:         play,
		}
		for _, n := range nodes {
			position.StressRatio = max(position.StressRatio, strength.Ratio(n.MomentNMM))
		}
		if err := checkFinite(position); err != nil {
			return Evaluation{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: err}
		}
		if yields(s, position) {
			remembered, err := evaluateWithHistory(ctx, s, opposed)
			if errors.Is(err, beam.ErrNoStraight) { // an elastic wire can tell how much is missing
				for i++; i < s.Positions; i++ {
					seat := s.SeatAt(i)
					if _, elastic := slots.follow(seat); errors.Is(elastic, beam.ErrNoStraight) {
						return Evaluation{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: explained(s, seat, elastic)}
					}
				}
			}
			return remembered, err
		}
		if position.StressRatio <= 1 { // else the spring is refused, or its figures are known to be too high
			if err := bends.follow(nodes); err != nil {
				return Evaluation{}, &PositionError{Index: i, Positions: s.Positions, Seat: seat, Cause: err}
			}
		}
		if play != nil {
			position.OtherRest = slots.otherRest(seat, position)
		}
		e.Record.Positions = append(e.Record.Positions, position)
	}
	if worst, _ := e.worstStress(); worst <= 1 && bends.yieldTooMuch() {
		return evaluateWithHistory(ctx, s, opposed)
	}
	e.warnOfOtherRests()
	e.Gauge = gaugeCheck(s, e.Record.Positions[0].Active, false)
	e.warnOfHook(s)
	err = e.judgeStress(s, o)
	e.warnOfOpposedBends(opposed)
	return e, err
}

func checkFinite(p spring.Position) error {
	values := []r3.Vec{p.Active.ForceN, p.Active.CoupleNMM, p.Anchor.ForceN, p.Anchor.CoupleNMM, {X: p.StressRatio}}
	if p.HookMM != nil {
		values = append(values, *p.HookMM)
	}
	for _, v := range values {
		if n := r3.Norm(v); math.IsNaN(n) || math.IsInf(n, 0) {
			return beam.ErrNoConvergence
		}
	}
	return nil
}

// worstStress is the largest stress ratio over the travel, and at which position.
func (e *Evaluation) worstStress() (worst float64, at int) {
	for i, p := range e.Record.Positions {
		ratio := p.StressRatio
		if p.OtherRest != nil {
			ratio = max(ratio, p.OtherRest.StressRatio)
		}
		if ratio > worst {
			worst, at = ratio, i
		}
	}
	return worst, at
}

// judgeStress adds the warning on stress, or returns an error that wraps ErrYield.
func (e *Evaluation) judgeStress(s spring.Spring, o Options) error {
	worst, at := e.worstStress()
	left := e.Record.Positions[at].TravelLeftMM
	switch {
	case worst > 1 && !o.AllowYield:
		return &YieldError{StressRatio: worst, YieldMPa: s.Wire.YieldMPa, TravelLeftMM: left}
	case worst > 1:
		e.Warnings = append(e.Warnings, notice.ElasticYield{StressRatio: worst, TravelLeftMM: left})
	case worst > warnStressRatio:
		e.Warnings = append(e.Warnings, notice.NearYield{StressRatio: worst, TravelLeftMM: left})
	}
	return nil
}

func poses(nodes []beam.Node) []beam.Pose {
	out := make([]beam.Pose, len(nodes))
	for i, n := range nodes {
		out[i] = n.Pose
	}
	return out
}

func samples(nodes []beam.Node) []Sample {
	out := make([]Sample, len(nodes))
	for i, n := range nodes {
		out[i] = Sample{Step: n.Piece, ArcMM: n.ArcMM}
	}
	return out
}
