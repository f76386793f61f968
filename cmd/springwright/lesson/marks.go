package lesson

import (
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/export"
	"springwright/optimize/classroom"
)

// Open reads a class that was handed out into a folder, and returns the text of its class file as well. The error is
// that of read, of casefile or of the solver.
func Open(ctx context.Context, dir string, read func(path string) ([]byte, error)) (course.Class, []byte, error) {
	name := filepath.Join(dir, ClassName)
	data, err := read(name)
	if err != nil {
		return course.Class{}, nil, err
	}
	listed, err := casefile.ReadClass(name, data)
	if err != nil {
		return course.Class{}, nil, err
	}
	class, err := classroom.Open(ctx, listed, func(file string) (string, []byte, error) {
		path := filepath.Join(dir, file)
		data, err := read(path)
		return path, data, err
	})
	return class, data, err
}

// HandedIn is what a class has handed in: a table of readings, or pictures.
type HandedIn struct {
	Table string // the name of the table; "" for pictures
	Data  []byte // the table

	Folder   fs.FS // the pictures
	Pictures []string
}

// Marked are the marks of a class with their files.
type Marked struct {
	Marks  course.Marks
	Record []byte // the marks as JSON
	Files  []export.File
}

// Mark marks what was handed in. Of the frame the fingerprint is filled in; classFile is the text that Open returned.
// The error is that of ctx, of casefile where the table cannot be read, or of export.
func Mark(ctx context.Context, m classroom.Marker, in HandedIn, classFile []byte, frame export.Frame, program string) (Marked, error) {
	var out Marked
	read := in.Data
	if in.Table != "" {
		readings, err := casefile.ReadClassMeasured(in.Table, in.Data, sheetsOf(m.Class))
		if err != nil {
			return out, err
		}
		if out.Marks, err = m.Table(ctx, in.Table, readings); err != nil {
			return out, err
		}
	} else {
		var err error
		if out.Marks, err = m.Pictures(ctx, in.Folder, in.Pictures); err != nil {
			return out, err
		}
		for _, mark := range out.Marks.Marks {
			read = fmt.Appendf(read, "%s %v", mark.Source, mark.Steps)
		}
	}
	frame.Fingerprint = casefile.FingerprintOf(append(slices.Clone(classFile), read...))
	file, _, err := export.MarkSheets(export.ClassMarks{Frame: frame, Marks: out.Marks})
	if err != nil {
		return out, err
	}
	if out.Record, err = casefile.WriteMarks(casefile.Origin{Program: program, Fingerprint: frame.Fingerprint}, out.Marks); err != nil {
		return out, err
	}
	out.Files = []export.File{{Name: "marks.pdf", Data: file}, {Name: "marks.csv", Data: casefile.MarksTable(out.Marks)}}
	return out, nil
}

// IsPicture tells by its name whether a file may be a picture that marking reads.
func IsPicture(name string) bool {
	return !strings.HasPrefix(name, ".") && slices.Contains([]string{".png", ".jpg", ".jpeg"}, strings.ToLower(filepath.Ext(name)))
}
