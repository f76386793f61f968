package casefile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/quantity"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// What still can be a reading of a spring that was bent from a drawing: beyond, a number was taken for
// another, or the wire is not worth measuring (choices).
const (
	farthestBendDeg   = 45
	farthestLengthMM  = 5
	farthestEndMM     = 20
	farthestTurnDeg   = 90
	largestGaugeN     = 20
	smallestReadingSD = 0.01
)

// What readings are off by, one standard deviation, where the file does not say: a protractor read to a
// degree, and a calliper at a wire that bends away at both ends (choices).
const (
	UsualAngleSDDeg  = 0.5
	UsualLengthSDMM  = 0.1
	usualReadGaugeN  = 0.05 // half a graduation of 5 or 10 gf (common practice)
	usualReadEndMM   = 0.1  // as design.SkilledBender
	usualReadEndDeg  = 0.5
	asPrinted        = "as printed"
	againstDrawing   = "drawing"
	againstSlot      = "slot"
	mostMeasuredRows = 3 * mostSteps
)

// endWords name where the free end lies, and the way that it is turned: anticlockwise is toward. The
// first three are shifts along z, x and y, the others turns about y, z and x.
var (
	endPlaces = [...]sense{
		{tooth.ForceZ, []string{"end_apical"}, []string{"end_occlusal"}},
		{tooth.ForceX, []string{"end_mesial"}, []string{"end_distal"}},
		{tooth.ForceY, []string{"end_buccal", "end_labial"}, []string{"end_lingual", "end_palatal"}},
	}
	endTurns = [...]sense{
		{tooth.CoupleY, []string{"end_anticlockwise"}, []string{"end_clockwise"}},
		{tooth.CoupleZ, []string{"end_anticlockwise_from_biting_side"}, []string{"end_clockwise_from_biting_side"}},
		{tooth.CoupleX, []string{"end_anticlockwise_along_arch"}, []string{"end_clockwise_along_arch"}},
	}
)

// GaugeWay is how the bench check pulls a spring's free end: a reading without a force. It is nil where
// the spring has no such check.
type GaugeWay = spring.GaugeReading

// GaugeWayOf is how the check of a sheet pulls the free end; nil where there is none.
func GaugeWayOf(g solve.GaugeCheck) *GaugeWay {
	if !g.Solved {
		return nil
	}
	return &GaugeWay{Axis: g.Axis, TravelMM: g.TravelMM}
}

// ReadMeasured reads what was measured of a spring after bending: a TOML file, or one of comma-separated
// values where its name ends in .csv. b is the hand that the case tells; way the bench check as the sheet
// states it. The error is a fault.List with everything that is wrong; that nothing was measured is a fault.
func ReadMeasured(name string, data []byte, s spring.Spring, b design.Bender, way *GaugeWay) (spring.Measured, error) {
	var r *reader
	var root *section
	if strings.HasSuffix(strings.ToLower(name), ".csv") {
		r, root = openRows(name, data)
	} else {
		r, root = open(name, data)
	}
	m := root.readings(s, b, way)
	if m.None() && len(r.faults) == 0 && root.node != nil {
		r.report(place{1, 1}, "", "holds no reading", "write at least one; \"springwright adjust SPRING.toml --form\" prints the blank form")
	}
	root.close()
	if err := r.faults.Err(); err != nil {
		return spring.Measured{}, err
	}
	return m, nil
}

// readings reads all that was measured of a spring.
func (root *section) readings(s spring.Spring, b design.Bender, way *GaugeWay) spring.Measured {
	var m spring.Measured
	sd := func(key string, unit quantity.Unit, high, usual float64) float64 {
		return root.optional(key, span{unit: unit, low: smallestReadingSD, high: high}, usual)
	}
	usual := func(own, fallback float64) float64 {
		if own > 0 {
			return own
		}
		return fallback
	}
	angleSD := sd("angle_sd_deg", quantity.Degree, 20, UsualAngleSDDeg)
	lengthSD := sd("length_sd_mm", quantity.Millimetre, 5, UsualLengthSDMM)
	endSD := [2]float64{
		sd("end_sd_mm", quantity.Millimetre, 5, usual(b.CheckSDMM, usualReadEndMM)),
		sd("end_sd_deg", quantity.Degree, 20, usual(quantity.Degree.Outside(b.CheckSDRad), usualReadEndDeg)),
	}
	gaugeSD := sd("gauge_sd_n", quantity.Newton, 5, usual(b.GaugeSDN, usualReadGaugeN))
	if root.has("correction_sd_deg") {
		m.CorrectionSDRad = root.needed("correction_sd_deg", span{unit: quantity.Degree, low: smallestReadingSD, high: 10}, "")
	}
	keys := StepKeys(s.Path)
	root.noOtherNumber(keys)
	for i, key := range keys {
		if value, ok := root.stepReading(key, s.Path.Steps()[i]); ok {
			step := spring.StepReading{Step: i, Value: value, SD: angleSD}
			if s.Path.Steps()[i].Kind == spring.Straight {
				step.SD = lengthSD
			}
			m.Steps = append(m.Steps, step)
		}
	}
	m.End = root.endReadings(s, endSD)
	m.After = root.afterReadings(s, endSD)
	if root.has("gauge_n") {
		force := root.needed("gauge_n", span{unit: quantity.Newton, high: largestGaugeN}, "")
		if way == nil {
			root.blame("gauge_n", "is given, but this spring has no gauge check", "leave it out: a gauge at its end shows nothing of it")
			way = &GaugeWay{}
		}
		reading := *way
		reading.ForceN, reading.SD = force, gaugeSD
		if root.has("pulled_mm") {
			pulled := root.needed("pulled_mm", span{unit: quantity.Millimetre, low: 0.3, high: 20}, "")
			reading.TravelMM = math.Copysign(pulled, reading.TravelMM)
		}
		m.Gauge = &reading
	} else if root.has("pulled_mm") {
		root.blame("pulled_mm", "is given without gauge_n", "write what the gauge read, or leave it out")
	}
	return m
}

// noOtherNumber keeps a hint from proposing another bend than the one that was measured.
func (s *section) noOtherNumber(keys []string) {
	if s.opposite == nil {
		s.opposite = map[string][]string{}
	}
	for i, key := range keys {
		s.opposite[key] = slices.Concat(keys[:i], keys[i+1:])
	}
}

// StepKeys are the keys of the steps of a path in a file of readings, in the order of the wire: straights are
// counted by themselves, bends and twists by their numbers on the sheet.
func StepKeys(path spring.Path) []string {
	numbers := path.BendNumbers()
	var keys []string
	straights := 0
	for i, s := range path.Steps() {
		switch s.Kind {
		case spring.Straight:
			straights++
			keys = append(keys, fmt.Sprintf("straight_%d_mm", straights))
		case spring.Twist:
			keys = append(keys, fmt.Sprintf("twist_%d_deg", numbers[i]))
		default:
			keys = append(keys, fmt.Sprintf("bend_%d_deg", numbers[i]))
		}
	}
	return keys
}

// stepReading reads the number of a step, signed as that is: an angle is written without a sign, below 0
// where the wire is bent the other way.
func (s *section) stepReading(key string, drawn spring.Step) (value float64, ok bool) {
	e := s.ask(key)
	if e == nil {
		return 0, false
	}
	if drawn.Kind == spring.Straight {
		value = s.quantity(e.value, key, span{unit: quantity.Millimetre, high: longestWireMM})
		if math.Abs(value-drawn.LengthMM) > farthestLengthMM {
			s.blame(key, fmt.Sprintf("%.2f mm is more than %d mm off from the drawn %.2f mm", value, farthestLengthMM, drawn.LengthMM),
				"measure the straight wire alone, from where one bend ends to where the next begins; is it the number of another straight?")
			return math.NaN(), false
		}
		return value, !math.IsNaN(value)
	}
	value = s.quantity(e.value, key, span{unit: quantity.Degree, low: -360, high: 360})
	drawnDeg, valueDeg := quantity.Degree.Outside(math.Abs(drawn.AngleRad)), quantity.Degree.Outside(value)
	if math.Abs(valueDeg-drawnDeg) > farthestBendDeg {
		hint := "is it the number of another bend?"
		switch {
		case math.Abs(-valueDeg-drawnDeg) <= farthestBendDeg:
			hint = "write the angle without a sign: below 0 says that the wire is bent the other way"
		case math.Abs(180-valueDeg-drawnDeg) <= farthestBendDeg:
			hint = "write by how much the wire turns, 180° less the angle left between its legs"
		}
		s.blame(key, fmt.Sprintf("%.1f° is more than %d° off from the drawn %.1f°", valueDeg, farthestBendDeg, drawnDeg), hint)
		return math.NaN(), false
	}
	return math.Copysign(1, drawn.AngleRad) * value, !math.IsNaN(value)
}

// endReadings reads where the free end lies; sd are those of a place and a turn.
func (s *section) endReadings(made spring.Spring, sd [2]float64) []spring.EndReading {
	var all []spring.EndReading
	against := againstDrawing
	if s.has("end_against") {
		against, _ = s.word("end_against", againstDrawing, againstSlot)
	}
	end := made.Rod().UnloadedEnd(beam.Origin())
	slot := made.Start.Pose(made.Heading)
	shift, turn := r3.Sub(end.At, slot.At), beam.RotationBetween(slot, end)
	drawn := [tooth.Components]float64{shift.X, shift.Y, shift.Z, turn.X, turn.Y, turn.Z}
	for _, n := range endPlaces {
		all = append(all, s.endReading(n, "_mm", span{unit: quantity.Millimetre, low: -farthestEndMM, high: farthestEndMM}, made, against, drawn, sd[0])...)
	}
	for _, n := range endTurns {
		all = append(all, s.endReading(n, "_deg", span{unit: quantity.Degree, low: -farthestTurnDeg, high: farthestTurnDeg}, made, against, drawn, sd[1])...)
	}
	if !s.has("end") {
		return all
	}
	if _, ok := s.word("end", asPrinted); ok {
		if len(all) > 0 {
			s.blame("end", "stands beside numbers of the same end", "keep one of them")
		}
		all = append(all, asMarked(sd)...)
	}
	return all
}

// asBefore says that a trial activation took nothing.
const asBefore = "as before"

// afterReadings reads where the free end lies after a trial activation, against where it lay before: the keys of
// the end, with after for end.
func (s *section) afterReadings(made spring.Spring, sd [2]float64) []spring.EndReading {
	var all []spring.EndReading
	var drawn [tooth.Components]float64
	read := func(n sense, unit string, allowed span, sd float64) {
		after := sense{component: n.component}
		for _, word := range n.toward {
			after.toward = append(after.toward, strings.Replace(word, "end_", "after_", 1))
		}
		for _, word := range n.against {
			after.against = append(after.against, strings.Replace(word, "end_", "after_", 1))
		}
		all = append(all, s.endReading(after, unit, allowed, made, againstDrawing, drawn, sd)...)
	}
	for _, n := range endPlaces {
		read(n, "_mm", span{unit: quantity.Millimetre, low: -farthestEndMM, high: farthestEndMM}, sd[0])
	}
	for _, n := range endTurns {
		read(n, "_deg", span{unit: quantity.Degree, low: -farthestTurnDeg, high: farthestTurnDeg}, sd[1])
	}
	if !s.has("after") {
		return all
	}
	if _, ok := s.word("after", asBefore); ok {
		if len(all) > 0 {
			s.blame("after", "stands beside numbers of the same end", "keep one of them")
		}
		return asMarked(sd)
	}
	return all
}

// asMarked are the readings of an end that lies where it is looked for; sd are those of a place and a turn.
func asMarked(sd [2]float64) []spring.EndReading {
	var all []spring.EndReading
	for k := range tooth.Components {
		one := spring.EndReading{Along: k, SD: sd[0]}
		if k.Couple() {
			one.SD = sd[1]
		}
		all = append(all, one)
	}
	return all
}

// endReading reads one direction, as an offset from where the end is drawn.
func (s *section) endReading(n sense, unit string, allowed span, made spring.Spring, against string, drawn [tooth.Components]float64, sd float64) []spring.EndReading {
	var given []string
	for _, k := range n.keys(unit) {
		if s.has(k) {
			given = append(given, k)
		}
	}
	if len(given) > 1 {
		s.blame(given[1], "stands beside "+given[0]+", and both are of one "+n.noun(unit), "keep the one that was measured")
	}
	key, way := s.sensed(n, unit, 0)
	if key == "" {
		return nil
	}
	k := n.component
	if made.Teeth == (tooth.Pair{}) && k != tooth.ForceZ && k != tooth.CoupleZ && k != tooth.CoupleX {
		s.blame(key, "cannot be told: the spring file names no teeth", "add [teeth] to the spring file, or give the case by --case")
		return nil
	}
	value := way * endSign(made.Teeth, k) * s.needed(key, allowed, "")
	if against == againstSlot {
		if k == tooth.CoupleZ || k == tooth.CoupleX {
			s.blame(key, "is measured against the slot", "measure this turn against the drawing")
			return nil
		}
		value -= drawn[k]
	}
	return []spring.EndReading{{Along: k, Off: value, SD: sd}}
}

// endSign is the sign on the global axes of what endPlaces and endTurns count toward. A turn is
// anticlockwise about an axis that points at the viewer: from the cheek that is the page's right × up, from
// the biting side −z, and for somebody who looks along +x, −x.
func endSign(teeth tooth.Pair, k tooth.Component) float64 {
	switch k {
	case tooth.ForceZ:
		return 1
	case tooth.CoupleZ, tooth.CoupleX:
		return -1
	case tooth.CoupleY:
		sign := -1.0
		if teeth.XPointsRight() {
			sign = -sign
		}
		if teeth.Active.Upper() {
			sign = -sign
		}
		return sign
	}
	return teeth.ClinicalSign(k)
}
