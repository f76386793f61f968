package lesson

import (
	"context"
	"fmt"

	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/export"
	"springwright/optimize/classroom"
)

// Handed is a class and what is handed out to it.
type Handed struct {
	Class  course.Class
	Record []byte // class.json, which is one of the files
	Files  []export.File
}

// HandOut makes a class and its files. Of the frame the fingerprint is filled in; bands is how the bands of the
// course were written, "" where they are the usual ones; program is its name and version, as files tell. The error
// is that of classroom.Make, or of export.
func HandOut(ctx context.Context, o classroom.Course, bands string, frame export.Frame, program string) (Handed, error) {
	class, err := classroom.Make(ctx, o)
	if err != nil {
		return Handed{}, err
	}
	out := Handed{Class: class}
	frame.Fingerprint = casefile.FingerprintOf(o.Text, fmt.Appendf(nil, "%d %d %s", o.Students, o.Seed, bands))
	sheets := export.Course{Frame: frame, Class: class}
	for _, one := range [...]struct {
		name string
		make func(export.Course) ([]byte, [][]byte, error)
	}{{"students.pdf", export.StudentSheets}, {"answers.pdf", export.AnswerSheets}, {"keys.pdf", export.KeySheets}} {
		data, _, err := one.make(sheets)
		if err != nil {
			return Handed{}, err
		}
		out.Files = append(out.Files, export.File{Name: one.name, Data: data})
	}
	if out.Record, err = casefile.WriteClass(casefile.Origin{Program: program, Fingerprint: frame.Fingerprint}, class); err != nil {
		return Handed{}, err
	}
	out.Files = append(out.Files, export.File{Name: ClassName, Data: out.Record}, export.File{Name: "readings.csv", Data: casefile.ClassTable(sheetsOf(class))})
	for _, s := range class.Students {
		entry := casefile.EntryOf(s)
		out.Files = append(out.Files, export.File{Name: entry.CaseFile, Data: s.CaseText}, export.File{Name: entry.SpringFile, Data: casefile.WriteSpring(s.Spring)})
	}
	return out, nil
}

// ClassName is the file of a class that marking goes by.
const ClassName = "class.json"

// sheetsOf are what the table of readings is about.
func sheetsOf(class course.Class) []casefile.ClassSheet {
	var all []casefile.ClassSheet
	for _, s := range class.Students {
		all = append(all, casefile.ClassSheet{Code: s.Code(), Spring: s.Spring, Bender: s.Case.Bender, Gauge: casefile.GaugeWayOf(s.Evaluation.Gauge)})
	}
	return all
}
