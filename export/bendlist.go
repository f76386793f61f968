package export

import (
	"slices"
	"strings"

	"springwright/design/notice"
	"springwright/export/sheet"
	"springwright/export/words"
)

// listColumns fits a terminal beside something else, and a page of paper.
const listColumns = 100

// BendList returns what the page of bend steps says as text for a terminal, in the language
// of the job.
func BendList(job Job) (string, error) {
	s, _, err := begin(job)
	if err != nil {
		return "", err
	}
	p := job.plain()
	bendTexts{s}.bendList(p, job.Case.Title)
	return p.String(), nil
}

// BendLists returns the bend lists of all springs, one under the other. The error wraps
// ErrJob.
func (s SpringSheet) BendLists() (string, error) {
	if err := s.check(); err != nil {
		return "", err
	}
	f, err := s.Frame.flow()
	if err != nil {
		return "", err
	}
	p := s.plain()
	for i, spring := range s.panels(f) {
		if i > 0 {
			p.Paragraph("")
			p.Paragraph("")
		}
		title := spring.lines[0]
		if spring.unmet {
			title = spring.lines[1]
		}
		bendTexts{spring.subject}.bendList(p, title)
	}
	return p.String(), nil
}

func (frame Frame) plain() *sheet.Plain {
	return &sheet.Plain{Columns: listColumns}
}

// bendList writes how the spring is bent. The title is in the language already.
func (b bendTexts) bendList(p *sheet.Plain, title string) {
	head := b.headText()
	p.Paragraph(head.name + ": " + title)
	p.Paragraph(head.lines[0])
	p.Paragraph(head.lines[1])
	if missed := b.words.Shortfall(b.job.Case.Teeth, b.job.Spring); len(missed) > 0 {
		p.Paragraph(b.say(unmetTitle) + " " + words.Capital(strings.Join(missed, "; ")) + ".")
	}
	p.Paragraph(b.say("Wire: %s. Cut length %s mm.", wireText(b.words, b.job.Spring.Wire), b.words.Number(b.bends.CutMM(), 1)))

	p.Paragraph("")
	p.Table(b.bendTable())

	p.Paragraph("")
	texts := slices.Concat([]string{lengthsText(b.words, b.bends)}, b.bendCautions(), []string{b.columnsText(), b.waysText(), b.orderText()}, notices(b).instructions(notice.Bending))
	for _, text := range texts {
		p.Paragraph(text)
	}
	if !b.planar() {
		p.Paragraph("")
		p.Paragraph(b.say("By hand") + ". " + b.holdText())
		for _, r := range b.bendingOrder() {
			p.Paragraph(b.stepText(r) + " " + b.handText(r))
		}
	}
	p.Paragraph("")
	defer func() {
		if texts := b.activationTexts(); len(texts) > 0 {
			p.Paragraph("")
			for _, text := range texts {
				p.Paragraph(text)
			}
		}
	}()
	free := freeEndCheck(b)
	if !b.spatial() {
		p.Paragraph(free.freeEndText())
		return
	}
	p.Paragraph(free.freeEndIntroduction())
	p.Table(free.freeEndTable())
	if text := free.hookText(); text != "" {
		p.Paragraph(text)
	}
}
