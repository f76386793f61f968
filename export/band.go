package export

import (
	"strings"

	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// band is what stands in a frame at the head of every page of a spring that did not come out.
type band struct {
	title string
	lines []string
}

const (
	bandLines   = 4   // at most: more is said by the checks and the files
	bandFrameMM = 0.8 // between the two lines of the frame
	bandInsetMM = 1.6 // between the frame and its text
	bandRoomMM  = 1.0 // kept below the frame
)

func bandStyles() (title, body sheet.Style) {
	return sheet.Style{SizePt: sheet.HeadPt, Bold: true}, sheet.Style{SizePt: sheet.BodyPt}
}

func (b band) heightMM() float64 {
	title, body := bandStyles()
	return 2*(bandInsetMM+0.2) + title.LineMM() + float64(len(b.lines))*body.LineMM()
}

// mark puts a band at the head of all pages, which leaves them less room: to be called before
// any of them is begun.
func (f *flow) mark(b band) {
	f.top.band = &b
	f.area.Max.Y -= b.heightMM() + bandRoomMM
}

// bandOf is a band with as many of the items as have room. The first begins as a sentence does.
func (f *flow) bandOf(title string, items []string) band {
	_, body := bandStyles()
	lines := func(text string) []string {
		return f.doc.Wrap(text+".", f.doc.Inside().Width()-2*(bandInsetMM+bandFrameMM), body)
	}
	text := someOf(f.speech, items, func(text string) bool { return len(lines(text)) <= bandLines })
	return band{title, lines(text)[:min(len(lines(text)), bandLines)]}
}

// someOf strings as many items together as fit, one at least, and says how many are left out.
func someOf(words speech, items []string, fits func(text string) bool) string {
	for shown := len(items); ; shown-- {
		text := strings.Join(items[:shown], "; ")
		if more := len(items) - shown; more > 0 {
			text += "; " + words.say("and %d more", more)
		}
		if shown <= 1 || fits(text) {
			return text
		}
	}
}

// unmetBand is the band of the job's spring; nil where it misses nothing.
func (s *subject) unmetBand(f *flow) *band {
	items := s.words.Shortfall(s.job.Case.Teeth, s.job.Spring)
	if len(items) == 0 {
		return nil
	}
	items[0] = words.Capital(items[0])
	b := f.bandOf(s.say(unmetTitle), items)
	return &b
}

const unmetTitle = "This spring does not meet the target it was designed for."

// draw draws a page's band, where it has one, under the rule of its head.
func (b *band) draw(p *sheet.Page, inside plane.Box) {
	if b == nil {
		return
	}
	topMM := inside.Max.Y - headMM + 1.8
	frame := plane.Box{
		Min: plane.Point{X: inside.Min.X, Y: topMM - b.heightMM()},
		Max: plane.Point{X: inside.Max.X, Y: topMM},
	}
	p.Rectangle(sheet.Curve, frame)
	p.Rectangle(sheet.Curve, frame.Grown(-bandFrameMM))
	title, body := bandStyles()
	at := plane.Point{X: inside.Min.X + bandFrameMM + bandInsetMM, Y: topMM - bandInsetMM - title.CapMM()}
	p.Text(at, b.title, title)
	at.Y += title.CapMM() - title.LineMM()
	for _, line := range b.lines {
		p.Text(plane.Point{X: at.X, Y: at.Y - body.CapMM()}, line, body)
		at.Y -= body.LineMM()
	}
}
