package export

import (
	"slices"
	"strings"

	"springwright/design/solve"
	"springwright/export/sheet"
)

// listColumns fits a terminal beside something else, and a page of paper.
const listColumns = 100

// BendList returns what the page of bend steps says as text for a terminal, in the language
// of the job, and what of it is in English for want of a translation.
func BendList(job Job) (text string, untranslated []string, err error) {
	f, err := newFlow(job)
	if err != nil {
		return "", nil, err
	}
	p := f.plain()
	f.bendList(p, f.job.Case.Title)
	return p.String(), f.words.Missing(), nil
}

// BendLists returns the bend lists of all springs, one under the other. The error wraps
// ErrJob.
func (s SpringSheet) BendLists() (text string, untranslated []string, err error) {
	if err := s.check(); err != nil {
		return "", nil, err
	}
	f, err := blankFlow(s.job())
	if err != nil {
		return "", nil, err
	}
	p := f.plain()
	for i, spring := range s.panels(f) {
		if i > 0 {
			p.Paragraph("")
			p.Paragraph("")
		}
		title := spring.lines[0]
		if spring.unmet {
			title = spring.lines[1]
		}
		f.on(spring, func() { f.bendList(p, title) })
	}
	return p.String(), f.words.Missing(), nil
}

func (f *flow) plain() *sheet.Plain {
	return &sheet.Plain{Columns: listColumns, DecimalComma: f.job.Language.DecimalComma()}
}

// bendList writes how the spring is bent. The title is in the language already.
func (f *flow) bendList(p *sheet.Plain, title string) {
	head := f.headText()
	p.Verbatim(head.name + ": " + title)
	p.Paragraph(head.lines[0])
	p.Paragraph(head.lines[1])
	if missed := shortfallTexts(f.words, f.job.Case.Teeth, f.job.Spring); len(missed) > 0 {
		p.Paragraph(f.say(unmetTitle) + " " + capital(strings.Join(missed, "; ")) + ".")
	}
	p.Paragraph(f.say("Wire: %s. Cut length %s mm.", wireText(f.words, f.job.Spring.Wire), sheet.Number(f.bends.CutMM(), 1)))

	p.Paragraph("")
	p.Table(f.bendTable())

	p.Paragraph("")
	texts := slices.Concat([]string{lengthsText(f.words, f.bends)}, f.bendCautions(), []string{f.columnsText(), f.waysText(), f.orderText()}, f.instructions(solve.Bending))
	for _, text := range texts {
		p.Paragraph(text)
	}
	if !f.planar() {
		p.Paragraph("")
		p.Paragraph(f.say("By hand") + ". " + f.holdText())
		for _, r := range f.bendingOrder() {
			p.Paragraph(f.stepText(r) + " " + f.handText(r))
		}
	}
	p.Paragraph("")
	if !f.spatial() {
		p.Paragraph(f.freeEndText())
		return
	}
	p.Paragraph(f.freeEndIntroduction())
	p.Table(f.freeEndTable())
	if text := f.hookText(); text != "" {
		p.Paragraph(text)
	}
}
