package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design/course"
	"springwright/design/spring"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// ClassMarks are the marks of a class on their way to paper.
type ClassMarks struct {
	Frame
	Marks course.Marks
}

// MarkSheets are the page of the class, and a page for each student: the spring as bent over its drawing with what to
// correct. The error wraps ErrJob where something cannot be drawn.
func MarkSheets(c ClassMarks) (file []byte, pages [][]byte, err error) {
	doc, err := c.compose()
	if err != nil {
		return nil, nil, err
	}
	w := words.NewBook(c.Language)
	return c.written(doc, w.Say("Marks %s", c.Marks.Class.Case.Code), w.Say("Marks of a class, for the teacher"))
}

func (c ClassMarks) compose() (*sheet.Document, error) {
	f, err := c.Frame.flow()
	if err != nil {
		return nil, err
	}
	var found faults
	checkTeeth(c.Marks.Class.Case.Teeth, found.add)
	c.Frame.check(found.add)
	for _, m := range c.Marks.Marks {
		if rad, mm := m.Worst(); math.IsNaN(rad+mm) || math.IsInf(rad+mm, 0) {
			found.add("%s: a number is not finite", m.Student.Code())
		}
	}
	if err := found.err(); err != nil {
		return nil, err
	}
	f.top.head = headOf(f.words, c.Marks.Class.Case, f.say("For the teacher. Codes only, no names."))
	(classPage{c.Marks}).draw(f)
	for _, m := range c.Marks.Marks {
		if err := c.student(f, m); err != nil {
			return nil, fmt.Errorf("%w: %s: %w", ErrJob, m.Student.Code(), err)
		}
	}
	return f.finished()
}

// classPage is the class as a whole.
type classPage struct{ course.Marks }

func (p classPage) draw(f *flow) {
	f.newPage("Class")
	body := sheet.Style{SizePt: sheet.BodyPt}
	f.heading(f.say("Class"), "")
	f.block(bandsText(f.words, p.Bands), body)
	f.block(countText(f.words, p.Marks), body)
	if text := worstText(f.words, p.Marks); text != "" {
		f.block(text, sheet.Style{SizePt: sheet.BodyPt, Bold: true})
	}
	p.charts(f)
	f.take(exerciseGapMM)
	p.students(f)
	p.notRead(f)
}

const (
	barsMM     = 34.0 // height of the bars
	barsLeftMM = 8.0  // for the numbers of students
	barShare   = 0.7  // of a bar's place
	keyMM      = 4.2  // a line of the key
)

// charts are bars of how many students are within each grade's band, bend by bend, and straight by straight.
func (p classPage) charts(f *flow) {
	all := p.Tallies()
	if len(all) == 0 {
		return
	}
	most := 0
	for _, t := range all {
		most = max(most, t.Measured)
	}
	small := sheet.Style{SizePt: sheet.SmallPt, Align: sheet.Centre}
	f.need(headingMM + barsMM + 2*keyMM + 6)
	f.heading(f.say("How far off, step by step"), f.say("Students within the band of each grade. B: bends and twists, S: straights, in the order of the wire."))
	corner := f.take(barsMM + 6)
	base, left := corner.Y-barsMM-2, corner.X+barsLeftMM
	place := (f.area.Width() - barsLeftMM) / float64(len(all))
	place = math.Min(place, 14)
	unit := barsMM / float64(most)
	right := small
	right.Align = sheet.Right
	for _, n := range [...]int{0, most} {
		y := base + float64(n)*unit
		f.page.Line(sheet.Construction, plane.Point{X: left, Y: y}, plane.Point{X: left + place*float64(len(all)), Y: y})
		f.page.Text(plane.Point{X: left - 1.2, Y: y - small.CapMM()/2}, fmt.Sprint(n), right)
	}
	numbers := straightNumbers(all, p.Marks.Marks)
	for i, t := range all {
		x, y := left+(float64(i)+0.5*(1-barShare))*place, base
		for g, n := range t.ByGrade {
			box := plane.Box{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + barShare*place, Y: y + float64(n)*unit}}
			if n > 0 {
				p.shade(f, box, g, len(t.ByGrade))
			}
			y = box.Max.Y
		}
		f.page.Text(plane.Point{X: x + barShare*place/2, Y: base - small.CapMM() - 1}, barName(f.words, t, numbers[i]), small)
	}
	names, _ := p.Grades()
	key := f.take(keyMM)
	small.Align = sheet.Left
	x := key.X + barsLeftMM
	for g, name := range names {
		box := plane.Box{Min: plane.Point{X: x, Y: key.Y - 3}, Max: plane.Point{X: x + 5, Y: key.Y - 0.2}}
		p.shade(f, box, g, len(names))
		x = box.Max.X + 1.2
		x += f.page.Text(plane.Point{X: x, Y: key.Y - 2.4}, name, small) + 6
	}
}

// shade fills a box of a bar: the best grade white, those beyond all black, and between them the nearer the denser.
func (classPage) shade(f *flow, box plane.Box, grade, grades int) {
	corners := []plane.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}}
	switch {
	case grade == grades-1:
		f.page.Plate(corners)
	case grade == 0:
	case grade == 1:
		f.page.HatchOther(corners)
	case grade == 2:
		f.page.Hatch(corners)
	default:
		f.page.Hatch(corners)
		f.page.HatchOther(corners)
	}
	f.page.Rectangle(sheet.Mark, box)
}

// straightNumbers are the numbers of the straights of tallies, as casefile counts them along the wire.
func straightNumbers(all []course.Tally, marks []course.Mark) []int {
	numbers := make([]int, len(all))
	if len(marks) == 0 {
		return numbers
	}
	steps := marks[0].Student.Spring.Path.Steps()
	for i, t := range all {
		for k, s := range steps {
			if k <= t.Step && s.Kind == spring.Straight {
				numbers[i]++
			}
		}
	}
	return numbers
}

// students is a row for each student.
func (p classPage) students(f *flow) {
	t := sheet.Table{RowMM: 4.3, Columns: []sheet.Column{
		{Head: f.say("code"), WidthMM: 25},
		{Head: f.say("grade"), WidthMM: 11},
		{Head: f.say("worst bend"), WidthMM: 19, Align: sheet.Right},
		{Head: f.say("worst\nstraight"), WidthMM: 15, Align: sheet.Right},
		{Head: f.say("force, N\ndrawn"), WidthMM: 13, Align: sheet.Right},
		{Head: "\n" + f.say("bent"), WidthMM: 11, Align: sheet.Right},
		{Head: f.say("couple, N·mm\ndrawn"), WidthMM: 18, Align: sheet.Right},
		{Head: "\n" + f.say("bent"), WidthMM: 11, Align: sheet.Right},
		{Head: f.say("in 100"), WidthMM: 11, Align: sheet.Right},
		{WidthMM: 1.5},
		{Head: f.say("to correct")},
	}}
	t.Fill(len(t.Columns)-1, f.area.Width())
	var rows [][]string
	for _, m := range p.Marks.Marks {
		row, correct := markRow(f.words, m)
		rows = append(rows, append(row, "", f.doc.Fit(correct, t.Columns[len(t.Columns)-1].WidthMM, sheet.Style{SizePt: sheet.BodyPt})))
	}
	if len(rows) > 0 {
		f.drawRows(t, rows, f.say("Students"), f.say("Force up or down and tipping couple on the active tooth at the start. In 100: springs that it may be that meet the target."))
	}
}

// plus is the sign of a number that has none printed.
func plus(v float64) string {
	if v > 0 {
		return "+"
	}
	return ""
}

// notRead lists what was not read and who is missing.
func (p classPage) notRead(f *flow) {
	if len(p.Marks.NotRead) > 0 {
		f.take(exerciseGapMM)
		f.need(headingMM + 8)
		f.heading(f.say("Not read"), f.say("These stand in no figure above."))
	}
	for _, n := range p.Marks.NotRead {
		name := n.Source
		if n.Code != "" {
			name += " (" + n.Code + ")"
		}
		f.block(f.printed(name)+": "+notReadText(f.words, n.Err), sheet.Style{SizePt: sheet.SmallPt})
	}
	if len(p.Missing) > 0 {
		f.take(exerciseGapMM)
		f.block(f.say("Nothing handed in: %s.", strings.Join(p.Missing, ", ")), sheet.Style{SizePt: sheet.BodyPt})
	}
}

// printed is a file's name with what the typeface lacks left out.
func (f *flow) printed(name string) string {
	lacking := f.doc.Lacking(name)
	return strings.Map(func(r rune) rune {
		if slices.Contains(lacking, r) {
			return '?'
		}
		return r
	}, name)
}
