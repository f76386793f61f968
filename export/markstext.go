package export

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"springwright/design/course"
	"springwright/design/photo"
	"springwright/export/words"
)

// MarksText is what is told of the marks of a class, in words: what the page of the class says.
type MarksText struct {
	Bands, Count, Worst string     // Worst is "" where no bend was measured
	Grades              []string   // the best first
	Bars                []MarksBar // how far off the class is, step by step
	Rows                [][]string // the first has the headings
	NotRead             [][3]string
	Missing             string // "" where all handed something in
}

// MarksBar counts the students within the band of each grade at a step of the wire.
type MarksBar struct {
	Name    string
	ByGrade []int // as Grades
}

// MarksTextOf puts marks into words. Of what was not read it tells the source, why, and what to do.
func MarksTextOf(m course.Marks, l words.Language) MarksText {
	b := words.NewBook(l)
	t := MarksText{Bands: bandsText(b, m.Bands), Count: countText(b, m), Worst: worstText(b, m)}
	t.Grades, _ = m.Grades()
	all := m.Tallies()
	numbers := straightNumbers(all, m.Marks)
	for i, one := range all {
		t.Bars = append(t.Bars, MarksBar{barName(b, one, numbers[i]), one.ByGrade})
	}
	oneLine := func(phrase string) string { return strings.ReplaceAll(phrase, "\n", " ") }
	t.Rows = [][]string{{
		b.Say("code"), b.Say("grade"), b.Say("worst bend"), oneLine(b.Say("worst\nstraight")), oneLine(b.Say("force, N\ndrawn")), b.Say("bent"),
		oneLine(b.Say("couple, N·mm\ndrawn")), b.Say("bent"), b.Say("in 100"), b.Say("to correct"),
	}}
	for _, mark := range m.Marks {
		row, correct := markRow(b, mark)
		t.Rows = append(t.Rows, append(row, correct))
	}
	for _, n := range m.NotRead {
		name := n.Source
		if n.Code != "" {
			name += " (" + n.Code + ")"
		}
		text, hint := notRead(b, n.Err)
		t.NotRead = append(t.NotRead, [3]string{name, text, hint})
	}
	if len(m.Missing) > 0 {
		t.Missing = b.Say("Nothing handed in: %s.", strings.Join(m.Missing, ", "))
	}
	return t
}

// bandsText says what the grades allow.
func bandsText(b *words.Book, bands course.Bands) string {
	var parts []string
	for _, g := range bands.List {
		part := b.Say("%s to %s and %s mm", g.Grade, b.Degrees(g.AngleRad), b.Millimetres(g.LengthMM))
		if g.Met {
			part += " " + b.Say("and the target met")
		}
		parts = append(parts, part)
	}
	return b.Say("The worst bend and the worst straight decide: %s, else %s.", strings.Join(parts, ", "), bands.Below)
}

// countText is how many have each grade.
func countText(b *words.Book, m course.Marks) string {
	names, students := m.Grades()
	var parts []string
	for i, name := range names {
		parts = append(parts, fmt.Sprintf("%s: %d", name, students[i]))
	}
	return b.Say("Springs marked: %d. Grades: %s.", len(m.Marks), strings.Join(parts, ", "))
}

// worstText says which bend goes wrong most; "" where none was measured.
func worstText(b *words.Book, m course.Marks) string {
	t, ok := m.WorstStep()
	if !ok {
		return ""
	}
	off := b.Say("on average %s too little", b.Degrees(math.Abs(t.MeanOff)))
	if t.MeanOff > 0 {
		off = b.Say("on average %s too much", b.Degrees(t.MeanOff))
	}
	return b.Say("Goes wrong most: bend %d, the worst bend of %d of %d springs, %s.", t.Number, t.Worst, t.Measured, off)
}

// barName names a step of the wire in a few letters.
func barName(b *words.Book, t course.Tally, straight int) string {
	if t.Number == 0 {
		return b.Say("S%d", straight)
	}
	return b.Say("B%d", t.Number)
}

// markRow is a student's row, and what is to be corrected.
func markRow(b *words.Book, m course.Mark) (row []string, correct string) {
	number := b.Number
	grade := m.Grade
	if grade == "" {
		grade = "–"
	}
	row = []string{m.Student.Code(), grade, "–", "–"}
	if m.WorstBend >= 0 {
		o := m.Steps[m.WorstBend]
		row[2] = fmt.Sprintf("%d: %s", o.Number, plus(o.Off)+number(o.Off/degree, 1)+"°")
	}
	if m.WorstStraight >= 0 {
		o := m.Steps[m.WorstStraight]
		row[3] = plus(o.Off) + number(o.Off, 2)
	}
	drawn := m.Student.Answer.Active
	row = append(row, number(drawn.ForceN.Z, 2), "–", number(drawn.CoupleNMM.Y, 1), "–", "–")
	if loads, ok := m.Bent(); ok {
		row[5], row[7] = number(loads[0].ForceN.Z, 2), number(loads[0].CoupleNMM.Y, 1)
	}
	if m.Report != nil {
		row[8] = words.InHundred(m.Report.AsBent.Trial.Chance())
		correct = b.Say("nothing")
		if m.Report.One != nil {
			correct = correctionInShort(b, m)
		} else if !m.Met() {
			correct = b.Say("bend a new one")
		}
	} else if m.NotReckoned != nil {
		correct = b.Say("no loads: bend anew")
	}
	return row, correct
}

// correctionInShort is the one correction in a few letters; the student's own page says it in full.
func correctionInShort(b *words.Book, m course.Mark) string {
	by := m.Report.One.Corrections[0]
	angle := b.Degrees(math.Abs(by.ByRad))
	number := m.Student.Spring.Path.BendNumbers()[by.Step]
	switch {
	case by.Fresh:
		return b.Say("a fresh bend, %s", angle)
	case by.Opens():
		return b.Say("open bend %d by %s", number, angle)
	}
	return b.Say("close bend %d by %s", number, angle)
}

// notReadText is why something was not read and what to do, as sentences.
func notReadText(b *words.Book, err error) string {
	text, hint := notRead(b, err)
	if hint != "" {
		text += ". " + words.Capital(hint)
	}
	return text + "."
}

func notRead(b *words.Book, err error) (text, hint string) {
	var picture *photo.PictureError
	var own course.Refusal
	switch {
	case errors.As(err, &picture):
		return b.PictureRefusal(picture)
	case errors.As(err, &own):
		return b.Say(refusals[own]), ""
	}
	return b.Say("it cannot be read; the list on the terminal says why"), ""
}

// refusals are the reasons of a course's own.
var refusals = [...]words.Phrase{
	course.OtherClass: "the card is of another class",
	course.NoOwner:    "nothing tells whose it is: the card has no strip that can be read, and the file's name no code of this class",
	course.Twice:      "a picture of the same student was read before: keep the one that holds",
	course.NoStudent:  "the card's number is that of no student of this class",
	course.BadNumbers: "its numbers in the table cannot be used",
}
