package export

import (
	"fmt"
	"strings"

	"springwright/design"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// headText is what stands at the head of a page.
type headText struct {
	name, title string
	lines       []string // at most three
}

// quadrantPhrases are in the order of the quadrants' numbers.
var quadrantPhrases = [...]words.Phrase{
	"Upper right quadrant, the patient's right side, seen from the cheek.",
	"Upper left quadrant, the patient's left side, seen from the cheek.",
	"Lower left quadrant, the patient's left side, seen from the cheek.",
	"Lower right quadrant, the patient's right side, seen from the cheek.",
}

// headOf is the head of the pages about a case, with a line that is theirs below those that name
// the teeth.
func headOf(words *words.Book, c design.Case, own string) headText {
	name := c.Code
	if name == "" {
		name = words.Say("no case code")
	}
	teeth := c.Teeth
	return headText{name, c.Title, []string{
		words.Say("Active tooth %d, %s. Anchor tooth %d, %s.", int(teeth.Active), words.Tooth(teeth.Active), int(teeth.Anchor), words.Tooth(teeth.Anchor)),
		words.Say(quadrantPhrases[teeth.Active.Quadrant()-1]),
		own,
	}}
}

func (text headText) draw(f *flow, p *sheet.Page) {
	inside := f.doc.Inside()
	title := sheet.Style{SizePt: sheet.TitlePt, Bold: true}
	body := sheet.Style{SizePt: sheet.BodyPt}
	y := inside.Max.Y - title.CapMM()

	paper := title
	paper.Align = sheet.Right
	right := inside.Max.X - p.WidthOf(f.Paper.String(), paper) - 4

	name := title
	width := p.Text(plane.Point{X: inside.Min.X, Y: y}, f.doc.Fit(text.name, 70, name), name)
	subtitle := sheet.Style{SizePt: sheet.HeadPt}
	x := inside.Min.X + width + 3
	p.Text(plane.Point{X: x, Y: y}, f.doc.Fit(text.title, right-x, subtitle), subtitle)

	full := inside.Width()
	for i, line := range text.lines {
		p.Text(plane.Point{X: inside.Min.X, Y: y - 4.7 - float64(i)*3.7}, f.doc.Fit(line, full, body), body)
	}
	p.Text(plane.Point{X: inside.Max.X, Y: y}, f.Paper.String(), paper)
	rule := inside.Max.Y - headMM + 3.2
	p.Line(sheet.Mark, plane.Point{X: inside.Min.X, Y: rule}, plane.Point{X: inside.Max.X, Y: rule})
}

// foot draws what stands below the blocks of every page: both bars, what is to be minded, and where
// the page comes from.
func (f *flow) foot(p *sheet.Page, number, of int) {
	inside := f.doc.Inside()
	left := f.area.Min.X
	small := sheet.Style{SizePt: sheet.SmallPt}
	bold := sheet.Style{SizePt: sheet.SmallPt, Bold: true}

	// The bars start from one corner and stay clear of each other.
	y := inside.Min.Y + levelBarMM
	drawBar(p, f.scale, plane.Point{X: left, Y: y}, barMM, false)
	drawBar(p, f.scale, plane.Point{X: inside.Min.X + uprightBarMM, Y: inside.Min.Y + footMM}, barMM, true)
	x := left + barMM*f.scale.X + 4
	p.Text(plane.Point{X: x, Y: y + 1.3}, f.say("Print at 100 %% (actual size). Measure both bars."), bold)
	p.Text(plane.Point{X: x, Y: y + 1.3 - bold.LineMM()}, f.say("Off by more than 0.5 mm: do not use."), bold)

	origin := []string{strings.TrimSpace("springwright " + f.Version)}
	if f.Date != "" {
		origin = append(origin, f.Date)
	}
	if f.Fingerprint != "" {
		origin = append(origin, f.say("fingerprint %s", f.Fingerprint))
	}
	pages := small
	pages.Align = sheet.Right
	lineY := inside.Min.Y + 8.2
	if text := f.Printer.text(f.words); text != "" {
		p.Text(plane.Point{X: left, Y: lineY}, f.doc.Fit(text, inside.Max.X-left, small), small)
		lineY += correctionMM(f.Printer)
	}
	taken := p.Text(plane.Point{X: inside.Max.X, Y: lineY}, f.say("%s, page %d of %d", p.Title, number, of), pages)
	p.Text(plane.Point{X: left, Y: lineY}, f.doc.Fit(strings.Join(origin, " · "), inside.Max.X-left-taken-4, small), small)

	rule := f.area.Min.Y - 4
	p.Line(sheet.Construction, plane.Point{X: left, Y: rule}, plane.Point{X: inside.Max.X, Y: rule})
	p.Paragraph(plane.Point{X: left, Y: rule - 1.2}, inside.Max.X-left, f.say(shortCautions), small)
}

// drawBar draws a scale bar from at to the right or upwards; its length counts from the middle
// of one end tick to the middle of the other.
func drawBar(p *sheet.Page, scale, at plane.Point, lengthMM float64, upright bool) {
	const tickMM = 1.0
	along, across := plane.Point{X: lengthMM * scale.X}, plane.Point{Y: tickMM}
	style := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre, Upright: upright}
	label := at.Add(plane.Point{X: along.X / 2, Y: tickMM})
	if upright {
		along, across = plane.Point{Y: lengthMM * scale.Y}, plane.Point{X: tickMM}
		label = at.Add(plane.Point{X: tickMM + style.CapMM() + 0.3, Y: along.Y / 2})
	}
	p.Line(sheet.Bar, at, at.Add(along))
	for _, end := range [...]plane.Point{at, at.Add(along)} {
		p.Line(sheet.Bar, end.Sub(across), end.Add(across))
	}
	p.Text(label, fmt.Sprintf("%g mm", lengthMM), style)
}
