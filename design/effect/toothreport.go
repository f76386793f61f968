package effect

import (
	"context"
	"errors"
	"math"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// ResistanceLoads are the loads on both teeth, the couples about each one's centre of
// resistance.
type ResistanceLoads struct{ Active, Anchor tooth.Load }

// AtResistance moves the loads of a record to the centres of resistance, one for each
// position.
func AtResistance(c design.Case, r spring.Record) []ResistanceLoads {
	loads := make([]ResistanceLoads, len(r.Positions))
	for i, p := range r.Positions {
		loads[i] = ResistanceLoads{
			Active: p.Active.AtResistance(c.ActiveOffset(p.Seat)),
			Anchor: p.Anchor.AtResistance(c.AnchorOffset()),
		}
	}
	return loads
}

// ToothReport is what a spring's load does to one tooth at the start of the travel.
type ToothReport struct {
	Number       tooth.Number
	Resistance   tooth.Resistance
	AtResistance tooth.Load
	Movements    [3]Movement
	Remedy       TorqueRemedy
}

// TeethReport is what a spring does to both teeth.
type TeethReport struct {
	Teeth          tooth.Pair
	Active, Anchor ToothReport
	// Drift is of the active tooth while the anchor stays: what the spring itself can do.
	Drift Drift
	// DriftFault says why no drift is predicted; nil where one is.
	DriftFault error
	// Anchors is what becomes of both teeth: first with the anchor as the case has it, then, where
	// there is one, with the next better hold.
	Anchors []AnchorOutcome
	// AnchorExcesses is what the anchor tooth takes beyond what is usual for it.
	AnchorExcesses []design.AnchorExcess
}

// NotMade tells that the drift does not bring the tooth along its planned travel at all: less
// than half of a hundredth of the way, or backwards, or turned the other way from a turn that is
// planned beside a shift. False where none is predicted.
func (r TeethReport) NotMade() bool {
	const (
		nothing = 0.005               // prints as 0 %
		backRad = 0.5 * math.Pi / 180 // prints as more than nothing
	)
	if r.DriftFault != nil {
		return false
	}
	turnedBack := r3.Norm(r.Drift.Planned) >= design.LeastTurnRad && r.Drift.ReachedRad < -backRad
	return turnedBack || r.Drift.ReachedShare() < nothing
}

// LeftUndone is the planned shift that a spring leaves undone which does not bring the tooth
// along it; none where the slot only turns.
func (r TeethReport) LeftUndone() []target.Excess {
	if !r.NotMade() || !(r.Drift.SlackMM > 0) {
		return nil
	}
	return []target.Excess{{Limit: target.TravelLimit, Beyond: r.Drift.SlackMM}}
}

// mostUnplannedTurnRad is a turn of the tooth that nobody planned and that has to be seen before
// the spring is made: beyond what a bracket is placed wrongly by, 5.5° (Balut et al., AJODO
// 1992;102:62; choice).
const mostUnplannedTurnRad = 8 * math.Pi / 180

// Warnings are what has to be seen before a spring is made for a case: that it does not bring
// the tooth where it should, that it turns the tooth far beyond what is planned, that a force
// nobody asked for is larger than those that were.
func (r TeethReport) Warnings(c design.Case, record spring.Record) notice.List {
	var list notice.List
	if r.NotMade() {
		list = append(list, notice.TravelNotMade{Tooth: r.Teeth.Active})
	}
	if r.DriftFault == nil {
		largest := r.Drift.LargestTurn()
		for _, turn := range []struct {
			k       tooth.Component
			rad     float64
			planned float64
		}{{tooth.CoupleY, largest.Y, r.Drift.Planned.Y}, {tooth.CoupleX, largest.X, r.Drift.Planned.X}, {tooth.CoupleZ, largest.Z, r.Drift.Planned.Z}} {
			if beyond := math.Abs(turn.rad) - math.Abs(turn.planned); beyond > mostUnplannedTurnRad || turn.rad*turn.planned < 0 && math.Abs(turn.rad) > mostUnplannedTurnRad {
				list = append(list, notice.UnplannedTurn{Teeth: r.Teeth, Component: turn.k, TurnRad: turn.rad})
			}
		}
	}
	if k, size, asked := unaskedForce(c, record); size > asked {
		list = append(list, notice.UnaskedForce{Teeth: r.Teeth, Component: k, ForceN: record.Positions[0].Active.Component(k), AskedN: asked})
	}
	return list
}

// unaskedForce is the largest force at the start on the active tooth that the target has no
// window of its own for, and the largest that it has one for; 0 where there is none.
func unaskedForce(c design.Case, record spring.Record) (k tooth.Component, size, asked float64) {
	for i := range 3 {
		at := tooth.ForceX + tooth.Component(i)
		v := math.Abs(record.Positions[0].Active.Component(at))
		named := c.Target.Start.ForceN[i].Asked() || c.Target.Travel.ForceN[i].Asked() || c.Target.Travel.ForceN[i] == target.FreeWindow() || c.Target.Start.ForceN[i] == target.FreeWindow()
		switch {
		case named:
			asked = max(asked, v)
		case v > size:
			k, size = at, v
		}
	}
	if asked == 0 { // the target is about couples
		return k, 0, 0
	}
	return k, size, asked
}

// ReportTeeth works out how both teeth start to move under a spring that has been evaluated,
// how the active tooth is predicted to drift, and what the anchor loses by then. The error is that of ctx.
func ReportTeeth(ctx context.Context, c design.Case, s spring.Spring, r spring.Record) (TeethReport, error) {
	if len(r.Positions) == 0 {
		return TeethReport{}, errors.New("the record has no positions")
	}
	first := AtResistance(c, r)[0]
	offset := c.ActiveOffset(r.Positions[0].Seat)
	report := TeethReport{
		Teeth:  c.Teeth,
		Active: toothReport(c.Teeth.Active, c.Resistance.Active, first.Active, offset),
		Anchor: toothReport(c.Teeth.Anchor, c.Resistance.Anchor, first.Anchor, c.AnchorOffset()),

		AnchorExcesses: c.AnchorExcesses(r),
	}
	report.Drift, report.DriftFault = PredictDrift(ctx, s, offset, c.Resistance.Active.LeverMM2)
	var err error
	report.Anchors, err = AnchorOutcomes(ctx, c, s)
	return report, err
}

func toothReport(n tooth.Number, r tooth.Resistance, l tooth.Load, offset r3.Vec) ToothReport {
	return ToothReport{
		Number: n, Resistance: r, AtResistance: l,
		Movements: Movements(l, r.LeverMM2), Remedy: Remedy(l, offset),
	}
}

// Turns tells whether the tooth turns about a point that is not too far to name.
func (m Movement) Turns() bool {
	return m.Kind == SmallTipping || m.Kind == Tipping || m.Kind == PureRotation
}

// Stages are the start, the middle of the way and the end of a drift; none without steps.
func (d Drift) Stages() []DriftStep {
	n := len(d.Steps)
	if n == 0 {
		return nil
	}
	way := func(s DriftStep) float64 {
		if d.Turns {
			return r3.Norm(s.Rotation)
		}
		return r3.Norm(s.ShiftMM)
	}
	first, middle, last := d.Steps[0], d.Steps[0], d.Steps[n-1]
	half := way(last) / 2
	for _, s := range d.Steps {
		if math.Abs(way(s)-half) < math.Abs(way(middle)-half) {
			middle = s
		}
	}
	return []DriftStep{first, middle, last}
}

// ReachedShare is the part of its goal that the drift brings the slot: of its planned turn
// where that is the goal, else of its planned shift. It is below 0 where the slot goes or turns
// the other way.
func (d Drift) ReachedShare() float64 {
	switch planned := r3.Norm(d.Planned); {
	case d.Turns && planned > 0:
		return min(1, d.ReachedRad/planned)
	case d.PlannedMM > 0:
		return min(1, d.ReachedMM/d.PlannedMM)
	}
	return 0
}
