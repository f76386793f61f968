package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/spring"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// inspectionRowsMM are to write in by hand, the lower ones where they spare a page.
var inspectionRowsMM = [...]float64{5.6, 5.1, 4.6}

// laboratoryPage is the slip for the laboratory: the order, what to inspect, the words for the
// record of a custom-made device, and a bank card as a second gauge.
type laboratoryPage struct{ *subject }

func (p laboratoryPage) draw(f *flow) error {
	var ways []func()
	for _, rowMM := range append(inspectionRowsMM[:], inspectionRowsMM[0]) {
		ways = append(ways, func() { p.blocks(f, rowMM) })
	}
	f.onOnePage(ways...)
	return nil
}

func (p laboratoryPage) blocks(f *flow, inspectionRowMM float64) {
	f.newPage("Laboratory")
	p.order(f)
	trialNote(p).draw(f, sheet.Style{SizePt: sheet.SmallPt})
	p.inspection(f, inspectionRowMM)
	p.customMade(f)
}

func (p laboratoryPage) order(f *flow) {
	f.heading(f.say("Laboratory slip"), f.say("Fill in by hand. Case codes only, never a patient's name."))
	const apart, labelMM = 6.0, 27.0
	c, spring := p.job.Case, p.job.Spring
	width := (f.area.Width() - apart) / 2
	at := f.take(0)
	left := []field{
		{label: f.say("Case code"), value: c.Code},
		{label: f.say("Prescriber")},
		{label: f.say("Laboratory")},
		{label: f.say("Date ordered")},
		{label: f.say("Date needed")},
		{label: f.say("Quantity")},
		{label: f.say("Remarks")},
	}
	active := p.slotText(c.ActiveSlot) + ", " + p.enterText(spring.Heading)
	if p.bends.Hooked {
		active = f.say("none, the wire is hooked on")
	}
	side := words.Phrase("active %d, anchor %d, patient's left")
	if c.Teeth.Active.PatientRight() {
		side = "active %d, anchor %d, patient's right"
	}
	right := []field{
		{label: f.say("Teeth and side"), value: f.say(side, int(c.Teeth.Active), int(c.Teeth.Anchor))},
		{label: f.say("Wire"), value: f.words.Alloy(spring.Wire)},
		{label: f.say("Size"), value: sizeText(p.words, spring.Wire)},
		{label: f.say("Wire batch no.")},
		{label: f.say("Slot of %d", int(c.Teeth.Anchor)), value: p.slotText(c.AnchorSlot)},
		{label: f.say("Slot of %d", int(c.Teeth.Active)), value: active},
	}
	drawFields(f, at, width, labelMM, left)
	at.X += width + apart
	drawFields(f, at, width, labelMM-5, right)
	twin := c.Teeth.Mirrored()
	drawChoices(f, at, labelMM-5, len(right), f.say("Mirrored twin"), []choice{
		{f.say("no"), !p.job.Twin},
		{f.say("yes, for %d from %d", int(twin.Active), int(twin.Anchor)), p.job.Twin},
	})
	f.take(float64(len(left))*fieldRowMM + gapMM - 1)
}

func (p laboratoryPage) slotText(s spring.Slot) string {
	if s.HeightMM <= 0 {
		return p.say("length %s mm", p.words.Millimetres(s.LengthMM))
	}
	return p.say("height %s, length %s mm", p.words.Number(s.HeightMM, 3), p.words.Millimetres(s.LengthMM))
}

func (p laboratoryPage) enterText(h spring.Heading) string {
	if h == spring.Back {
		return p.say("from behind")
	}
	return p.say("from anchor")
}

// inspected is one thing to measure on a finished spring.
type inspected struct {
	what, nominal, tolerance string
}

// inspection lays out what to measure, in two tables side by side.
func (p laboratoryPage) inspection(f *flow, inspectionRowMM float64) {
	const apart = 6.0
	small := sheet.Style{SizePt: sheet.SmallPt}
	all := p.inspections()
	t := sheet.Table{RowMM: inspectionRowMM, Columns: []sheet.Column{
		{Head: f.say("inspect")},
		{Head: f.say("nominal"), WidthMM: 13, Align: sheet.Right},
		{Head: f.say("tolerance"), WidthMM: 16, Align: sheet.Right},
		{WidthMM: 2},
		{Head: f.say("measured"), WidthMM: 12, Ruled: true},
		{Head: f.say("initials"), WidthMM: 10, Ruled: true},
	}}
	width := (f.area.Width() - apart) / 2
	t.Fill(0, width)
	ways := p.inspectedWaysText()
	for len(all) > 0 {
		f.need(6.5 + t.HeadMM() + 3*inspectionRowMM)
		f.heading(f.say("Inspection"), p.toleranceText())
		f.block(ways, small)
		ways = ""
		rows := min((len(all)+1)/2, t.RowsIn(f.leftMM()))
		at := f.take(t.HeadMM() + float64(rows)*inspectionRowMM + gapMM)
		for range 2 {
			t.Rows = nil
			for _, i := range all[:min(rows, len(all))] {
				t.Rows = append(t.Rows, []string{i.what, i.nominal, i.tolerance})
			}
			all = all[len(t.Rows):]
			if len(t.Rows) > 0 {
				t.Draw(f.page, at)
			}
			at.X += width + apart
		}
	}
}

// inspectedWaysText explains which way bends and twists go; empty for a flat spring.
func (p laboratoryPage) inspectedWaysText() string {
	if p.planar() {
		return ""
	}
	return p.say("Left and right: seen from the cheek, following the wire from the anchor slot. To a side: where the bend turns the wire. Clockwise: looking along the wire from the anchor slot.")
}

// tolerances are those at which the spring still meets its target, by the steps of its path; nil where
// no springs were bent in trial.
func (p laboratoryPage) tolerances() []spring.Tolerance {
	spread := p.job.Evaluation.Record.Spread
	if spread == nil || len(spread.Tolerances) != len(p.job.Spring.Path.Steps()) {
		return nil
	}
	return spread.Tolerances
}

func (p laboratoryPage) toleranceText() string {
	if p.tolerances() == nil {
		return p.say("Tolerances: what a skilled hand keeps to (common practice). E: the end mark, against the active slot, only the anchor end seated.")
	}
	return p.say("Tolerances: of each alone, all else as drawn; several add up. E: the end mark, against the active slot, only the anchor end seated.")
}

// limits writes a tolerance, each side rounded down to a multiple of step.
func (p laboratoryPage) limits(less, more, step float64, decimals int, unit string) string {
	down := func(x float64) float64 { return step * math.Floor(x/step+1e-9) }
	less, more = down(less), down(more)
	if less == more {
		return "±" + p.words.Number(less, decimals) + unit
	}
	return "−" + p.words.Number(less, decimals) + " +" + p.words.Number(more, decimals) + strings.TrimPrefix(unit, " mm") // as of the nominal length
}

// inspections lists what to measure, in the order in which a spring is made.
//
// In one piece: a table.
func (p laboratoryPage) inspections() []inspected {
	bender := p.job.Case.Bender
	if bender.AngleSDRad == 0 || bender.LengthSDMM == 0 || bender.CheckSDMM == 0 || bender.CheckSDRad == 0 {
		bender = design.SkilledBender()
	}
	// Two standard deviations: 19 of 20 are within.
	lengths, angles := "±"+p.words.Number(2*bender.LengthSDMM, 1)+" mm", "±"+p.words.Degrees(2*bender.AngleSDRad)
	var all []inspected
	add := func(what, nominal, tolerance string) { all = append(all, inspected{what, nominal, tolerance}) }
	// Of steps of the path, by their places in it.
	known := p.tolerances()
	lengthOf := func(step int) string {
		if step >= len(known) {
			return lengths
		}
		return p.limits(known[step].Less, known[step].More, 0.1, 1, " mm")
	}
	angleOf := func(step int) string {
		if step >= len(known) {
			return angles
		}
		return p.limits(known[step].Less/degree, known[step].More/degree, 0.5, 1, "°")
	}

	add(p.say("cut length"), p.words.Number(p.bends.CutMM(), 1)+" mm", "±1 mm") // held at both ends: the rest is cut off
	for _, r := range p.bends.Rows {
		if r.FeedMM > 0 {
			add(p.say("straight to bend %d", r.Step), p.words.Millimetres(r.FeedMM)+" mm", lengthOf(r.PathStep-1))
		}
		switch {
		case r.Twist && r.TwistRad < 0:
			add(p.say("twist %d, anticlockwise", r.Step), p.words.Degrees(-r.TwistRad), angleOf(r.PathStep))
		case r.Twist:
			add(p.say("twist %d, clockwise", r.Step), p.words.Degrees(r.TwistRad), angleOf(r.PathStep))
		case !r.InView:
			add(p.say("bend %d, to %s", r.Step, p.words.Side(r.Towards)), p.words.Degrees(r.BendRad), angleOf(r.PathStep))
		case r.SeenRad < 0:
			add(p.say("bend %d, right", r.Step), p.words.Degrees(r.BendRad), angleOf(r.PathStep))
		default:
			add(p.say("bend %d, left", r.Step), p.words.Degrees(r.BendRad), angleOf(r.PathStep))
		}
	}
	if p.bends.EndFeedMM > 0 {
		add(p.say("straight at the end"), p.words.Millimetres(p.bends.EndFeedMM)+" mm", lengthOf(len(p.job.Spring.Path.Steps())-1))
	}
	free := p.freeEnd()
	places, turns := "±"+p.words.Number(2*bender.CheckSDMM, 1)+" mm", "±"+p.words.Degrees(2*bender.CheckSDRad)
	add(p.say("E, %s", free.upWord), p.words.Number(free.upMM, 1)+" mm", places)
	add(p.say("E, %s", free.alongWord), p.words.Number(free.alongMM, 1)+" mm", places)
	if !p.planar() {
		add(p.say("E, %s", free.acrossWord), p.words.Number(free.acrossMM, 1)+" mm", places)
	}
	if !p.bends.Hooked { // a hook turns as it likes
		add(p.say("E, turned"), p.words.Degrees(free.turnRad), turns)
	}
	if p.planar() {
		// As much as the eye sees between wire and paper (common practice).
		add(p.say("flat on paper, gap"), "0 mm", "≤ "+p.words.Number(p.job.Spring.Wire.HeightMM(), 1)+" mm")
	}
	if g := p.job.Evaluation.Gauge; g.Solved {
		add(p.say("gauge, %s mm %s", p.words.Number(math.Abs(g.TravelMM), 1), p.words.Way(p.view.Teeth.ActiveMember(), g.Axis, g.TravelMM)), fmt.Sprintf("%s N", p.words.Number(g.ForceN, 2)), fmt.Sprintf("±%.0f %%", 100*spreadOfWires))
	}
	return all
}

// customMade lays out the words for the record of a custom-made device beside the outline
// of a bank card.
func (p laboratoryPage) customMade(f *flow) {
	const apart, lines = 6.0, 4
	cardWidth, cardHeight := cardSizeMM(f.scale)
	width := f.area.Width() - cardWidth - apart
	body := sheet.Style{SizePt: sheet.BodyPt}
	texts := []string{
		f.say("This spring is custom-made, to the written prescription of the prescriber named above, for the sole use of the one patient known by the case code %s. It is not to be used on anybody else.", p.job.Case.Code),
		f.say("It is made as this sheet says and meets the prescription and the requirements that local rules put on such a device, except (say what and why, or “none”):"),
		f.say("Common practice; local rules decide what a record must hold, who signs it and how long it is kept."),
	}
	missed := f.words.Shortfall(p.job.Case.Teeth, p.job.Spring)
	if len(missed) > 0 { // nobody is to sign that it conforms
		texts[0] = f.say("This spring is for the sole use of the one patient known by the case code %s. It is not to be used on anybody else.", p.job.Case.Code)
		const mostLines = 12
		denial := func(missed string) string {
			return f.say("It does not meet the prescription: %s. Nobody can declare that it does. The prescriber decides in writing whether it is used:", missed)
		}
		texts[1] = denial(someOf(f.speech, missed, func(some string) bool { return len(f.doc.Wrap(denial(some), width, body)) <= mostLines }))
	}
	height := 0.0
	for _, text := range texts {
		height += f.doc.HeightOf(text, width, body) + 1
	}
	height += lines * fieldRowMM
	f.need(6.5 + math.Max(height, cardHeight))
	f.heading(f.say("Custom-made device"), "")
	at := f.take(math.Max(height, cardHeight))

	y := at.Y
	for i, text := range texts {
		y -= f.page.Paragraph(plane.Point{X: at.X, Y: y}, width, text, body) + 1
		switch i {
		case 1:
			y -= drawFields(f, plane.Point{X: at.X, Y: y + 1.5}, width, 0, []field{{}})
			y -= drawFields(f, plane.Point{X: at.X, Y: y + 1.5}, width, 25, []field{
				{label: f.say("Maker and address")}, {label: f.say("Name and date")}, {label: f.say("Signature")},
			})
		}
	}
	drawSecondGauge(f, plane.Point{X: f.area.Max.X - cardWidth, Y: at.Y})
}

// drawSecondGauge draws a bank card's outline with what to do with it.
func drawSecondGauge(f *flow, at plane.Point) {
	inside := drawCard(f.page, f.scale, at)
	body, bold := sheet.Style{SizePt: sheet.BodyPt}, sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	y := inside.Max.Y
	y -= f.page.Paragraph(plane.Point{X: inside.Min.X, Y: y}, inside.Width(), f.say("Second gauge: lay a bank card on it."), bold) + 1
	y -= f.page.Paragraph(plane.Point{X: inside.Min.X, Y: y}, inside.Width(),
		f.say("Its edges must meet the middle of the line all round: 85.60 × 53.98 mm (ISO/IEC 7810, ID-1)."), body) + 1
	y -= drawFields(f, plane.Point{X: inside.Min.X, Y: y}, inside.Width(), 42, []field{
		{label: f.say("The level 100 mm bar measures, mm")}, {label: f.say("The upright 100 mm bar measures, mm")},
	}) + 1
	f.page.Paragraph(plane.Point{X: inside.Min.X, Y: y}, inside.Width(),
		f.say("Not 100? Make the sheet again with these two, --scale-x LEVEL --scale-y UPRIGHT, from a sheet that is not corrected yet."), sheet.Style{SizePt: sheet.SmallPt})
}
