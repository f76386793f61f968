package effect

import (
	"context"
	"errors"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/solve"
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
func (r TeethReport) Warnings(c design.Case, record spring.Record) []solve.Warning {
	var list []solve.Warning
	add := func(text, hint string) { list = append(list, solve.Warning{Text: text, Hint: hint}) }
	of := r.Teeth.ActiveMember()
	if r.NotMade() {
		add(fmt.Sprintf("the predicted drift does not bring tooth %d along its planned travel: its load works the other way, or not at all", of.Number),
			"check the goal, and the sense and size of the loads")
	}
	if r.DriftFault == nil {
		largest := r.Drift.LargestTurn()
		for _, turn := range []struct {
			k       tooth.Component
			rad     float64
			planned float64
		}{{tooth.CoupleY, largest.Y, r.Drift.Planned.Y}, {tooth.CoupleX, largest.X, r.Drift.Planned.X}, {tooth.CoupleZ, largest.Z, r.Drift.Planned.Z}} {
			if beyond := math.Abs(turn.rad) - math.Abs(turn.planned); beyond > mostUnplannedTurnRad || turn.rad*turn.planned < 0 && math.Abs(turn.rad) > mostUnplannedTurnRad {
				add(fmt.Sprintf("tooth %d is predicted to turn by up to %.0f°, %s, which is not planned", of.Number, math.Abs(turn.rad)*180/math.Pi, of.Sense(turn.k, turn.rad)),
					"ask for a couple against it, or limit the load that turns the tooth")
			}
		}
	}
	if k, size, asked := unaskedForce(c, record); size > asked {
		add(fmt.Sprintf("a %s of %.2f N that nobody asked for is larger than any that was, %.2f N", of.LoadName(k, record.Positions[0].Active.Component(k)), size, asked),
			"give it a window of its own in the target")
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

// Name is such as "mesial and distal tipping, seen from the cheek".
func (p Plane) Name() string {
	return [...]string{"seen from the cheek", "seen along the arch", "seen from the biting side"}[p]
}

// MovementText says how the tooth starts to move in a plane.
func (t ToothReport) MovementText(teeth tooth.Pair, m Movement) string {
	member := tooth.Member{Pair: teeth, Number: t.Number}
	switch m.Kind {
	case Rest:
		return "no load worth naming"
	case Translation:
		return "bodily movement, " + t.pushText(member, m.Plane)
	case PureRotation:
		return "turns, " + m.TurnWord(member) + ", about its centre of resistance"
	}
	text := fmt.Sprintf("tips, %s, about a point %s of its centre of resistance", m.TurnWord(member), m.PlaceText(member))
	if m.Kind == SmallTipping {
		return "nearly bodily, " + t.pushText(member, m.Plane) + "; " + text
	}
	return text
}

// Short is the kind of movement in a word or two, for tables.
func (k MovementKind) Short() string {
	return [...]string{"–", "bodily", "nearly bodily", "tipping", "turning on the spot"}[k]
}

// Turns tells whether the tooth turns about a point that is not too far to name.
func (m Movement) Turns() bool {
	return m.Kind == SmallTipping || m.Kind == Tipping || m.Kind == PureRotation
}

// TurnWord is which way the tooth turns, such as "crown-mesial" or "crown-buccal".
func (m Movement) TurnWord(of tooth.Member) string {
	switch m.Plane {
	case SidePlane:
		return of.CoupleYWord(m.MomentNMM)
	case EndPlane:
		return of.Sense(tooth.CoupleX, m.MomentNMM)
	default:
		return of.CoupleZWord(m.MomentNMM)
	}
}

// pushText names the force in a plane, the larger part first.
func (t ToothReport) pushText(of tooth.Member, plane Plane) string {
	f := t.AtResistance.ForceN
	type part struct {
		size float64
		word string
	}
	x := part{math.Abs(f.X), of.ForceXWord(f.X)}
	y := part{math.Abs(f.Y), of.ForceYWord(f.Y)}
	z := part{math.Abs(f.Z), of.ForceZWord(f.Z)}
	pair := [...][2]part{SidePlane: {z, x}, EndPlane: {z, y}, BitePlane: {x, y}}[plane]
	if pair[1].size > pair[0].size {
		pair[0], pair[1] = pair[1], pair[0]
	}
	if pair[1].size < pair[0].size/5 {
		return pair[0].word
	}
	return pair[0].word + " and " + pair[1].word
}

// PlaceText is where the centre of rotation lies from the centre of resistance, such as
// "3.2 mm distal and 1.1 mm apical".
func (m Movement) PlaceText(of tooth.Member) string {
	v := m.RotationAboutMM
	const leastMM = 0.1
	var parts []string
	add := func(mm float64, word string) {
		if math.Abs(mm) >= leastMM {
			parts = append(parts, fmt.Sprintf("%.1f mm %s", math.Abs(mm), word))
		}
	}
	add(v.X, of.ForceXWord(v.X))
	add(v.Y, of.ForceYWord(v.Y))
	vertical := "apical"
	if v.Z < 0 {
		vertical = "towards the crown"
	}
	add(v.Z, vertical)
	return listed(parts, "0.0 mm")
}

// RemedyText says what would cancel the tipping about x that the load leaves.
func (t ToothReport) RemedyText(teeth tooth.Pair) string {
	of := tooth.Member{Pair: teeth, Number: t.Number}
	m := t.AtResistance.CoupleNMM.X
	if math.Abs(m) < restNMM {
		return "nothing tips its crown across the arch"
	}
	// About +x the crown goes towards +y.
	return fmt.Sprintf("%.1f N·mm tip its crown %sly; at the slot a couple of %.1f N·mm (%s) or a %s force of %.2f N would cancel that",
		math.Abs(m), of.ForceYWord(m), math.Abs(t.Remedy.CoupleNMM), of.CoupleXWord(t.Remedy.CoupleNMM),
		of.ForceYWord(t.Remedy.ForceN), math.Abs(t.Remedy.ForceN))
}

// Stage is a place on a predicted way.
type Stage struct {
	Name string
	DriftStep
}

// Stages are the start, the middle of the way and the end of a drift.
func (d Drift) Stages() []Stage {
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
	return []Stage{{"start", first}, {"middle", middle}, {"end", last}}
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

// TurnSense names the largest part of a turn of a tooth, such as "crown-mesial" or "buccal
// crown torque".
func TurnSense(of tooth.Member, rotation r3.Vec) string {
	tip, torque, turn := math.Abs(rotation.Y), math.Abs(rotation.X), math.Abs(rotation.Z)
	switch {
	case torque > max(tip, turn):
		return of.CoupleXWord(rotation.X)
	case turn > tip:
		return of.CoupleZWord(rotation.Z)
	}
	return of.CoupleYWord(rotation.Y)
}

// TurnText names the three parts of a turn of a tooth in degrees, such as "1.2° crown-mesial,
// 0.3° buccal crown torque, 0.0°".
func TurnText(of tooth.Member, rotation r3.Vec) (tip, torque, turn string) {
	text := func(rad float64, word func(float64) string) string {
		const degree = math.Pi / 180
		if math.Abs(rad) < 0.05*degree {
			return "0.0°"
		}
		return fmt.Sprintf("%.1f° %s", math.Abs(rad)/degree, word(rad))
	}
	return text(rotation.Y, of.CoupleYWord), text(rotation.X, of.CoupleXWord), text(rotation.Z, of.CoupleZWord)
}
