package export

import (
	"errors"
	"fmt"
	"math"

	"springwright/design/course"
	"springwright/design/photo"
	"springwright/design/report"
	"springwright/design/tooth"
	"springwright/export/plane"
	"springwright/export/sheet"
	"springwright/export/words"
)

// Course is a class on its way to paper.
type Course struct {
	Frame
	Class course.Class
}

// StudentSheets are the pages that the students get, all in one document. The errors of this and of the other sheets
// of a course wrap ErrJob.
func StudentSheets(c Course) (file []byte, pages [][]byte, err error) {
	return c.sheets(c.students, "Exercise %s", "Springs to bend, for students: print at 100 %%")
}

// AnswerSheets are a page of answers for each student.
func AnswerSheets(c Course) (file []byte, pages [][]byte, err error) {
	return c.sheets(c.answers, "Answers %s", "Answers to the exercise, for the teacher")
}

// KeySheets are the teacher's page with the keys of all students.
func KeySheets(c Course) (file []byte, pages [][]byte, err error) {
	return c.sheets(c.keys, "Keys %s", "Keys of all students, for the teacher")
}

func (c Course) sheets(lay func() (*sheet.Document, error), title, what words.Phrase) (file []byte, pages [][]byte, err error) {
	doc, err := lay()
	if err != nil {
		return nil, nil, err
	}
	w := words.NewBook(c.Language)
	return c.written(doc, w.Say(title, c.Class.Case.Code), w.Say(what))
}

// begin checks a course and returns a document without pages and the springs.
func (c Course) begin() (*flow, []*subject, error) {
	var found faults
	if len(c.Class.Students) == 0 {
		found.add("there is no student")
	}
	f, err := c.Frame.flow()
	if err != nil {
		return nil, nil, err
	}
	var all []*subject
	for _, s := range c.Class.Students {
		one, err := c.student(f, s)
		if err != nil {
			found.add("%s: %w", s.Code(), err)
		}
		all = append(all, one)
	}
	return f, all, found.err()
}

// student is a student's spring; the error is about what cannot be drawn of it.
func (c Course) student(f *flow, s course.Student) (*subject, error) {
	job := Job{Frame: c.Frame, Report: report.Report{Case: s.Case, Spring: s.Spring, Evaluation: s.Evaluation}}
	one := subjectOf(job, f.speech)
	one.owner = c.Class.Owner(s)
	numbers := s.Hardness.Share + s.Hardness.LargestAngleRad + s.Hardness.LeastToleranceRad + s.Answer.NothingMM
	for _, l := range [...]tooth.Load{s.Answer.Active, s.Answer.Anchor, s.Answer.WhatIf[0], s.Answer.WhatIf[1]} {
		for k := range tooth.Components {
			numbers += l.Component(k)
		}
	}
	if err := job.check(); err != nil {
		return one, err
	}
	if math.IsNaN(numbers) || math.IsInf(numbers, 0) {
		return one, errors.New("a number of the answers is not finite")
	}
	return one, nil
}

// students lays out two pages for each: the spring with questions, and its bend steps with the card.
func (c Course) students() (*sheet.Document, error) {
	f, all, err := c.begin()
	if err != nil {
		return nil, err
	}
	for i, s := range all {
		f.top.head = s.headText()
		if err := (exercisePage{s, c.Class.Students[i].Answer}).draw(f); err != nil {
			return nil, fmt.Errorf("%s: %w", s.job.Case.Code, err)
		}
		(exerciseSteps{bendTexts{s}}).draw(f)
	}
	return f.finished()
}

// exercisePage is the spring at true size, boxes for the loads on both teeth, and questions.
type exercisePage struct {
	*subject
	answer course.Answer
}

const (
	boxRowMM      = 9.0 // of boxes that are written in by hand
	answerLineMM  = 8.0 // of a line that is
	exerciseGapMM = 2.5
)

func (p exercisePage) draw(f *flow) error {
	f.newPage("Exercise")
	body := sheet.Style{SizePt: sheet.BodyPt}
	given, questions, boxes := p.given(), p.questions(), p.boxes(f)
	below := headingMM + f.blockMM(given, body) + boxes.HeightMM() + exerciseGapMM + headingMM
	for _, q := range questions {
		below += f.blockMM(q, body) + answerLineMM
	}
	f.heading(f.say("Exercise"), f.say("For practice, not for a patient. Bend it over the drawing; lay the wire on it after every bend."))
	if err := p.drawing(f, f.leftMM()-below-exerciseGapMM); err != nil {
		return err
	}
	f.take(exerciseGapMM)
	f.heading(f.say("Loads at the start"), f.say("Fill in how much and which way, on the teeth, couples about the centre of each slot."))
	f.block(given, body)
	boxes.Draw(f.page, f.take(boxes.HeightMM()+exerciseGapMM))
	f.heading(f.say("Questions"), "")
	for _, q := range questions {
		f.block(q, body)
		y := f.take(answerLineMM).Y - answerLineMM + 2.5
		f.page.Line(sheet.Construction, plane.Point{X: f.area.Min.X + 4, Y: y}, plane.Point{X: f.area.Max.X, Y: y})
	}
	return nil
}

// drawing draws the spring at true size, and enlarged where there is room.
func (p exercisePage) drawing(f *flow, roomMM float64) error {
	page := templatePage{subject: p.subject}
	views := []scene{p.scene()}
	if p.spatial() {
		plan := p.plan()
		left, right := math.Min(views[0].bounds.Min.X, plan.bounds.Min.X), math.Max(views[0].bounds.Max.X, plan.bounds.Max.X)
		views = append(views, plan)
		for i := range views {
			views[i].bounds.Min.X, views[i].bounds.Max.X = left, right
		}
	}
	all := panelsFor(views, f.area.Width(), roomMM)
	if len(all) == 0 {
		return page.tooLarge(f, views, roomMM)
	}
	taken, drawn := page.drawViews(f, views, all, f.take(0))
	if !drawn {
		return fmt.Errorf("%w: %w", ErrJob, errCrowded)
	}
	f.take(taken)
	return nil
}

// given is what the student starts from: the loads on the active tooth on the axes, and where it stands.
func (p exercisePage) given() string {
	l, arm := p.job.Evaluation.Record.Positions[0].Active, p.answer.ArmMM
	number := func(v float64) string { return p.words.Number(v, 2) }
	force := func(v float64) string { return p.words.Number(v, 3) } // times a distance of 10 mm it is good to a hundredth of a N·mm
	return p.say("Given: on tooth %d the force (%s; %s; %s) N and the couple (%s; %s; %s) N·mm along and about x, y and z. x runs along the arch from the anchor to the active tooth, z towards the root tips, y = z × x. The active slot's centre lies at (%s; %s; %s) mm from the anchor's.",
		int(p.job.Case.Teeth.Active), force(l.ForceN.X), force(l.ForceN.Y), force(l.ForceN.Z), number(l.CoupleNMM.X), number(l.CoupleNMM.Y), number(l.CoupleNMM.Z),
		number(arm.X), number(arm.Y), number(arm.Z))
}

// loadHeads name the loads of a table of both teeth, in the order of loadOrder.
func (s speech) loadHeads() []string {
	return []string{
		s.say("up or down\nN"), s.say("along arch\nN"), s.say("across arch\nN"),
		s.say("tipping\nN·mm"), s.say("torque\nN·mm"), s.say("rotation\nN·mm"),
	}
}

var loadOrder = [...]tooth.Component{tooth.ForceZ, tooth.ForceX, tooth.ForceY, tooth.CoupleY, tooth.CoupleX, tooth.CoupleZ}

// boxes is a table of both teeth to write in.
func (p exercisePage) boxes(f *flow) sheet.Table {
	const toothMM = 40.0
	t := sheet.Table{RowMM: boxRowMM, Columns: []sheet.Column{{Head: "", WidthMM: toothMM}}}
	for _, head := range p.loadHeads() {
		t.Columns = append(t.Columns, sheet.Column{Head: head, WidthMM: (f.area.Width() - toothMM) / float64(len(loadOrder)), Ruled: true})
	}
	teeth := p.job.Case.Teeth
	t.Rows = [][]string{{p.say("Active tooth %d", int(teeth.Active))}, {p.say("Anchor tooth %d", int(teeth.Anchor))}}
	for i := range t.Rows {
		t.Rows[i] = append(t.Rows[i], make([]string, len(loadOrder))...)
	}
	return t
}

// questions are those asked of every student.
func (p exercisePage) questions() []string {
	all := []string{
		p.say("1. Which geometry class, I to VI, are the couples on the two teeth of?"),
		p.say("2. What does the anchor tooth feel, and what would it do if nothing held it?"),
		p.say("3. Where on the line through both slots would a force alone do the same to the active tooth, without a couple? Give mm along the arch from the anchor slot."),
	}
	if p.answer.Bend > 0 {
		all = append(all, p.say("4. Bend %d is bent %s too far. Which load changes most, and which way?", p.answer.Bend, p.words.Degrees(course.WhatIfRad)))
	}
	return all
}

// exerciseSteps is the second page: the bend steps, and the card to be marked by.
type exerciseSteps struct{ bendTexts }

func (p exerciseSteps) draw(f *flow) {
	if _, err := photo.ExpectOf(p.job.Spring); err == nil {
		checkPage{p.subject}.layOut(f)
	} else {
		f.newPage("Bend steps")
	}
	f.take(exerciseGapMM)
	t := p.bendTable()
	t.Fill(len(t.Columns)-1, f.area.Width())
	for rows := t.Rows; len(rows) > 0; {
		f.need(headingMM + t.HeadMM() + 10)
		f.heading(f.say("Bend steps"), p.columnsText())
		t.Rows = rows[:min(len(rows), max(1, t.RowsIn(f.leftMM())))]
		rows = rows[len(t.Rows):]
		t.Draw(f.page, f.take(t.HeightMM()))
	}
	f.take(exerciseGapMM)
	f.block(lengthsText(p.words, p.bends), sheet.Style{SizePt: sheet.BodyPt, Bold: true})
	f.block(p.waysText(), sheet.Style{SizePt: sheet.BodyPt})
}
