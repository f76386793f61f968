package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/phrase"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// ShortfallTexts says in English what a spring misses and exceeds, an item each, none where it
// meets its target or was never held against one: in the words of the trade where teeth are
// given, else by the axes of the mechanics.
func ShortfallTexts(teeth tooth.Pair, s spring.Spring) []string {
	return shortfallTexts(phrase.NewBook(phrase.English), teeth, s)
}

func shortfallTexts(words *phrase.Book, teeth tooth.Pair, s spring.Spring) []string {
	if s.Shortfall == nil || s.Shortfall.None() {
		return nil
	}
	var texts []string
	for _, m := range s.Shortfall.Misses {
		texts = append(texts, missText(words, teeth, s.Travel(), m))
	}
	for _, e := range s.Shortfall.Exceeded {
		texts = append(texts, excessText(words, e))
	}
	if s.Shortfall.Untold {
		texts = append(texts, words.Say("not all that it misses is said in its file"))
	}
	return texts
}

// missText is such as "intrusive force at the start: 0.240 N, asked 0.30 to 0.60 N". A value
// is never said with a minus: one of the other sense is named by its own.
func missText(words *phrase.Book, teeth tooth.Pair, way spring.Travel, m target.Miss) string {
	asked, got := m.Sense()
	name := words.Recognised(design.MissName(m, teeth, got))
	unit := m.Quantity.Unit()
	wanted := windowWords(words, m.Window, asked) + " " + unit
	if asked != got {
		wanted = words.Recognised(design.MissName(m, teeth, asked)) + ", " + wanted
	}
	value := missedNumber(m) + " " + unit
	switch {
	case m.AtStart:
		return words.Say("%s at the start: %s, asked %s", name, value, wanted)
	case m.Quantity == target.Rate || way.Turns || way.None():
		return words.Say("%s over the travel: %s, asked %s", name, value, wanted)
	}
	return words.Say("%s with %s of travel left: %s, asked %s", name, sheet.Number(m.TravelLeftMM, 2)+" mm", value, wanted)
}

// missedNumber is the size of a value with as many decimals as it takes to see that it is not
// what was asked.
func missedNumber(m target.Miss) string {
	decimals := 3
	if m.Quantity.Couple() || m.Quantity == target.MomentToForce {
		decimals = 2
	}
	const most = 6
	for ; decimals < most; decimals++ {
		scale := math.Pow(10, float64(decimals))
		if m.Window.Misses(math.Round(m.Value*scale)/scale) > 0 {
			break
		}
	}
	return sheet.Number(math.Abs(m.Value), decimals)
}

// windowWords is a window on the sense that is asked for, without its unit.
func windowWords(words *phrase.Book, w target.Window, sense float64) string {
	if sense < 0 {
		w.Min, w.Max = -w.Max, -w.Min
	}
	number := func(v float64) string { return strings.ReplaceAll(fmt.Sprintf("%.4g", v), "-", "−") }
	switch {
	case math.IsInf(w.Min, -1):
		return words.Say("at most %s", number(w.Max))
	case math.IsInf(w.Max, 1):
		return words.Say("at least %s", number(w.Min))
	case w.Min == -w.Max:
		return "±" + number(w.Max)
	}
	return words.Say("%s to %s", number(w.Min), number(w.Max))
}

// excessPhrases are in the order of design.Limit.
var excessPhrases = [...]string{
	"%s mm beyond the room in the mouth",
	"loop %s mm too wide",
	"loop %s mm too high for the fold of the cheek",
	"%s mm beyond the room mesially",
	"%s mm beyond the room distally",
	"%s mm too near the front of the active slot",
	"%s mm too far out on the biting side",
	"%s mm too far into the cheek",
	"the wire passes itself %s mm too closely",
	"the hook hangs %s mm too far from its place on the tooth",
	"the tooth is not brought along its planned travel: %s mm are left undone, or it is pushed the other way",
	"the anchor moves %s mm more than is allowed",
	"the anchor tips %s° more than is allowed",
	"bends too many: %s",
	"stress %s of the yield stress above its limit",
}

func excessText(words *phrase.Book, e target.Excess) string {
	decimals := 2
	switch e.Limit {
	case target.BendsLimit:
		decimals = 0
	case target.AnchorTipLimit:
		e.Beyond, decimals = e.Beyond/degree, 1
	}
	for decimals < 6 && math.Round(e.Beyond*math.Pow(10, float64(decimals))) == 0 {
		decimals++
	}
	if e.Limit < 0 || int(e.Limit) >= len(excessPhrases) {
		e.Limit = target.OtherLimit
	}
	return words.Say(excessPhrases[e.Limit], sheet.Number(e.Beyond, decimals))
}

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
	f.band = &b
	f.area.Max.Y -= b.heightMM() + bandRoomMM
}

// bandOf is a band with as many of the items as have room. The first begins as a sentence does.
func (f *flow) bandOf(title string, items []string) band {
	_, body := bandStyles()
	lines := func(text string) []string {
		return f.doc.Wrap(text+".", f.doc.Inside().Width()-2*(bandInsetMM+bandFrameMM), body)
	}
	text := f.someOf(items, func(text string) bool { return len(lines(text)) <= bandLines })
	return band{title, lines(text)[:min(len(lines(text)), bandLines)]}
}

// someOf strings as many items together as fit, one at least, and says how many are left out.
func (f *flow) someOf(items []string, fits func(text string) bool) string {
	for shown := len(items); ; shown-- {
		text := strings.Join(items[:shown], "; ")
		if more := len(items) - shown; more > 0 {
			text += "; " + f.say("and %d more", more)
		}
		if shown <= 1 || fits(text) {
			return text
		}
	}
}

// unmetBand is the band of the job's spring; nil where it misses nothing.
func (f *flow) unmetBand() *band {
	items := shortfallTexts(f.words, f.job.Case.Teeth, f.job.Spring)
	if len(items) == 0 {
		return nil
	}
	items[0] = capital(items[0])
	b := f.bandOf(f.say(unmetTitle), items)
	return &b
}

const unmetTitle = "This spring does not meet the target it was designed for."

// drawBand draws a page's band under the rule of its head.
func (f *flow) drawBand(p *sheet.Page, b *band, topMM float64) {
	if b == nil {
		return
	}
	inside := f.doc.Inside()
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

// finiteShortfall tells whether the numbers of what is missed can be printed.
func finiteShortfall(s *target.Shortfall) bool {
	if s == nil {
		return true
	}
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	return !slices.ContainsFunc(s.Misses, func(m target.Miss) bool {
		return bad(m.Value) || bad(m.TravelLeftMM) || math.IsNaN(m.Window.Min) || math.IsNaN(m.Window.Max)
	}) && !slices.ContainsFunc(s.Exceeded, func(e target.Excess) bool { return bad(e.Beyond) })
}
