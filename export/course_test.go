package export

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design/bent"
	"springwright/design/course"
	"springwright/design/photo"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/sheet"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// testCourse is a class with the spring of a job.
func testCourse(job Job, frame Frame, students int) Course {
	first := job.Evaluation.Record.Positions[0]
	hard := course.Hardness{Bends: 6, Share: 0.76, LargestAngleRad: 1.9, LeastToleranceRad: 0.04}
	class := course.Class{Case: job.Case, Hardness: hard, Tag: 0xabc, Bands: course.UsualBands(), LeastApart: course.Apart{AngleRad: 0.2, LengthMM: 2, Beyond: 1.1}}
	for i := range students {
		s := course.Student{Number: i + 1, Case: job.Case, Spring: job.Spring, Evaluation: job.Evaluation, Hardness: hard}
		s.Case.Code = "demo-37-" + string(rune('a'+i%26))
		s.Answer = course.Answer{
			Active: first.Active, Anchor: first.Anchor, Class: 4, ArmMM: r3.Vec{X: 12.5, Z: -1.5}, NothingMM: 11.9, HasNothing: i%2 == 0,
			Bend: 3, Seated: i%3 > 0, WhatIf: [2]tooth.Load{first.Anchor, first.Active},
		}
		class.Students = append(class.Students, s)
	}
	return Course{Frame: frame, Class: class}
}

// testClassMarks are its marks, with everything that can befall a spring.
func testClassMarks(c Course) ClassMarks {
	bands := c.Class.Bands
	bands.List = append(slices.Clone(bands.List), course.Band{Grade: "D", AngleRad: 0.2, LengthMM: 2, Met: true})
	m := course.Marks{Class: c.Class, Bands: bands, Missing: []string{"demo-37-x", "demo-37-y"}}
	for i, s := range c.Class.Students[:len(c.Class.Students)-1] {
		made := s.Spring
		steps := slices.Clone(made.Path.Steps())
		var readings []spring.StepReading
		for k := range steps {
			off := 0.02 * float64((i*7+k*5)%13-6)
			v := &steps[k].LengthMM
			if steps[k].Kind != spring.Straight {
				v = &steps[k].AngleRad
			} else {
				off *= 5
			}
			*v += off
			if i != 3 || k > 3 {
				readings = append(readings, spring.StepReading{Step: k, Value: *v})
			}
		}
		made.Path = spring.PathOf(steps...)
		one := course.Measure(s, "a.jpg", readings)
		first := 0
		for k := range steps {
			if steps[k].Kind != spring.Straight && first == 0 {
				first = k
			}
		}
		one.Report = &bent.Report{AsBent: bent.Outcome{Spring: made, Evaluation: s.Evaluation, Trial: bent.Trial{Springs: 100, Met: 40}}, HasTarget: true, Allowed: 0.9}
		switch i % 4 {
		case 0:
			one.Report.One = &bent.Corrected{Corrections: []bent.Correction{{Place: bent.Place{Step: first}, ByRad: -0.05}}, Outcome: bent.Outcome{Trial: bent.Trial{Springs: 100, Met: 80}}}
		case 1:
			one.Report.One = &bent.Corrected{Corrections: []bent.Correction{{Place: bent.Place{Step: first}, ByRad: 0.05}}, Outcome: bent.Outcome{Trial: bent.Trial{Springs: 100, Met: 80}}}
		case 2:
			one.Report, one.NotReckoned = nil, errors.New("it finds no rest")
		}
		m.Marks = append(m.Marks, one.Graded(bands))
	}
	for i := range refusals {
		m.NotRead = append(m.NotRead, course.NotRead{Source: "scan.jpg", Err: course.Refusal(i)})
	}
	m.NotRead = append(m.NotRead, course.NotRead{Source: "语.jpg", Code: "demo-37-z", Err: &photo.PictureError{Reason: photo.Blurred}}, course.NotRead{Source: "b.jpg", Err: errors.New("disk")})
	return ClassMarks{Frame: c.Frame, Marks: m}
}

// Every student has two pages with the code on both, and the second has a card with a strip of its own.
func TestStudentPages(t *testing.T) {
	t.Parallel()
	c := testCourse(testJob(), Frame{Version: "0.1.0"}, 2)
	doc, err := c.students()
	if err != nil {
		t.Fatal(err)
	}
	if len(doc.Pages) != 4 {
		t.Fatalf("%d pages for 2 students", len(doc.Pages))
	}
	for i, p := range doc.Pages {
		if code := c.Class.Students[i/2].Code(); len(p.Places(code)) == 0 {
			t.Errorf("page %d lacks the code %s", i+1, code)
		}
	}
	one, _, err := StudentSheets(c)
	if err != nil {
		t.Fatal(err)
	}
	c.Class.Tag++
	other, _, err := StudentSheets(c)
	if err != nil || bytes.Equal(one, other) {
		t.Errorf("cards of two classes are the same (%v)", err)
	}
	// A spring that leaves its plane has no card: it is marked from a table.
	spatial := testCourse(spatialJob(), Frame{}, 1)
	if doc, err = spatial.students(); err != nil || doc.Says("Check by picture") {
		t.Errorf("a spatial spring has a card (%v)", err)
	}
}

// What the answer page prints as a balance comes to nothing, and a number that is none is refused.
func TestAnswersAreFinite(t *testing.T) {
	t.Parallel()
	c := testCourse(testJob(), Frame{}, 1)
	c.Class.Students[0].Answer.NothingMM = math.NaN()
	for name, make := range map[string]func(Course) ([]byte, [][]byte, error){"students": StudentSheets, "answers": AnswerSheets, "keys": KeySheets} {
		if _, _, err := make(c); !errors.Is(err, ErrJob) || !strings.Contains(err.Error(), "not finite") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, _, err := KeySheets(Course{}); !errors.Is(err, ErrJob) {
		t.Errorf("no student: %v", err)
	}
}

// The bars of the overview hold every student once at each step that was measured of him.
func TestClassPageCountsEveryStudentOnce(t *testing.T) {
	t.Parallel()
	m := testClassMarks(testCourse(testJob(), Frame{}, 9))
	for _, tally := range m.Marks.Tallies() {
		sum := 0
		for _, n := range tally.ByGrade {
			sum += n
		}
		if sum != tally.Measured {
			t.Errorf("step %d: %d in bars, %d measured", tally.Step, sum, tally.Measured)
		}
	}
	doc, err := m.compose()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range m.Marks.Marks {
		if !doc.Says(m.Student.Code()) {
			t.Errorf("%s stands nowhere", m.Student.Code())
		}
	}
	if got := m.Marks.Marks[3].Grade; got != "" {
		t.Errorf("a spring of which a bend was not measured has the grade %q", got)
	}
}

// Answers and marks have room for every word in every language: nothing is cut short.
func TestPagesOfAClassCutNoWord(t *testing.T) {
	t.Parallel()
	for language := words.English; language.Valid(); language++ {
		c := testCourse(testJob(), Frame{Version: "0.1.0", Language: language}, 5)
		for i := range c.Class.Students {
			// The longest words there are: crown torque and a turn of the mesial side, with a sign each.
			long := tooth.Load{ForceN: r3.Vec{X: -0.44, Y: 0.44, Z: -0.44}, CoupleNMM: r3.Vec{X: 14.44, Y: -14.44, Z: 14.44}}
			other := tooth.Load{ForceN: r3.Scale(-1, long.ForceN), CoupleNMM: r3.Scale(-1, long.CoupleNMM)}
			a := &c.Class.Students[i].Answer
			a.Active, a.Anchor, a.WhatIf = long, other, [2]tooth.Load{other, long}
		}
		answers, err := c.answers()
		if err != nil {
			t.Fatal(err)
		}
		marks := testClassMarks(c)
		springs, err := marks.compose()
		if err != nil {
			t.Fatal(err)
		}
		for name, doc := range map[string]*sheet.Document{"answers": answers, "marks": springs} {
			if doc.Says("…") {
				t.Errorf("%v: a page of the %s cuts a word short", language, name)
			}
		}
	}
}
