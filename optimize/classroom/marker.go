package classroom

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/design/fault"
	"springwright/design/photo"
	"springwright/design/solve"
	"springwright/design/spring"
)

// Open reads a class that was handed out: its cases and springs by read, which returns a file's full name as well. The
// errors are those of read, of casefile and of the solver.
func Open(ctx context.Context, listed casefile.ClassFile, read func(file string) (name string, data []byte, err error)) (course.Class, error) {
	class := course.Class{Seed: listed.Seed, Tag: uint16(listed.Tag), Bands: listed.Bands}
	for _, entry := range listed.Students {
		s := course.Student{Number: entry.Number}
		name, text, err := read(entry.CaseFile)
		if err != nil {
			return class, err
		}
		if s.Case, err = casefile.ReadCase(name, text); err != nil {
			return class, err
		}
		s.CaseText = text
		if s.Case.Code != entry.Code {
			return class, fault.List{{File: name, Line: 1, Column: 1, Key: "case", Text: fmt.Sprintf("is %q, the class has %q", s.Case.Code, entry.Code), Hint: "leave the files of the class as they were written"}}
		}
		if name, text, err = read(entry.SpringFile); err != nil {
			return class, err
		}
		if s.Spring, err = casefile.ReadSpring(name, text); err != nil {
			return class, err
		}
		if s.Spring.Teeth != s.Case.Teeth {
			return class, fault.List{{File: name, Line: 1, Column: 1, Key: "teeth", Text: "are not those of the student's case", Hint: "leave the files of the class as they were written"}}
		}
		s.Case.Heading, s.Case.Wire, s.Case.Slide = s.Spring.Heading, s.Spring.Wire, s.Spring.Slide
		if s.Evaluation, err = solve.Evaluate(ctx, s.Spring, solve.Options{AllowYield: true}); err != nil && !errors.Is(err, solve.ErrYield) {
			return class, err
		}
		first := s.Evaluation.Record.Positions[0]
		s.Answer.Active, s.Answer.Anchor = first.Active, first.Anchor
		class.Students = append(class.Students, s)
	}
	class.Case = class.Students[0].Case
	class.Case.Code = listed.Case
	return class, nil
}

// Marker marks what a class handed in.
type Marker struct {
	Class course.Class
	Bands course.Bands
	// LevelMM and UprightMM are what the bars of the printed cards measure; 0 where nobody has measured them.
	LevelMM, UprightMM float64
	Workers            int // 0: one for each core; the marks are the same on any number
	Progress           func(done, total int)
}

// Table marks a table of readings. The error is that of ctx.
func (m Marker) Table(ctx context.Context, source string, readings []casefile.ClassReading) (course.Marks, error) {
	out := m.begin()
	for i, r := range readings {
		if len(r.Faults) > 0 {
			out.NotRead = append(out.NotRead, course.NotRead{Source: source, Code: r.Code, Err: fmt.Errorf("%w: %w", course.BadNumbers, r.Faults)})
			continue
		}
		if err := m.mark(ctx, &out, m.Class.Students[r.Sheet], source, r.Measured); err != nil {
			return out, err
		}
		m.tell(i+1, len(readings))
	}
	return m.finish(out), nil
}

// largestPicture is what photo reads at most.
const largestPicture = 96 << 20

// Pictures marks pictures of springs on their cards. One that cannot be read is told with the reason and stops no other. The
// error is that of ctx.
func (m Marker) Pictures(ctx context.Context, folder fs.FS, names []string) (course.Marks, error) {
	out := m.begin()
	for i, name := range names {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		student, readings, err := m.picture(folder, name)
		if err == nil && slices.ContainsFunc(out.Marks, func(k course.Mark) bool { return k.Student.Number == student.Number }) {
			err = course.Twice
		}
		if err != nil {
			out.NotRead = append(out.NotRead, course.NotRead{Source: name, Code: student.Code(), Err: err})
			continue
		}
		if err := m.mark(ctx, &out, student, name, spring.Measured{Steps: readings}); err != nil {
			return out, err
		}
		m.tell(i+1, len(names))
	}
	return m.finish(out), nil
}

func (m Marker) begin() course.Marks { return course.Marks{Class: m.Class, Bands: m.Bands} }

func (m Marker) tell(done, total int) {
	if m.Progress != nil {
		m.Progress(done, total)
	}
}

func (m Marker) mark(ctx context.Context, out *course.Marks, s course.Student, source string, measured spring.Measured) error {
	one, err := Mark(ctx, s, source, measured, m.Bands, m.Workers)
	out.Marks = append(out.Marks, one)
	return err
}

// finish puts the marks in the order of the students and lists those who are missing: neither marked nor handed in and not
// read.
func (m Marker) finish(out course.Marks) course.Marks {
	slices.SortStableFunc(out.Marks, func(a, b course.Mark) int { return a.Student.Number - b.Student.Number })
	for _, s := range m.Class.Students {
		marked := slices.ContainsFunc(out.Marks, func(k course.Mark) bool { return k.Student.Number == s.Number })
		handed := slices.ContainsFunc(out.NotRead, func(n course.NotRead) bool { return n.Code == s.Code() })
		if !marked && !handed {
			out.Missing = append(out.Missing, s.Code())
		}
	}
	return out
}

// picture reads a picture: whose it is, and what was bent.
func (m Marker) picture(folder fs.FS, name string) (s course.Student, readings []spring.StepReading, err error) {
	f, err := folder.Open(name)
	if err != nil {
		return s, nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestPicture+1))
	if err != nil {
		return s, nil, err
	}
	owner, err := photo.ReadOwner(bytes.NewReader(data))
	if err != nil {
		return m.named(name), nil, err
	}
	switch {
	case owner == (photo.Owner{}):
		if s = m.named(name); s.Number == 0 {
			return s, nil, course.NoOwner
		}
	case owner.Class != m.Class.Tag:
		return s, nil, course.OtherClass
	case int(owner.Student) > len(m.Class.Students):
		return s, nil, course.NoStudent
	default:
		s = m.Class.Students[owner.Student-1]
	}
	expect, err := photo.ExpectOf(s.Spring)
	if err != nil {
		return s, nil, err
	}
	expect.LevelBarMM, expect.UprightBarMM = m.LevelMM, m.UprightMM
	outline, err := photo.Read(bytes.NewReader(data), expect)
	if err != nil {
		return s, nil, err
	}
	return s, outline.Readings(), nil
}

// named is the student whose code a picture's file has as its name; nobody where it has none.
func (m Marker) named(name string) course.Student {
	base := strings.TrimSuffix(path.Base(name), path.Ext(name))
	for _, s := range m.Class.Students {
		if strings.EqualFold(s.Code(), base) {
			return s
		}
	}
	return course.Student{}
}
