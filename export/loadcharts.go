package export

import (
	"fmt"
	"math"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// spread is where nine of ten bent springs lie, nil where none were tried.
func (s *subject) spread() []spring.PositionSpread {
	if s := s.job.Evaluation.Record.Spread; s != nil && len(s.Positions) > 1 {
		return s.Positions
	}
	return nil
}

// loadCharts are the charts of a page of loads, and what their marks mean.
type loadCharts struct {
	*subject
	travel travel
	judged []target.Judged // at each position
	list   []sheet.Chart
	// What the charts show, to be explained below them.
	target, anchorTarget, startTarget, moment bool
}

// loadChartsOf are the charts of force and couple in the plane seen from the cheek, and of what
// else the target asks to be other than nothing.
func loadChartsOf(s *subject) *loadCharts {
	c := &loadCharts{subject: s, travel: travelOf(s.job.Spring), judged: s.job.Case.JudgedRecord(s.job.Evaluation.Record)}
	c.component(tooth.ForceZ, false)
	c.component(tooth.CoupleY, false)
	target := s.job.Case.Target
	for k := range tooth.Components {
		usual := k == tooth.ForceZ || k == tooth.CoupleY
		switch elsewhere := target.AtResistance && k.Couple(); {
		case usual && elsewhere && c.asked(k), !usual && c.askedFor(k):
			c.component(k, elsewhere)
		}
	}
	c.momentToForce()
	return c
}

// draw lays out all charts, each of a height, and what their marks mean.
func (c *loadCharts) draw(f *flow, chartMM float64) {
	columns := len(c.list)
	if columns > 3 {
		columns = 2 + len(c.list)%2
	}
	const apart = 4
	width := (f.area.Width() - apart*float64(columns-1)) / float64(columns)
	for i, chart := range c.list {
		if i%columns == 0 {
			f.need(chartMM)
			f.take(chartMM + 1.5)
		}
		if columns > 2 {
			chart.LabelMM = 6
		} else {
			for k := range chart.Series {
				if s := &chart.Series[k]; s.Label != "" {
					s.Label = f.say([...]words.Phrase{"active %d", "anchor %d"}[min(k, 1)], c.number(k))
				}
			}
		}
		x, y := f.area.Min.X+float64(i%columns)*(width+apart), f.yMM+1.5
		chart.Draw(f.page, plane.Box{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + width, Y: y + chartMM}})
	}
	if text := c.key(); text != "" {
		f.paragraph(text, sheet.Style{SizePt: sheet.SmallPt}, 1.2)
	}
}

// number is that of the tooth that a curve belongs to: the active tooth's is the first.
func (c *loadCharts) number(curve int) int {
	teeth := c.job.Case.Teeth
	return int([...]tooth.Number{teeth.Active, teeth.Anchor}[min(curve, 1)])
}

// key explains the marks of the charts.
func (c *loadCharts) key() string {
	text := ""
	say := func(when bool, phrase string) {
		if when && text != "" {
			text += " "
		}
		if when {
			text += phrase
		}
	}
	active, anchor := c.number(0), c.number(1)
	say(c.target && !c.anchorTarget, c.say("Hatched: the target."))
	say(c.anchorTarget, c.say("Hatched: the target for tooth %d; with dashed edges: for tooth %d.", active, anchor))
	say(c.startTarget, c.say("Bracket: the target at the start."))
	say(c.moment, c.say("Moment: about the centre of resistance."))
	say(c.spread() != nil, c.say("Thin lines: nine of ten springs bent by hand lie between."))
	return text
}

// windows are what the target asks of a quantity at the start and over the travel.
func (c *loadCharts) windows(q target.Quantity) (start, over target.Window) {
	left := c.job.Evaluation.Record.Positions[0].TravelLeftMM
	return c.job.Case.Target.WindowAt(q, left, true), c.job.Case.Target.WindowAt(q, left, false)
}

// asked tells whether the target has a window for a component of either tooth.
func (c *loadCharts) asked(k tooth.Component) bool {
	return c.anyWindow(k, target.Window.Asked)
}

// askedFor tells whether the target wants a component of either tooth to be other than zero.
func (c *loadCharts) askedFor(k tooth.Component) bool {
	return c.anyWindow(k, func(w target.Window) bool { return w.Asked() && w.Misses(0) > 0 })
}

func (c *loadCharts) anyWindow(k tooth.Component, is func(target.Window) bool) bool {
	for _, q := range [...]target.Quantity{target.OfActive(k), target.OfAnchor(k)} {
		if start, over := c.windows(q); is(start) || is(over) {
			return true
		}
	}
	return false
}

// component adds the chart of a component of the loads on both teeth, about the centres of
// resistance instead of the slots' where atResistance.
func (c *loadCharts) component(k tooth.Component, atResistance bool) {
	// Upwards is the sense that is asked for on the active tooth.
	sign := c.job.Case.SignOf(target.OfActive(k), 0)
	chart := sheet.Chart{
		Title: c.componentTitle(k, sign, atResistance), XTitle: c.travelTitle(), YTitle: "N", XReversed: true,
		Series: []sheet.Series{{Label: fmt.Sprint(c.number(0))}, {Label: fmt.Sprint(c.number(1)), Dashed: true}},
	}
	if k.Couple() {
		chart.YTitle = "N·mm"
	}
	for i, p := range c.job.Evaluation.Record.Positions {
		loads := [2]tooth.Load{p.Active, p.Anchor}
		if atResistance {
			loads = [2]tooth.Load{c.judged[i].Active, c.judged[i].Anchor}
		}
		for t, l := range loads {
			chart.Series[t].Points = append(chart.Series[t].Points, plane.Point{X: c.travel.left(p), Y: sign * l.Component(k)})
		}
	}
	switch {
	case k == tooth.ForceZ:
		chart.Series = append(chart.Series, c.limits(sign, func(p spring.PositionSpread) spring.Band { return p.ActiveForceZN })...)
		chart.Series = append(chart.Series, c.limits(sign, func(p spring.PositionSpread) spring.Band { return p.AnchorForceZN })...)
	case k == tooth.CoupleY && !atResistance:
		chart.Series = append(chart.Series, c.limits(sign, func(p spring.PositionSpread) spring.Band { return p.ActiveCoupleYNMM })...)
		chart.Series = append(chart.Series, c.limits(sign, func(p spring.PositionSpread) spring.Band { return p.AnchorCoupleYNMM })...)
	}
	if atResistance == (c.job.Case.Target.AtResistance && k.Couple()) { // else the target is about another point
		c.bands(&chart, target.OfActive(k), sign)
		c.bands(&chart, target.OfAnchor(k), sign)
	}
	c.moment = c.moment || atResistance
	c.list = append(c.list, chart)
}

// limits are the two curves between which nine of ten bent springs lie.
func (c *loadCharts) limits(sign float64, band func(spring.PositionSpread) spring.Band) []sheet.Series {
	spread, positions := c.spread(), c.job.Evaluation.Record.Positions
	if len(spread) != len(positions) {
		return nil
	}
	low, high := sheet.Series{Thin: true}, sheet.Series{Thin: true}
	for i, p := range spread {
		b, left := band(p), c.travel.left(positions[i])
		low.Points = append(low.Points, plane.Point{X: left, Y: sign * b.Low})
		high.Points = append(high.Points, plane.Point{X: left, Y: sign * b.High})
	}
	return []sheet.Series{low, high}
}

// bands marks the windows of a quantity.
func (c *loadCharts) bands(chart *sheet.Chart, q target.Quantity, sign float64) {
	_, anchor, _ := q.Component()
	start, over := c.windows(q)
	turned := func(w target.Window) (least, most float64) {
		if sign < 0 {
			return -w.Max, -w.Min
		}
		return w.Min, w.Max
	}
	if over.Asked() {
		b := sheet.Band{Other: anchor}
		b.Min, b.Max = turned(over)
		if !q.Couple() && !c.travel.Turns {
			b.FromX = c.job.Case.Target.ForceUntilMM
		}
		chart.Bands = append(chart.Bands, b)
		c.target, c.anchorTarget = c.target || !anchor, c.anchorTarget || anchor
	}
	if start.Asked() {
		b := sheet.Band{Bracket: true}
		b.Min, b.Max = turned(start)
		chart.Bands = append(chart.Bands, b)
		c.startTarget = true
	}
}

// momentToForce adds the chart of the moment-to-force ratio where the target asks for one,
// over the part of the travel for which it does.
func (c *loadCharts) momentToForce() {
	if _, over := c.windows(target.MomentToForce); over.Free() {
		return
	}
	const hairMM = 1e-9
	wanted, positions := c.job.Case.Target, c.job.Evaluation.Record.Positions
	curve := sheet.Series{Label: fmt.Sprint(c.number(0))}
	for i, p := range positions {
		if v := wanted.Value(target.MomentToForce, c.judged[i]); p.TravelLeftMM >= wanted.ForceUntilMM-hairMM && !math.IsNaN(v) {
			curve.Points = append(curve.Points, plane.Point{X: c.travel.left(p), Y: v})
		}
	}
	chart := sheet.Chart{
		Title: c.say("Moment-to-force ratio"), XTitle: c.travelTitle(), YTitle: "mm", XReversed: true,
		Series: []sheet.Series{curve}, ToX: []float64{c.travel.left(positions[0]), c.travel.left(positions[len(positions)-1])},
	}
	c.bands(&chart, target.MomentToForce, 1)
	c.list = append(c.list, chart)
}

func (c *loadCharts) travelTitle() string {
	if c.travel.Turns {
		return c.say("travel left, degrees")
	}
	return c.say("travel left, mm")
}

// componentTitle names a component and the sense that points upwards; a couple about the centre of
// resistance is a moment.
func (c *loadCharts) componentTitle(k tooth.Component, sign float64, atResistance bool) string {
	outward := c.job.Case.Teeth.OutwardWord()
	if member := c.job.Case.Teeth.ActiveMember(); sign != member.ClinicalSign(k) {
		sense := c.words.Sense(member, k, sign)
		switch {
		case atResistance && k == tooth.CoupleX:
			return c.say("Moment, %s +", c.words.Torque(member, sign))
		case atResistance:
			return c.say("Moment, %s +", sense)
		case k == tooth.CoupleX:
			return c.say("Torque, %s crown +", c.words.Sense(member, tooth.ForceY, sign))
		case k.Couple():
			return c.say("Couple, %s +", sense)
		}
		return c.say("Force, %s +", sense)
	}
	if atResistance {
		return c.say([...]words.Phrase{byOutward(outward, "Moment, buccal crown torque +", "Moment, labial crown torque +", "Moment, outward crown torque +"), "Moment, crown-mesial +", "Moment, mesial-in +"}[k-tooth.CoupleX])
	}
	return c.say([...]words.Phrase{
		"Force, mesial +", byOutward(outward, "Force, buccal +", "Force, labial +", "Force, outward +"), "Force, intrusive +",
		byOutward(outward, "Torque, buccal crown +", "Torque, labial crown +", "Torque, outward crown +"), "Couple, crown-mesial +", "Couple, mesial-in +",
	}[k])
}

// byOutward chooses the phrase with the word for the outer side of the teeth: "outward" where each
// has its own.
func byOutward(word string, buccal, labial, outward words.Phrase) words.Phrase {
	switch word {
	case "buccal":
		return buccal
	case "labial":
		return labial
	}
	return outward
}
