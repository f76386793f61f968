package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"

	"springwright/cmd/springwright/lesson"
	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/design/quantity"
	"springwright/export"
	"springwright/optimize/classroom"

	"github.com/spf13/pflag"
)

// markOptions are the flags of "mark".
type markOptions struct {
	class string
	bands string
	json  bool
	quiet bool
	paperOptions
	printer export.Printer

	flags *pflag.FlagSet
}

// AddFlags adds the flags and their defaults.
func (o *markOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	flags.StringVar(&o.class, "class", "", "`DIR` of the class, as \"handout\" wrote it")
	addBandsFlag(flags, &o.bands)
	flags.BoolVar(&o.json, "json", false, "print the marks as JSON")
	flags.BoolVar(&o.quiet, "quiet", false, "no progress line")
	o.addPaperFlags(flags, "springwright-marks", "set of marks")
	addScaleFlags(flags, &o.printer)
}

func newMark() verb {
	var o markOptions
	return verb{
		name:      "mark",
		arguments: "DIR|TABLE --class DIR",
		summary:   "mark the springs that a class has bent, from pictures or a table of readings",
		about: "DIR is a folder of pictures (PNG, JPEG) of the springs on their cards, which tell whose they are; a card\n" +
			"that does not, needs the student's code as its file's name. TABLE is a file of readings: readings.csv as\n" +
			"\"handout\" wrote it, filled in, or TOML with a table [CODE] for each student. Told of each: what is off, a\n" +
			"grade by the worst bend and straight, what the spring would have done to the teeth, and the one bend to\n" +
			"correct. What cannot be read is listed with the reason and stops no other. Written are marks.pdf, the\n" +
			"page of the class and one for each spring, and marks.csv; marks-files.txt lists them.\n",
		example:  "mark scans --class class --out marks",
		least:    1,
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runMark(ctx, o, c, args[0])
		},
	}
}

func markOutputs() outputSet {
	return outputSet{list: "marks-files.txt", names: []string{"marks.pdf", "marks.csv"}}
}

func runMark(ctx context.Context, o markOptions, c console, from string) error {
	if o.class == "" {
		return wrongCommandLine("mark needs --class, the folder that \"handout\" wrote").hint("springwright mark %s --class springwright-class", printable(from))
	}
	class, data, err := readClass(ctx, o.class)
	if err != nil {
		return err
	}
	bands, err := readBands(ctx, o.bands, class.Bands)
	if err != nil {
		return err
	}
	if wider := bands.Widest(); wider.AngleRad > class.Bands.Widest().AngleRad || wider.LengthMM > class.Bands.Widest().LengthMM {
		c.say("warning", "these bands are wider than those that the class was made with: a spring bent over a neighbour's sheet may pass")
	}
	date, err := sheetDate()
	if err != nil {
		return err
	}
	place, err := c.prepare(ctx, markOutputs(), o.out, o.force)
	if err != nil {
		return err
	}
	p := newProgress(c, "reading", o.quiet)
	marker := classroom.Marker{Class: class, Bands: bands, LevelMM: o.printer.LevelMM, UprightMM: o.printer.UprightMM, Progress: p.update}
	in, err := handedIn(ctx, from)
	if err != nil {
		p.clear()
		return err
	}
	made, err := lesson.Mark(ctx, marker, in, data, export.Frame{Version: version, Date: date, Paper: o.paper, Language: o.language, Printer: o.printer}, origin("").Program)
	p.clear()
	if err != nil {
		return err
	}
	marks := made.Marks
	for _, n := range marks.NotRead {
		reason, hint := casefile.ReasonOf(n.Err)
		c.say("warning", n.Source+": not read: "+reason)
		if hint != "" {
			c.say("hint", hint)
		}
	}
	files, err := place.write(ctx, outputsOf(made.Files))
	if err != nil {
		return err
	}
	answer := string(made.Record)
	if !o.json {
		answer = marksText(marks, o.out)
	}
	if err := writeResult(c.stdout, answer, o.out, files); err != nil {
		return err
	}
	if len(marks.Marks) == 0 {
		return (&failure{code: exitFile, text: "nothing that was handed in could be read"}).hint("the reasons stand above, one for each")
	}
	return nil
}

// handedIn is what there is to be marked: a folder of pictures, or a table.
func handedIn(ctx context.Context, from string) (lesson.HandedIn, error) {
	if from == dash {
		return lesson.HandedIn{}, wrongCommandLine("standard input is no folder and no table with a name").hint("name the folder of the scans, or the file of readings")
	}
	info, err := os.Stat(from)
	if err != nil {
		return lesson.HandedIn{}, unreadable(from, err)
	}
	if !info.IsDir() {
		data, err := readInput(ctx, from)
		return lesson.HandedIn{Table: from, Data: data}, err
	}
	names, err := pictureNames(from)
	return lesson.HandedIn{Folder: os.DirFS(from), Pictures: names}, err
}

// pictureNames are the files of a folder that may be pictures, in order; others stand beside them at most.
func pictureNames(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, unreadable(dir, err)
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && lesson.IsPicture(e.Name()) {
			names = append(names, e.Name())
		}
	}
	if len(names) == 0 {
		return nil, (&failure{code: exitFile, text: dir + " holds no picture: no .png, .jpg or .jpeg"}).hint("name the folder of the scans, or a table of readings")
	}
	return names, nil
}

// readClass reads a class that was handed out, with its springs and cases.
func readClass(ctx context.Context, dir string) (course.Class, []byte, error) {
	if _, err := os.Stat(filepath.Join(dir, lesson.ClassName)); errors.Is(err, fs.ErrNotExist) {
		return course.Class{}, nil, (&failure{code: exitFile, text: dir + " holds no class.json"}).hint("--class names the folder that \"springwright handout\" wrote")
	}
	return lesson.Open(ctx, dir, func(path string) ([]byte, error) { return readInput(ctx, path) })
}

// marksText is what is told of a class.
func marksText(m course.Marks, dir string) string {
	var text tableText
	names, students := m.Grades()
	var parts []string
	for i, name := range names {
		parts = append(parts, fmt.Sprintf("%s: %d", name, students[i]))
	}
	text.line("springs marked: %d; grades %s", len(m.Marks), strings.Join(parts, ", "))
	if t, ok := m.WorstStep(); ok {
		text.line("goes wrong most: bend %d, the worst bend of %d of %d, on average off by %s°", t.Number, t.Worst, t.Measured, fixed(quantity.Degree.Outside(t.MeanOff), 1))
	}
	rows := [][]string{{"code", "grade", "worst bend", "worst straight", "of 100 meet the target", "to correct"}}
	for _, mark := range m.Marks {
		rows = append(rows, markRow(mark))
	}
	if len(rows) > 1 {
		text.line("")
		text.labelled(rows)
	}
	for _, n := range m.NotRead {
		reason, _ := casefile.ReasonOf(n.Err)
		text.line("not read: %s: %s", printable(n.Source), printable(reason))
	}
	if len(m.Missing) > 0 {
		text.line("nothing handed in: %s", strings.Join(m.Missing, ", "))
	}
	text.line("\nwritten to %s: marks.pdf, marks.csv", printable(dir))
	return text.String()
}

// markRow is a student's line.
func markRow(m course.Mark) []string {
	row := []string{m.Student.Code(), m.Grade, "", "", "", ""}
	if m.Grade == "" {
		row[1] = "–"
	}
	if m.WorstBend >= 0 {
		o := m.Steps[m.WorstBend]
		row[2] = fmt.Sprintf("%d: %s°", o.Number, signedText(quantity.Degree.Outside(o.Off), 1))
	}
	if m.WorstStraight >= 0 {
		row[3] = signedText(m.Steps[m.WorstStraight].Off, 2) + " mm"
	}
	switch {
	case m.Report != nil:
		row[4] = fixed(100*m.Report.AsBent.Trial.Chance(), 0)
		if m.Report.One != nil {
			row[5] = correctionInShort(m)
		}
	case m.NotReckoned != nil:
		row[5], _, _ = strings.Cut("not reckoned: "+m.NotReckoned.Error(), "\n")
	}
	if len(m.Unread) > 0 {
		row[5] = fmt.Sprintf("no grade: bend %s not measured", strings.Trim(strings.Join(strings.Fields(fmt.Sprint(m.Unread)), ", "), "[]"))
	}
	return row
}

// correctionInShort is the one correction; the student's page in marks.pdf says it in full.
func correctionInShort(m course.Mark) string {
	by := m.Report.One.Corrections[0]
	angle, number := english().Degrees(math.Abs(by.ByRad)), m.Student.Spring.Path.BendNumbers()[by.Step]
	switch {
	case by.Fresh:
		return "a fresh bend, " + angle
	case by.Opens():
		return fmt.Sprintf("open bend %d by %s", number, angle)
	}
	return fmt.Sprintf("close bend %d by %s", number, angle)
}

// signedText is a number with its sign.
func signedText(v float64, decimals int) string {
	text := fixed(v, decimals)
	if v > 0 {
		return "+" + text
	}
	return text
}
