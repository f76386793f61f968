package export

import (
	"errors"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// Comparison is several springs for one case, to be drawn side by side.
type Comparison struct {
	Frame
	Case       design.Case
	Candidates []effect.Candidate // the first one is what the others are held against
}

// ComparisonSheets returns the comparison as one PDF file and as one SVG file a page. Same input,
// same bytes.
func ComparisonSheets(c Comparison) (file []byte, pages [][]byte, err error) {
	doc, err := c.compose()
	if err != nil {
		return nil, nil, err
	}
	return c.written(doc, c.title(), c.subject())
}

func (c Comparison) subject() string {
	return words.NewBook(c.Language).Say("Loads of several springs on both teeth over the same travel")
}

func (c Comparison) title() string {
	return strings.TrimSpace(words.NewBook(c.Language).Say("Comparison %s", c.Case.Code))
}

func (c Comparison) check() error {
	var found faults
	fault := found.add
	checkTeeth(c.Case.Teeth, fault)
	c.Frame.check(fault)
	figures := false
	for _, candidate := range c.Candidates {
		if !finiteShortfall(candidate.Spring.Shortfall) {
			fault("a number of %s is not finite", candidate.Name)
		}
		for _, p := range candidate.Positions() {
			figures = true
			for k := range tooth.Components {
				if sum := p.Active.Component(k) + p.Anchor.Component(k) + p.TravelLeftMM; math.IsNaN(sum) || math.IsInf(sum, 0) {
					fault("a number of %s is not finite", candidate.Name)
				}
			}
		}
		if a := candidate.Argument; a != nil && !a.Finite() {
			fault("a number of %s is not finite", candidate.Name)
		}
	}
	if !figures {
		fault("no candidate has figures")
	}
	return found.err()
}

func (c Comparison) compose() (*sheet.Document, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	f, err := c.Frame.flow()
	if err != nil {
		return nil, err
	}
	f.top.head = headOf(f.words, c.Case, f.say("Several springs side by side: not a template to bend over."))
	for _, candidate := range c.Candidates {
		if missed := f.words.Shortfall(c.Case.Teeth, candidate.Spring); len(missed) > 0 {
			missed[0] = words.Capital(missed[0])
			f.mark(f.bandOf(f.say("%s: does not meet the target it was designed for.", words.Capital(f.words.Candidate(candidate))), missed))
			break // straight wires were designed for none
		}
	}
	if err := (comparisonPage{c, f.speech}).draw(f); err != nil {
		return nil, err
	}
	return f.finished()
}

// comparisonPage holds the loads of all candidates against each other.
type comparisonPage struct {
	Comparison
	speech
}

func (p comparisonPage) draw(f *flow) error {
	f.newPage("Comparison")
	f.heading(f.say("Side by side"), f.say("Loads on both teeth over the same travel, couples about the centre of each slot."))
	p.candidateList(f)
	p.charts(f)
	p.tables(f)
	p.anchorEffects(f)
	p.arguments(f)
	return nil
}

// candidateList names the candidates in full.
func (p comparisonPage) candidateList(f *flow) {
	body := sheet.Style{SizePt: sheet.BodyPt}
	bold := sheet.Style{SizePt: sheet.BodyPt, Bold: true}
	indent := 0.0
	for _, c := range p.Candidates {
		indent = math.Max(indent, f.doc.WidthOf(f.words.Candidate(c), bold)+4)
	}
	for _, c := range p.Candidates {
		at := f.take(0)
		f.page.Paragraph(at, indent, f.words.Candidate(c), bold)
		at.X += indent
		f.take(f.page.Paragraph(at, f.area.Width()-indent, f.words.CandidateTitle(c), body))
	}
	f.take(3)
}

const comparisonChartMM = 44.0

// travel is the same for all candidates.
func (c Comparison) travel() travel { return travelOf(c.Case.SpringFor(spring.Path{})) }

// charts draws force and couple on both teeth.
func (p comparisonPage) charts(f *flow) {
	teeth, way := p.Case.Teeth, p.travel()
	labelMM := 14.0
	for _, c := range p.Candidates {
		labelMM = math.Max(labelMM, f.doc.WidthOf(f.words.Candidate(c), sheet.Style{SizePt: sheet.SmallPt}))
	}
	chart := func(title string, compared effect.Compared, load func(spring.Position) tooth.Load) sheet.Chart {
		// The curves are named where they lie apart: at the start of the travel. It runs to the
		// right, as on the page of loads.
		c := sheet.Chart{Title: title, XTitle: f.say("travel left, mm"), YTitle: "N", LabelMM: labelMM, XReversed: true, LabelsLeft: true}
		if way.Turns {
			c.XTitle = f.say("travel left, degrees")
		}
		if compared.Component.Couple() {
			c.YTitle = "N·mm"
		}
		for i, candidate := range p.Candidates {
			s := sheet.Series{Label: f.words.Candidate(candidate), Dashed: i > 0, DashMM: dashOf(i)}
			for _, at := range candidate.Positions() {
				// What is nothing but the solver's rounding must not stretch the axis.
				const leastShown = 1e-4
				s.Points = append(s.Points, plane.Point{X: way.left(at), Y: math.Round(compared.Of(load(at))/leastShown) * leastShown})
			}
			if len(s.Points) > 0 {
				c.Series = append(c.Series, s)
			}
		}
		return c
	}
	half := (f.area.Width() - 4) / 2
	for _, compared := range effect.ComparedLoads(p.Case) {
		active, anchor := words.Phrase("Force on active tooth %d, %s +"), words.Phrase("Force on anchor tooth %d, %s +")
		if compared.Component.Couple() {
			active, anchor = "Couple on active tooth %d, %s +", "Couple on anchor tooth %d, %s +"
		}
		f.need(comparisonChartMM)
		at := f.take(comparisonChartMM + 2)
		for i, c := range [...]sheet.Chart{
			chart(f.say(active, int(teeth.Active), f.words.Sense(teeth.ActiveMember(), compared.Component, compared.Sign)), compared, onActive),
			chart(f.say(anchor, int(teeth.Anchor), f.words.Sense(teeth.AnchorMember(), compared.Component, compared.Sign)), compared, onAnchor),
		} {
			x := at.X + float64(i)*(half+4)
			c.Draw(f.page, plane.Box{Min: plane.Point{X: x, Y: at.Y - comparisonChartMM}, Max: plane.Point{X: x + half, Y: at.Y}})
		}
	}
}

// dashOf tells the curves of straight wires apart, and all of them from the first.
func dashOf(i int) float64 { return [...]float64{0, 0, 0.7, 1.4, 0.35}[i%5] }

// anchorEffects says in a sentence for each candidate what it does to the anchor tooth.
func (p comparisonPage) anchorEffects(f *flow) {
	body := sheet.Style{SizePt: sheet.BodyPt}
	textOf := func(c effect.Candidate) string {
		text := words.Capital(f.words.Candidate(c)) + ": " + f.words.AnchorEffect(p.Case.Teeth, c, p.Candidates[0]) + "."
		if c.Anchor != nil && !errors.Is(c.Anchor.Fault, effect.ErrNoDrift) {
			text += " " + f.say("Predicted for both teeth, an estimate. %s", f.words.AnchorOutcome(p.Case.Teeth, *c.Anchor)+".")
		}
		return text
	}
	heightMM := func(text string) float64 {
		return f.doc.HeightOf(text, f.area.Width(), body) + 1.5
	}
	f.need(6.5 + heightMM(textOf(p.Candidates[0])))
	remark := ""
	if hasClass(effect.ComparedLoads(p.Case)) {
		remark = f.say("Class: geometry class by the ratio of the couples, I both alike, IV one tooth alone, VI opposite (Burstone and Koenig 1974).")
	}
	f.heading(f.say("On the anchor tooth"), remark)
	for _, c := range p.Candidates {
		text := textOf(c)
		f.need(heightMM(text))
		f.paragraph(text, body, paragraphApartMM)
	}
	for _, c := range p.Candidates {
		for _, w := range c.Evaluation.Warnings {
			said, _ := f.words.Notice(w)
			text := f.say("Warning, %s: %s.", f.words.Candidate(c), said)
			f.need(heightMM(text))
			f.paragraph(text, sheet.Style{SizePt: sheet.BodyPt, Bold: true}, paragraphApartMM)
		}
	}
}

// arguments hold what is usually said of straight wires against the figures.
func (p comparisonPage) arguments(f *flow) {
	small, body := sheet.Style{SizePt: sheet.SmallPt}, sheet.Style{SizePt: sheet.BodyPt}
	bold := body
	bold.Bold = true
	headed := false
	for _, c := range p.Candidates {
		if c.Argument == nil {
			continue
		}
		said := f.words.ArgumentFigures(p.Case.Teeth, *c.Argument)
		for _, h := range c.Argument.Heard {
			said = append(said, f.words.Heard(p.Case.Teeth, h))
		}
		firstMM := bold.LineMM() + f.doc.HeightOf(said[0], f.area.Width(), body) + paragraphApartMM
		if !headed {
			remark := f.words.ArgumentRemark(*c.Argument)
			f.need(6.5 + f.doc.HeightOf(remark, f.area.Width(), small) + paragraphApartMM + firstMM)
			f.heading(f.say("What is said of straight wires"), "")
			f.paragraph(remark, small, paragraphApartMM)
			headed = true
		}
		f.need(firstMM)
		f.paragraph(words.Capital(f.words.Candidate(c)), bold, 0)
		for i, text := range said {
			apartMM := 0.0
			if i == len(said)-1 {
				apartMM = paragraphApartMM
			}
			f.need(f.doc.HeightOf(text, f.area.Width(), body) + apartMM)
			f.paragraph(text, body, apartMM)
		}
	}
}
