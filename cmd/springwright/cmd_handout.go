package main

import (
	"context"
	"errors"
	"strings"

	"springwright/cmd/springwright/lesson"
	"springwright/design/casefile"
	"springwright/design/course"
	"springwright/export"
	"springwright/optimize/classroom"
	"springwright/presets"

	"github.com/spf13/pflag"
)

// handoutOptions are the flags of "handout".
type handoutOptions struct {
	students int
	seed     uint64
	bands    string
	preset   string
	json     bool
	quiet    bool
	paperOptions
	printer export.Printer

	flags *pflag.FlagSet
}

// usualStudents is a class (choice).
const usualStudents = 24

// AddFlags adds the flags and their defaults.
func (o *handoutOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	o.students = usualStudents
	flags.Var(countFlag{course.MostStudents, &o.students}, "students", "`NUMBER` of students, each with a variant of the case")
	flags.Uint64Var(&o.seed, "seed", 1, "`NUMBER` that the variants are drawn with: another one makes another class")
	addBandsFlag(flags, &o.bands)
	flags.StringVar(&o.preset, "preset", "", "the case `NAME` that comes with the program, in place of CASE.toml")
	flags.BoolVar(&o.json, "json", false, "print the class as JSON: the keys, how hard each spring is, and the files")
	flags.BoolVar(&o.quiet, "quiet", false, "no progress line")
	o.addPaperFlags(flags, "springwright-class", "class")
	addScaleFlags(flags, &o.printer)
}

// addBandsFlag adds the flag for the bands of grades.
func addBandsFlag(flags *pflag.FlagSet, bands *string) {
	flags.StringVar(bands, "bands", "", "what the grades allow, best first: `LIST` such as A:2.5/0.5,B:5/1,C:7.5/1.5 (degrees a bend / mm a straight), or a TOML file")
}

func newHandout() verb {
	var o handoutOptions
	return verb{
		name:      "handout",
		arguments: "[CASE.toml]",
		summary:   "make sheets for a class: a variant of a case for each student, with keys",
		about: "CASE.toml is a case file; without one the demo case is varied. Every student gets other measurements\n" +
			"of the mouth, and so a spring of his own: as hard to bend as the others, and so unlike each of them that\n" +
			"one bent over a neighbour's sheet fails. Written are students.pdf, two pages for each, the second with\n" +
			"the card to be marked by; answers.pdf, a page for each; keys.pdf; case-1.toml and spring-1.toml and so\n" +
			"on; readings.csv, a blank table; and class.json, which \"mark\" goes by. class-files.txt lists them.\n",
		example:  "handout case.toml --students 24 --seed 7 --out class",
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runHandout(ctx, o, c, args)
		},
	}
}

func handoutOutputs() outputSet {
	return outputSet{
		list:     "class-files.txt",
		names:    []string{"students.pdf", "answers.pdf", "keys.pdf", "class.json", "readings.csv"},
		numbered: []numberedName{{"case-", ".toml"}, {"spring-", ".toml"}},
	}
}

func runHandout(ctx context.Context, o handoutOptions, c console, args []string) error {
	file, text, err := o.readCase(ctx, args)
	if err != nil {
		return err
	}
	bands, err := readBands(ctx, o.bands, course.UsualBands())
	if err != nil {
		return err
	}
	date, err := sheetDate()
	if err != nil {
		return err
	}
	place, err := c.prepare(ctx, handoutOutputs(), o.out, o.force)
	if err != nil {
		return err
	}
	p := newProgress(c, "making variants", o.quiet)
	made, err := lesson.HandOut(ctx, classroom.Course{File: file, Text: text, Students: o.students, Seed: o.seed, Bands: bands, Progress: p.update}, o.bands,
		export.Frame{Version: version, Date: date, Paper: o.paper, Language: o.language, Printer: o.printer}, origin("").Program)
	p.clear()
	if err != nil {
		return handoutFailure(err)
	}
	files, err := place.write(ctx, outputsOf(made.Files))
	if err != nil {
		return err
	}
	answer := string(made.Record)
	if !o.json {
		answer = handoutText(made.Class, o.out)
	}
	return writeResult(c.stdout, answer, o.out, files)
}

// readCase reads the case to be varied: a file, a preset, or the demo.
func (o handoutOptions) readCase(ctx context.Context, args []string) (file string, text []byte, err error) {
	switch {
	case o.flags.Changed("preset") && len(args) > 0:
		return "", nil, wrongCommandLine("%s and --preset both name a case", args[0]).hint("leave one of them out")
	case o.flags.Changed("preset"):
		text, _, err = presetCase(o.preset)
		return o.preset, text, err
	case len(args) == 0:
		text, _, err = presets.Case(presets.Demo)
		return presets.Demo, text, err
	}
	text, err = readInput(ctx, args[0])
	return args[0], text, err
}

// readBands reads the bands of the command line, a list or a file; without any they are the usual ones.
func readBands(ctx context.Context, given string, usual course.Bands) (course.Bands, error) {
	switch {
	case given == "":
		return usual, nil
	case strings.HasSuffix(strings.ToLower(given), ".toml"):
		data, err := readInput(ctx, given)
		if err != nil {
			return course.Bands{}, err
		}
		return casefile.ReadBands(given, data)
	}
	bands, err := course.ParseBands(given)
	if err != nil {
		return bands, wrongCommandLine("--bands: %v", err).hint("write the best grade first, such as --bands A:2.5/0.5,B:5/1,C:7.5/1.5, or name a TOML file")
	}
	return bands, nil
}

// handoutFailure says why there is no class.
func handoutFailure(err error) error {
	var few *classroom.TooFew
	switch {
	case errors.As(err, &few):
		f := &failure{code: exitUnmet, text: err.Error()}
		return f.hint("ask for %d students, make two classes by another --seed, let --bands be narrower, or give a case with more room", max(1, few.Found))
	case errors.Is(err, classroom.ErrNotMet):
		return (&failure{code: exitUnmet, text: err.Error()}).hint("\"springwright design\" on the case says what it misses")
	case errors.Is(err, classroom.ErrHand), errors.Is(err, classroom.ErrFreePath):
		return (&failure{code: exitUnsolved, text: err.Error()}).hint("choose a case of another wire or kind of spring")
	}
	return err
}

// handoutText is what is told of a class.
func handoutText(class course.Class, dir string) string {
	var text tableText
	text.line("a class of %d, %s", len(class.Students), class.Case.Title)
	h := class.Hardness
	text.line("as hard as usual for this case: %d bends, the largest %s; of 100 bent by a student's hand %s meet the target; the most exacting bend alone may be %s off",
		h.Bends, english().Degrees(h.LargestAngleRad), fixed(100*h.Share, 0), english().Degrees(h.LeastToleranceRad))
	low, high := class.Students[0].Hardness.Share, class.Students[0].Hardness.Share
	for _, s := range class.Students {
		low, high = min(low, s.Hardness.Share), max(high, s.Hardness.Share)
	}
	text.line("the students' springs: the same bends, %s to %s of 100", fixed(100*low, 0), fixed(100*high, 0))
	if a := class.LeastApart; a != (course.Apart{}) {
		text.line("the two sheets most alike differ by up to %s and %s mm: one bent over the other fails by the bands", english().Degrees(a.AngleRad), fixed(a.LengthMM, 1))
	}
	t := class.Tried
	text.line("drawn: %d variants; left out: %d that miss their target, %d with other bends, %d harder or easier, %d too like another", t.Drawn, t.Unmet, t.OtherKind, t.OtherHardness, t.Alike)
	text.line("\nwritten to %s: students.pdf, answers.pdf, keys.pdf, readings.csv, class.json, and case-1.toml, spring-1.toml and so on", printable(dir))
	text.line("\nPrint students.pdf at 100 %% and measure both bars. For practice: no spring of it is for a patient.")
	return text.String()
}
