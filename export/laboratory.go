package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/spring"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// inspectionRowsMM are to write in by hand, the lower ones where they spare a page.
var inspectionRowsMM = [...]float64{5.6, 5.1, 4.6}

// laboratory lays out the slip for the laboratory: the order, what to inspect, the words
// for the record of a custom-made device, and a bank card as a second gauge.
func (f *flow) laboratory() {
	first := len(f.doc.Pages)
	lay := func(rowMM float64) {
		f.doc.Pages, f.heads, f.bands = f.doc.Pages[:first], f.heads[:first], f.bands[:first]
		f.newPage("Laboratory")
		f.order()
		f.trial(sheet.Style{SizePt: sheet.SmallPt})
		f.inspection(rowMM)
		f.customMade()
	}
	for _, rowMM := range inspectionRowsMM {
		if lay(rowMM); len(f.doc.Pages) == first+1 {
			return
		}
	}
	lay(inspectionRowsMM[0])
}

func (f *flow) order() {
	f.heading(f.say("Laboratory slip"), f.say("Fill in by hand. Case codes only, never a patient's name."))
	const apart, labelMM = 6.0, 27.0
	c, spring := f.job.Case, f.job.Spring
	width := (f.area.Width() - apart) / 2
	at := f.take(0)
	left := []field{
		{label: f.say("Case code"), value: c.Code, verbatim: true},
		{label: f.say("Prescriber")},
		{label: f.say("Laboratory")},
		{label: f.say("Date ordered")},
		{label: f.say("Date needed")},
		{label: f.say("Quantity")},
		{label: f.say("Remarks")},
	}
	active := f.slotText(c.ActiveSlot) + ", " + f.enterText(spring.Heading)
	if f.bends.Hooked {
		active = f.say("none, the wire is hooked on")
	}
	side := "active %d, anchor %d, patient's left"
	if c.Teeth.Active.PatientRight() {
		side = "active %d, anchor %d, patient's right"
	}
	right := []field{
		{label: f.say("Teeth and side"), value: f.say(side, int(c.Teeth.Active), int(c.Teeth.Anchor))},
		{label: f.say("Wire"), value: alloyText(f.words, spring.Wire)},
		{label: f.say("Size"), value: sizeText(spring.Wire)},
		{label: f.say("Wire batch no.")},
		{label: f.say("Slot of %d", int(c.Teeth.Anchor)), value: f.slotText(c.AnchorSlot)},
		{label: f.say("Slot of %d", int(c.Teeth.Active)), value: active},
	}
	f.fields(at, width, labelMM, left)
	at.X += width + apart
	f.fields(at, width, labelMM-5, right)
	twin := c.Teeth.Mirrored()
	f.choices(at, labelMM-5, len(right), f.say("Mirrored twin"), []choice{
		{f.say("no"), !f.job.Twin},
		{f.say("yes, for %d from %d", int(twin.Active), int(twin.Anchor)), f.job.Twin},
	})
	f.take(float64(len(left))*fieldRowMM + gapMM - 1)
}

func (f *flow) slotText(s spring.Slot) string {
	if s.HeightMM <= 0 {
		return f.say("length %s mm", millimetres(s.LengthMM))
	}
	return f.say("height %s, length %s mm", sheet.Number(s.HeightMM, 3), millimetres(s.LengthMM))
}

func (f *flow) enterText(h spring.Heading) string {
	if h == spring.Back {
		return f.say("from behind")
	}
	return f.say("from anchor")
}

// inspected is one thing to measure on a finished spring.
type inspected struct {
	what, nominal, tolerance string
}

// inspection lays out what to measure, in two tables side by side.
func (f *flow) inspection(inspectionRowMM float64) {
	const apart = 6.0
	small := sheet.Style{SizePt: sheet.SmallPt}
	all := f.inspections()
	t := sheet.Table{RowMM: inspectionRowMM, Columns: f.headed([]sheet.Column{
		{Head: "inspect"},
		{Head: "nominal", WidthMM: 13, Align: sheet.Right},
		{Head: "tolerance", WidthMM: 13, Align: sheet.Right},
		{WidthMM: 2},
		{Head: "measured", WidthMM: 13, Ruled: true},
		{Head: "initials", WidthMM: 11, Ruled: true},
	})}
	width := (f.area.Width() - apart) / 2
	used := 0.0
	for _, c := range t.Columns {
		used += c.WidthMM
	}
	t.Columns[0].WidthMM = width - used
	ways := f.inspectedWaysText()
	for len(all) > 0 {
		f.need(6.5 + t.HeadMM() + 3*inspectionRowMM)
		f.heading(f.say("Inspection"), f.say("Tolerances: what a skilled hand keeps to (common practice). E: the end mark, against the active slot, only the anchor end seated."))
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
func (f *flow) inspectedWaysText() string {
	if f.planar() {
		return ""
	}
	return f.say("Left and right: seen from the cheek, following the wire from the anchor slot. To a side: where the bend turns the wire. Clockwise: looking along the wire from the anchor slot.")
}

// inspections lists what to measure, in the order in which a spring is made.
func (f *flow) inspections() []inspected {
	bender := f.job.Case.Bender
	if bender.AngleSDRad == 0 || bender.LengthSDMM == 0 || bender.CheckSDMM == 0 || bender.CheckSDRad == 0 {
		bender = design.SkilledBender()
	}
	// Two standard deviations: 19 of 20 are within.
	lengths, angles := "±"+sheet.Number(2*bender.LengthSDMM, 1)+" mm", "±"+degrees(2*bender.AngleSDRad)
	var all []inspected
	add := func(what, nominal, tolerance string) { all = append(all, inspected{what, nominal, tolerance}) }

	add(f.say("cut length"), sheet.Number(f.bends.CutMM(), 1)+" mm", "±1 mm") // held at both ends: the rest is cut off
	for _, r := range f.bends.Rows {
		if r.FeedMM > 0 {
			add(f.say("straight to bend %d", r.Step), millimetres(r.FeedMM)+" mm", lengths)
		}
		switch {
		case r.Twist && r.TwistRad < 0:
			add(f.say("twist %d, anticlockwise", r.Step), degrees(-r.TwistRad), angles)
		case r.Twist:
			add(f.say("twist %d, clockwise", r.Step), degrees(r.TwistRad), angles)
		case !r.InView:
			add(f.say("bend %d, to %s", r.Step, f.say(r.Towards)), degrees(r.BendRad), angles)
		case r.SeenRad < 0:
			add(f.say("bend %d, right", r.Step), degrees(r.BendRad), angles)
		default:
			add(f.say("bend %d, left", r.Step), degrees(r.BendRad), angles)
		}
	}
	if f.bends.EndFeedMM > 0 {
		add(f.say("straight at the end"), millimetres(f.bends.EndFeedMM)+" mm", lengths)
	}
	free := f.freeEnd()
	places, turns := "±"+sheet.Number(2*bender.CheckSDMM, 1)+" mm", "±"+degrees(2*bender.CheckSDRad)
	add(f.say("E, %s", free.upWord), sheet.Number(free.upMM, 1)+" mm", places)
	add(f.say("E, %s", free.alongWord), sheet.Number(free.alongMM, 1)+" mm", places)
	if !f.planar() {
		add(f.say("E, %s", free.acrossWord), sheet.Number(free.acrossMM, 1)+" mm", places)
	}
	if !f.bends.Hooked { // a hook turns as it likes
		add(f.say("E, turned"), degrees(free.turnRad), turns)
	}
	if f.planar() {
		// As much as the eye sees between wire and paper (common practice).
		add(f.say("flat on paper, gap"), "0 mm", "≤ "+sheet.Number(f.job.Spring.Wire.HeightMM(), 1)+" mm")
	}
	if g := f.job.Evaluation.Gauge; g.Solved {
		add(f.say("gauge, %s mm "+strings.TrimSuffix(f.gaugeWay(g), "ly"), sheet.Number(math.Abs(g.TravelMM), 1)), fmt.Sprintf("%s N", sheet.Number(g.ForceN, 2)), fmt.Sprintf("±%.0f %%", 100*spreadOfWires))
	}
	return all
}

// customMade lays out the words for the record of a custom-made device beside the outline
// of a bank card.
func (f *flow) customMade() {
	const apart, lines = 6.0, 4
	cardWidth, cardHeight := f.cardSizeMM()
	width := f.area.Width() - cardWidth - apart
	body := sheet.Style{SizePt: sheet.BodyPt}
	texts := []string{
		f.say("This spring is custom-made, to the written prescription of the prescriber named above, for the sole use of the one patient known by the case code %s. It is not to be used on anybody else.", f.job.Case.Code),
		f.say("It is made as this sheet says and meets the prescription and the requirements that local rules put on such a device, except (say what and why, or “none”):"),
		f.say("Common practice; local rules decide what a record must hold, who signs it and how long it is kept."),
	}
	missed := shortfallTexts(f.words, f.job.Case.Teeth, f.job.Spring)
	if len(missed) > 0 { // nobody is to sign that it conforms
		texts[0] = f.say("This spring is for the sole use of the one patient known by the case code %s. It is not to be used on anybody else.", f.job.Case.Code)
		const mostLines = 12
		denial := func(missed string) string {
			return f.say("It does not meet the prescription: %s. Nobody can declare that it does. The prescriber decides in writing whether it is used:", missed)
		}
		texts[1] = denial(f.someOf(missed, func(some string) bool { return len(f.doc.Wrap(denial(some), width, body)) <= mostLines }))
	}
	height := 0.0
	for _, text := range texts {
		height += float64(len(f.doc.Wrap(text, width, body)))*body.LineMM() + 1
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
			y -= f.fields(plane.Point{X: at.X, Y: y + 1.5}, width, 0, []field{{}})
			y -= f.fields(plane.Point{X: at.X, Y: y + 1.5}, width, 25, []field{
				{label: f.say("Maker and address")}, {label: f.say("Name and date")}, {label: f.say("Signature")},
			})
		}
	}
	f.secondGauge(plane.Point{X: f.area.Max.X - cardWidth, Y: at.Y})
}

// secondGauge draws a bank card's outline with what to do with it.
func (f *flow) secondGauge(at plane.Point) {
	inside := f.bankCard(at)
	body, bold := sheet.Style{SizePt: sheet.BodyPt}, sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	y := inside.Max.Y
	y -= f.page.Paragraph(plane.Point{X: inside.Min.X, Y: y}, inside.Width(), f.say("Second gauge: lay a bank card on it."), bold) + 1
	y -= f.page.Paragraph(plane.Point{X: inside.Min.X, Y: y}, inside.Width(),
		f.say("Its edges must meet the middle of the line all round: 85.60 × 53.98 mm (ISO/IEC 7810, ID-1)."), body) + 1
	y -= f.fields(plane.Point{X: inside.Min.X, Y: y}, inside.Width(), 42, []field{
		{label: f.say("The level 100 mm bar measures, mm")}, {label: f.say("The upright 100 mm bar measures, mm")},
	}) + 1
	f.page.Paragraph(plane.Point{X: inside.Min.X, Y: y}, inside.Width(),
		f.say("Not 100? Make the sheet again with these two, --scale-x LEVEL --scale-y UPRIGHT, from a sheet that is not corrected yet."), sheet.Style{SizePt: sheet.SmallPt})
}
