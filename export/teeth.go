package export

import (
	"math"
	"strings"

	"springwright/design/effect"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"
)

// teethPage is what the spring does to both teeth at their centres of resistance.
type teethPage struct{ *subject }

// draw lays out the teeth on one page if it can be, with a lower chart where that helps.
func (p teethPage) draw(f *flow) error {
	p.told.anchor = true // in its table
	notes := p.firstNotes()
	f.onOnePage(
		func() { p.blocks(f, driftChartMM, nothing); notes(f) },
		func() { p.blocks(f, lowDriftChartMM, nothing); notes(f) },
		func() { p.blocks(f, driftChartMM, notes) },
	)
	return nil
}

// blocks lays out the teeth under what stands at the top.
func (p teethPage) blocks(f *flow, chartMM float64, top func(*flow)) {
	r := *p.job.Teeth
	f.newPage("Teeth")
	top(f)
	f.heading(f.say("At the centre of resistance"), f.say("Loads on the teeth at the start of the travel, and how each tooth begins to move."))
	f.take(1)
	p.tooth(f, "Active tooth %d", r.Active)
	p.tooth(f, "Anchor tooth %d", r.Anchor)
	p.anchorCaution(f, r)
	drift := driftBlock{p.subject, chartMM}
	f.need(drift.heightMM(f) + anchorBlock(p).heightMM(f))
	anchorBlock(p).draw(f)
	drift.draw(f)
}

func (p teethPage) tooth(f *flow, role words.Phrase, t effect.ToothReport) {
	table := p.movementTable(t)
	style := sheet.Style{SizePt: sheet.BodyPt}
	remedy := f.say("Across the arch: %s.", f.words.Remedy(tooth.Member{Pair: p.job.Case.Teeth, Number: t.Number}, t))
	if t.Number == p.job.Case.Teeth.Active && p.job.Case.Target.Wants(tooth.CoupleX) {
		remedy = "" // what would cancel the wanted couple is no remedy
	}
	place := p.resistanceText(t)
	textMM := func(text string) float64 {
		return f.doc.HeightOf(text, f.area.Width(), style) + 1.5
	}
	remedyMM := 0.0
	if remedy != "" {
		remedyMM = textMM(remedy)
	}
	f.need(6.5 + textMM(place) + table.HeightMM() + 2 + remedyMM)
	f.heading(f.say(role, int(t.Number)), "")
	f.paragraph(place, style, paragraphApartMM)
	table.Draw(f.page, f.take(table.HeightMM()+2))
	if remedy != "" {
		f.paragraph(remedy, style, paragraphApartMM)
	}
	f.take(2.5)
}

// anchorCaution says what the anchor tooth takes beyond what is usual for it, where the target
// is silent about that.
func (p teethPage) anchorCaution(f *flow, r effect.TeethReport) {
	if len(r.AnchorExcesses) == 0 {
		return
	}
	of := r.Teeth.AnchorMember()
	var parts []string
	for _, e := range r.AnchorExcesses {
		q := target.OfAnchor(e.Component)
		parts = append(parts, f.say("%s of %s %s, usual are at most %s",
			f.words.LoadName(of, e.Component, e.Value), p.words.Number(math.Abs(e.Value), 2), q.Unit(), p.words.Number(e.Limit, 2)))
	}
	f.block(f.say("The target says nothing of the load on anchor tooth %d, which is more than usual: %s. Hold the tooth, or limit that load in the case.",
		int(of.Number), strings.Join(parts, "; ")), sheet.Style{SizePt: sheet.BodyPt, Bold: true})
}

// resistanceText says where the centre of resistance is taken to lie, and why there.
func (p teethPage) resistanceText(t effect.ToothReport) string {
	r := t.Resistance
	of := tooth.Member{Pair: p.job.Case.Teeth, Number: t.Number}
	distance := func(mm, spread float64, k tooth.Component, sign float64) string {
		text := p.words.Number(math.Abs(mm), 1)
		if spread > 0 {
			text += " ± " + p.words.Number(spread, 1)
		}
		return text + " mm " + p.words.Way(of, k, sign*math.Copysign(1, mm))
	}
	text := p.say("Centre of resistance %s, %s and %s of the slot's centre: %s.",
		distance(r.InwardMM, r.SpreadMM[0], tooth.ForceY, -of.BuccalSign()),
		distance(r.DistalMM, r.SpreadMM[1], tooth.ForceX, -of.MesialSign()),
		distance(r.ApicalMM, r.SpreadMM[2], tooth.ForceZ, 1),
		p.words.Source(r))
	if r.Guess {
		text += " " + p.say("A guess, for want of a measurement of this tooth.")
	}
	return text
}

// movementTable has a row for each plane.
func (p teethPage) movementTable(t effect.ToothReport) sheet.Table {
	of := tooth.Member{Pair: p.job.Case.Teeth, Number: t.Number}
	table := sheet.Table{Columns: []sheet.Column{
		{Head: "", WidthMM: 33},
		{Head: p.say("force\nN"), WidthMM: 11, Align: sheet.Right},
		{Head: p.say("moment\nN·mm"), WidthMM: 14, Align: sheet.Right},
		{Head: "", WidthMM: 28},
		{Head: p.say("M/F\nmm"), WidthMM: 11, Align: sheet.Right},
		{WidthMM: 3},
		{Head: p.say("begins as"), WidthMM: 28},
		{Head: p.say("turning about a point, from the\ncentre of resistance"), WidthMM: 47},
	}}
	for _, m := range t.Movements {
		momentToForce, about := "–", "–"
		if m.ForceN >= 0.02 {
			momentToForce = p.words.Number(math.Abs(m.MomentNMM)/m.ForceN, 1)
		}
		if m.Turns() {
			// The plain words for towards the crown are too long for the column.
			about = p.words.TurningPoint(of, m, p.say("coronal"))
		}
		table.Rows = append(table.Rows, []string{
			p.words.Plane(m.Plane), p.words.Number(m.ForceN, 2),
			p.words.Number(math.Abs(m.MomentNMM), 2), word(m.MomentNMM, 2, func(float64) string { return p.words.TurnWord(of, m) }),
			momentToForce, "", p.words.MovementKind(m.Kind), about,
		})
	}
	return table
}
