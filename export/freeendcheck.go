package export

import (
	"math"
	"strings"

	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// The free-end check says where the end mark lies with only the anchor end seated: its
// distances and angles to the slot are the activation.

const afterCheckMM = 2.0 // kept below each check

// freeEndCheck is a sentence for a flat spring, else a table.
type freeEndCheck struct{ *subject }

func (c freeEndCheck) draw(f *flow) {
	style := sheet.Style{SizePt: sheet.BodyPt}
	if !c.spatial() {
		f.paragraph(c.freeEndText(), style, afterCheckMM)
		return
	}
	f.paragraph(c.freeEndIntroduction(), style, 0.5)
	t := c.freeEndTable()
	t.Draw(f.page, f.take(t.HeightMM()+afterCheckMM))
	if text := c.hookText(); text != "" {
		f.paragraph(text, style, afterCheckMM)
	}
}

// hookText says where a hook that slides comes to hang at the start; empty where it does
// not slide, or hangs at the active slot's centre.
func (c freeEndCheck) hookText() string {
	s, seated := c.job.Spring, c.job.Evaluation.Seated
	if !c.bends.Hooked || s.Slide != spring.SlideActive || len(seated) == 0 {
		return ""
	}
	alongMM := seated[len(seated)-1].At.X - s.Start.AtMM.X
	if math.Abs(alongMM) < 0.05 {
		return ""
	}
	return c.say("Hooked on, it slides along to %s mm %s of that centre, about which couples are stated.", c.words.Number(math.Abs(alongMM), 1), c.words.Sense(c.view.Teeth.ActiveMember(), tooth.ForceX, alongMM))
}

// freeEndIntroduction stands above the table.
func (c freeEndCheck) freeEndIntroduction() string {
	if c.bends.Hooked {
		return c.endMarkText() + " " + c.say("Neutral position: with only the anchor end seated, E lies, against the active slot's centre as it stands now:")
	}
	return c.endMarkText() + " " + c.say("Neutral position: with only the anchor end seated, E lies, against the slot's entry as it stands now:")
}

// endMarkText says which point of the wire the check is about: the cut wire has an end of
// its own, farther on.
func (c freeEndCheck) endMarkText() string {
	text := words.Phrase("E: the wire's mark at %s mm, the point that enters the active slot.")
	if c.bends.Hooked {
		text = "E: the wire's mark at %s mm, where the hook is."
	}
	return c.say(text, c.words.Number(c.bends.DevelopedMM, 2))
}

// heightMM is what the check takes.
func (c freeEndCheck) heightMM(f *flow) float64 {
	style := sheet.Style{SizePt: sheet.BodyPt}
	if c.spatial() {
		lines := float64(len(f.doc.Wrap(c.freeEndIntroduction(), f.area.Width(), style)))
		height := lines*style.LineMM() + 0.5 + c.freeEndTable().HeightMM() + afterCheckMM
		if c.hookText() != "" {
			height += style.LineMM() + afterCheckMM
		}
		return height
	}
	return f.doc.HeightOf(c.freeEndText(), f.area.Width(), style) + afterCheckMM
}

func (c freeEndCheck) freeEndText() string {
	end := c.freeEnd()
	parts := end.parts(c.words)
	if c.bends.Hooked { // it turns as it likes
		text := c.say("Neutral position: with only the anchor end seated, E lies %s of the active slot's centre as it stands now.", strings.Join(parts, ", "))
		if len(parts) == 0 {
			text = c.say("Neutral position: with only the anchor end seated, E lies at the active slot's centre as it stands now.")
		}
		return strings.TrimSpace(c.endMarkText() + " " + text + " " + c.hookText())
	}
	turned := turnedText(c.words, end.cheekRad)
	if len(parts) == 0 {
		return c.endMarkText() + " " + c.say("Neutral position: with only the anchor end seated, E lies at the slot's entry as it stands now, turned %s against the slot.", turned)
	}
	return c.endMarkText() + " " + c.say("Neutral position: with only the anchor end seated, E lies %s of the slot's entry as it stands now, turned %s against the slot.",
		strings.Join(parts, ", "), turned)
}

// parts are the distances that do not print as zero, with their words.
func (e freeEnd) parts(words *words.Book) []string {
	var parts []string
	for _, p := range [...]struct {
		mm   float64
		word string
	}{{e.upMM, e.upWord}, {e.alongMM, e.alongWord}, {e.acrossMM, e.acrossWord}} {
		if p.mm >= 0.05 {
			parts = append(parts, words.Number(p.mm, 1)+" mm "+p.word)
		}
	}
	return parts
}

// endPositionText is the check in one sentence, for a spring of any shape.
func (c freeEndCheck) endPositionText() string {
	if !c.spatial() || c.bends.Hooked {
		return c.freeEndText()
	}
	end, teeth := c.freeEnd(), c.view.Teeth
	lies := c.say("Neutral position: with only the anchor end seated, E lies at the slot's entry as it stands now,")
	if parts := end.parts(c.words); len(parts) > 0 {
		lies = c.say("Neutral position: with only the anchor end seated, E lies %s of the slot's entry as it stands now,", strings.Join(parts, ", "))
	}
	return c.endMarkText() + " " + lies + " " + c.say("turned %s seen from the cheek, %s from the biting side, %s along the arch from %d to %d.",
		turnedText(c.words, end.cheekRad), turnedText(c.words, end.bitingRad), turnedText(c.words, end.archRad), int(teeth.Anchor), int(teeth.Active))
}

// turnedText is an angle with its way round.
func turnedText(words *words.Book, rad float64) string {
	text := words.Degrees(math.Abs(rad))
	switch {
	case text == "0°":
		return text
	case rad < 0:
		return words.Say("%s clockwise", text)
	}
	return words.Say("%s anticlockwise", text)
}

func (c freeEndCheck) freeEndTable() sheet.Table {
	end := c.freeEnd()
	teeth := c.view.Teeth
	distance := func(mm float64, word string) (string, string) {
		if text := c.words.Number(mm, 1); text != c.words.Number(0, 1) {
			return text, word
		}
		return c.words.Number(0, 1), ""
	}
	t := sheet.Table{Columns: []sheet.Column{
		{Head: c.say("E lies"), WidthMM: 30},
		{Head: c.say("mm"), WidthMM: 11, Align: sheet.Right},
		{Head: "", WidthMM: 24},
		{Head: c.say("and is turned, seen"), WidthMM: 58},
		{Head: "", WidthMM: 34},
	}}
	for _, row := range [...]struct {
		axis, word, seen string
		mm, rad          float64
	}{
		{c.say("up or down"), end.upWord, c.say("from the cheek"), end.upMM, end.cheekRad},
		{c.say("across the arch"), end.acrossWord, c.say("from the biting side"), end.acrossMM, end.bitingRad},
		{c.say("along the arch"), end.alongWord, c.say("along the arch, from %d to %d", int(teeth.Anchor), int(teeth.Active)), end.alongMM, end.archRad},
	} {
		mm, word := distance(row.mm, row.word)
		t.Rows = append(t.Rows, []string{row.axis, mm, word, row.seen, turnedText(c.words, row.rad)})
	}
	if c.bends.Hooked { // it turns as it likes
		t.Columns = t.Columns[:3]
		for i, row := range t.Rows {
			t.Rows[i] = row[:3]
		}
	}
	return t
}

// freeEnd is where the free end lies against the active slot at the start, with only the
// anchor end seated: distances without sign, with words for their directions.
type freeEnd struct {
	upMM, alongMM, acrossMM       float64
	upWord, alongWord, acrossWord string
	turnRad                       float64 // between the wire's end and the slot
	// The parts of that turn, anticlockwise: seen from the cheek, from the biting side, and
	// along the arch from the anchor tooth.
	cheekRad, bitingRad, archRad float64
}

func (s *subject) freeEnd() freeEnd {
	end := s.job.Spring.Rod().UnloadedEnd(beam.Origin())
	slot := s.job.Spring.Start.Pose(s.job.Spring.Heading)
	off := r3.Sub(end.At, slot.At)
	turn := beam.RotationBetween(slot, end)
	of := s.view.Teeth.ActiveMember()
	return freeEnd{
		upMM: math.Abs(off.Z), upWord: s.words.Way(of, tooth.ForceZ, off.Z),
		alongMM: math.Abs(off.X), alongWord: s.words.Way(of, tooth.ForceX, off.X),
		acrossMM: math.Abs(off.Y), acrossWord: s.words.Way(of, tooth.ForceY, off.Y),
		turnRad: r3.Norm(turn),
		// A turn is anticlockwise about an axis that points at the viewer. From the cheek that
		// is right × up, from the biting side −z, and for somebody who looks along +x, −x.
		cheekRad: -s.view.XSign * s.view.ZSign * turn.Y, bitingRad: -turn.Z, archRad: -turn.X,
	}
}

// endMark names the wire's last mark on paper: the point that enters the active slot, or
// where the hook is. The cut wire goes on behind it.
const endMark = "E"

// gaugeCheck is the check with the force gauge.
type gaugeCheck struct{ *subject }

func (g gaugeCheck) draw(f *flow) {
	f.paragraph(g.gaugeText(), sheet.Style{SizePt: sheet.BodyPt}, afterCheckMM)
}

func (g gaugeCheck) heightMM(f *flow) float64 {
	style := sheet.Style{SizePt: sheet.BodyPt}
	return f.doc.HeightOf(g.gaugeText(), f.area.Width(), style) + afterCheckMM
}

// spreadOfWires is how far real wires of one name differ from the nominal stiffness
// (110–179 gf in one test of several makes; Prog Orthod 2014, doi 10.1186/s40510-014-0042-0).
const spreadOfWires = 0.25

func (c gaugeCheck) gaugeText() string {
	g := c.job.Evaluation.Gauge
	switch {
	case g.Solved:
	case g.Lack == solve.GaugeCouples:
		return c.say("Gauge check: none. This spring works by couples, and a force gauge at E shows nothing of them. Check its bends, its twists and its neutral position instead.")
	case g.Lack == solve.GaugeUnsolved:
		return c.say("Gauge check: none for this spring; E comes to no rest where it is to be pulled.")
	default:
		return c.say("Gauge check: none for this spring; along its force E already lies level with the slot. Check the neutral position instead.")
	}
	low, high := (1-spreadOfWires)*g.ForceN, (1+spreadOfWires)*g.ForceN
	return c.say("Gauge check: clamp the anchor end and pull the wire at E %s mm %s, free to turn. The gauge should read %s N (%s gf); %s to %s N (%s to %s gf) is the usual spread of wires.",
		c.words.Number(math.Abs(g.TravelMM), 1), c.words.Towards(c.view.Teeth.ActiveMember(), g.Axis, g.TravelMM),
		c.words.Number(g.ForceN, 2), c.words.Number(g.ForceN/gramForceN, 0),
		c.words.Number(low, 2), c.words.Number(high, 2), c.words.Number(low/gramForceN, 0), c.words.Number(high/gramForceN, 0))
}
