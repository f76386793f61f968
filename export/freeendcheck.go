package export

import (
	"math"
	"strings"

	"springwright/design"
	"springwright/export/phrase"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// The free-end check says where the free end lies with only the anchor end seated: its
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
	spring, seated := f.job.Spring, f.job.Evaluation.Seated
	if !f.bends.Hooked || spring.Slide != design.SlideActive || len(seated) == 0 {
		return ""
	}
	alongMM := seated[len(seated)-1].At.X - spring.Start.AtMM.X
	if math.Abs(alongMM) < 0.05 {
		return ""
	}
	return f.say("Hooked on, it slides along to %s mm %s of that centre, about which couples are stated.", sheet.Number(math.Abs(alongMM), 1), f.say(f.view.Teeth.ForceXWord(alongMM)))
}

// freeEndIntroduction stands above the table.
func (f *flow) freeEndIntroduction() string {
	if f.bends.Hooked {
		return f.say("Neutral position: with only the anchor end seated, the free end lies, against the active slot's centre as it stands now:")
	}
	return f.say("Neutral position: with only the anchor end seated, the free end lies, against the slot as it stands now:")
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
	var parts []string
	for _, p := range [...]struct {
		mm   float64
		word string
	}{{end.upMM, end.upWord}, {end.alongMM, end.alongWord}, {end.acrossMM, end.acrossWord}} {
		if p.mm >= 0.05 { // else it prints as zero
			parts = append(parts, sheet.Number(p.mm, 1)+" mm "+p.word)
		}
	}
	if f.bends.Hooked { // it turns as it likes
		text := f.say("Neutral position: with only the anchor end seated, the free end lies %s of the active slot's centre as it stands now.", strings.Join(parts, ", "))
		if len(parts) == 0 {
			text = f.say("Neutral position: with only the anchor end seated, the free end lies at the active slot's centre as it stands now.")
		}
		return strings.TrimSpace(text + " " + f.hookText())
	}
	turned := turnedText(f.words, end.cheekRad)
	if len(parts) == 0 {
		return f.say("Neutral position: with only the anchor end seated, the free end lies in the slot as it stands now, turned %s against it.", turned)
	}
	return f.say("Neutral position: with only the anchor end seated, the free end lies %s of the slot as it stands now, turned %s against it.",
		strings.Join(parts, ", "), turned)
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
		{Head: "free end lies", WidthMM: 30},
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
