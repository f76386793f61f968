package export

import (
	"math"
	"strings"

	"springwright/design/spring"
	"springwright/export/phrase"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// The free-end check says where the end mark lies with only the anchor end seated: its
// distances and angles to the slot are the activation.

const afterCheckMM = 2.0 // kept below each check

// freeEndCheck lays out the check: a sentence for a flat spring, else a table.
func (f *flow) freeEndCheck() {
	style := sheet.Style{SizePt: sheet.BodyPt}
	at := f.take(0)
	if !f.spatial() {
		f.take(f.page.Paragraph(at, f.area.Width(), f.freeEndText(), style) + afterCheckMM)
		return
	}
	f.take(f.page.Paragraph(at, f.area.Width(), f.freeEndIntroduction(), style) + 0.5)
	t := f.freeEndTable()
	t.Draw(f.page, f.take(t.HeightMM()+afterCheckMM))
	if text := f.hookText(); text != "" {
		f.take(f.page.Paragraph(f.take(0), f.area.Width(), text, style) + afterCheckMM)
	}
}

// hookText says where a hook that slides comes to hang at the start; empty where it does
// not slide, or hangs at the active slot's centre.
func (f *flow) hookText() string {
	s, seated := f.job.Spring, f.job.Evaluation.Seated
	if !f.bends.Hooked || s.Slide != spring.SlideActive || len(seated) == 0 {
		return ""
	}
	alongMM := seated[len(seated)-1].At.X - s.Start.AtMM.X
	if math.Abs(alongMM) < 0.05 {
		return ""
	}
	return f.say("Hooked on, it slides along to %s mm %s of that centre, about which couples are stated.", sheet.Number(math.Abs(alongMM), 1), f.say(f.view.Teeth.ForceXWord(alongMM)))
}

// freeEndIntroduction stands above the table.
func (f *flow) freeEndIntroduction() string {
	if f.bends.Hooked {
		return f.endMarkText() + " " + f.say("Neutral position: with only the anchor end seated, E lies, against the active slot's centre as it stands now:")
	}
	return f.endMarkText() + " " + f.say("Neutral position: with only the anchor end seated, E lies, against the slot's entry as it stands now:")
}

// endMarkText says which point of the wire the check is about: the cut wire has an end of
// its own, farther on.
func (f *flow) endMarkText() string {
	text := "E: the wire's mark at %s mm, the point that enters the active slot."
	if f.bends.Hooked {
		text = "E: the wire's mark at %s mm, where the hook is."
	}
	return f.say(text, sheet.Number(f.bends.DevelopedMM, 2))
}

// freeEndHeightMM is what the check takes.
func (f *flow) freeEndHeightMM() float64 {
	style := sheet.Style{SizePt: sheet.BodyPt}
	if f.spatial() {
		lines := float64(len(f.doc.Wrap(f.freeEndIntroduction(), f.area.Width(), style)))
		height := lines*style.LineMM() + 0.5 + f.freeEndTable().HeightMM() + afterCheckMM
		if f.hookText() != "" {
			height += style.LineMM() + afterCheckMM
		}
		return height
	}
	return float64(len(f.doc.Wrap(f.freeEndText(), f.area.Width(), style)))*style.LineMM() + afterCheckMM
}

func (f *flow) freeEndText() string {
	end := f.freeEnd()
	parts := end.parts()
	if f.bends.Hooked { // it turns as it likes
		text := f.say("Neutral position: with only the anchor end seated, E lies %s of the active slot's centre as it stands now.", strings.Join(parts, ", "))
		if len(parts) == 0 {
			text = f.say("Neutral position: with only the anchor end seated, E lies at the active slot's centre as it stands now.")
		}
		return strings.TrimSpace(f.endMarkText() + " " + text + " " + f.hookText())
	}
	turned := turnedText(f.words, end.cheekRad)
	if len(parts) == 0 {
		return f.endMarkText() + " " + f.say("Neutral position: with only the anchor end seated, E lies at the slot's entry as it stands now, turned %s against the slot.", turned)
	}
	return f.endMarkText() + " " + f.say("Neutral position: with only the anchor end seated, E lies %s of the slot's entry as it stands now, turned %s against the slot.",
		strings.Join(parts, ", "), turned)
}

// parts are the distances that do not print as zero, with their words.
func (e freeEnd) parts() []string {
	var parts []string
	for _, p := range [...]struct {
		mm   float64
		word string
	}{{e.upMM, e.upWord}, {e.alongMM, e.alongWord}, {e.acrossMM, e.acrossWord}} {
		if p.mm >= 0.05 {
			parts = append(parts, sheet.Number(p.mm, 1)+" mm "+p.word)
		}
	}
	return parts
}

// endPositionText is the check in one sentence, for a spring of any shape.
func (f *flow) endPositionText() string {
	if !f.spatial() || f.bends.Hooked {
		return f.freeEndText()
	}
	end, teeth := f.freeEnd(), f.view.Teeth
	lies := f.say("Neutral position: with only the anchor end seated, E lies at the slot's entry as it stands now,")
	if parts := end.parts(); len(parts) > 0 {
		lies = f.say("Neutral position: with only the anchor end seated, E lies %s of the slot's entry as it stands now,", strings.Join(parts, ", "))
	}
	return f.endMarkText() + " " + lies + " " + f.say("turned %s seen from the cheek, %s from the biting side, %s along the arch from %d to %d.",
		turnedText(f.words, end.cheekRad), turnedText(f.words, end.bitingRad), turnedText(f.words, end.archRad), int(teeth.Anchor), int(teeth.Active))
}

// turnedText is an angle with its way round.
func turnedText(words *phrase.Book, rad float64) string {
	text := degrees(math.Abs(rad))
	switch {
	case text == "0°":
		return text
	case rad < 0:
		return words.Say("%s clockwise", text)
	}
	return words.Say("%s anticlockwise", text)
}

func (f *flow) freeEndTable() sheet.Table {
	end := f.freeEnd()
	teeth := f.view.Teeth
	distance := func(mm float64, word string) (string, string) {
		if text := sheet.Number(mm, 1); text != "0.0" {
			return text, word
		}
		return "0.0", ""
	}
	t := sheet.Table{Columns: f.headed([]sheet.Column{
		{Head: "E lies", WidthMM: 30},
		{Head: "mm", WidthMM: 11, Align: sheet.Right},
		{Head: "", WidthMM: 24},
		{Head: "and is turned, seen", WidthMM: 58},
		{Head: "", WidthMM: 34},
	})}
	for _, row := range [...]struct {
		axis, word, seen string
		mm, rad          float64
	}{
		{f.say("up or down"), end.upWord, f.say("from the cheek"), end.upMM, end.cheekRad},
		{f.say("across the arch"), end.acrossWord, f.say("from the biting side"), end.acrossMM, end.bitingRad},
		{f.say("along the arch"), end.alongWord, f.say("along the arch, from %d to %d", int(teeth.Anchor), int(teeth.Active)), end.alongMM, end.archRad},
	} {
		mm, word := distance(row.mm, row.word)
		t.Rows = append(t.Rows, []string{row.axis, mm, word, row.seen, turnedText(f.words, row.rad)})
	}
	if f.bends.Hooked { // it turns as it likes
		t.Columns = t.Columns[:3]
		for i, row := range t.Rows {
			t.Rows[i] = row[:3]
		}
	}
	return t
}

// gaugeCheck writes the check with the force gauge.
func (f *flow) gaugeCheck() {
	f.take(f.page.Paragraph(plane.Point{X: f.area.Min.X, Y: f.yMM}, f.area.Width(), f.gaugeText(), sheet.Style{SizePt: sheet.BodyPt}) + afterCheckMM)
}

func (f *flow) gaugeHeightMM() float64 {
	style := sheet.Style{SizePt: sheet.BodyPt}
	return float64(len(f.doc.Wrap(f.gaugeText(), f.area.Width(), style)))*style.LineMM() + afterCheckMM
}
