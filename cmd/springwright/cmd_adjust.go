package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export"
	"springwright/optimize/asbent"
	"springwright/optimize/hand"

	"github.com/spf13/pflag"
)

// adjustOptions are the flags of "adjust".
type adjustOptions struct {
	caseFile string
	measured string
	picture  string
	card     pictureCard
	form     string
	soFar    bool
	json     bool
	springs  int
	seed     uint64
	paperOptions
	printer export.Printer

	flags *pflag.FlagSet
}

// AddFlags adds the flags and their defaults.
func (o *adjustOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	flags.StringVar(&o.measured, "measured", "", "`FILE` of what was measured, as --form writes it: TOML, or CSV by its ending")
	flags.StringVar(&o.picture, "picture", "", "picture `FILE` (PNG, JPEG) of the bent spring on the card of the check page; alone, or beside --measured")
	o.card.addFlags(flags)
	flags.StringVar(&o.caseFile, "case", "", "case `FILE` of the spring: without it loads are told, but no chance and no correction")
	flags.StringVar(&o.form, "form", "", "write the blank form for what is measured of this spring to `FILE`, TOML or, by its ending, CSV; \"-\" prints TOML")
	flags.BoolVar(&o.soFar, "so-far", false, "the spring is bent as far as the last thing measured: numbers for the rest that make up for what came out")
	flags.BoolVar(&o.json, "json", false, "print the result as JSON")
	flags.Var(countFlag{design.MostSprings, &o.springs}, "springs", "`NUMBER` of springs that may be the measured one, for bands and chances")
	flags.Lookup("springs").DefValue = fmt.Sprint(asbent.UsualSprings)
	flags.Uint64Var(&o.seed, "seed", 1, "`NUMBER` that they are drawn with")
	o.addPaperFlags(flags, "", "adjustment")
	o.addOnlyFlag(flags, adjustOutputs())
	addScaleFlags(flags, &o.printer)
}

func newAdjust() verb {
	var o adjustOptions
	return verb{
		name:      "adjust",
		arguments: "SPRING.toml",
		summary:   "tell what a spring that was bent will do, and which bend to correct",
		about: "SPRING.toml is a spring file, such as \"design\" writes. What was measured of the bent wire, bends,\n" +
			"straights, its free end, a gauge, some or all, stands in the file of --measured. The spring most\n" +
			"likely bent is told with its loads, and how many of those that it may be meet the target of\n" +
			"--case; then the best correction, and the best two. With --form the blank form is written.\n" +
			"With --so-far, while bending, the numbers of what is still to be bent are searched anew.\n" +
			"Where --out is given: as-bent.pdf, as-bent-1.svg and so on, the wire over its drawing with the\n" +
			"correction marked, and corrected-1.toml, the spring that comes of it, to hold later readings\n" +
			"against; with --so-far spring.toml, to go on with. adjust-files.txt lists them.\n",
		example:  "adjust case/spring.toml --form measured.toml\nadjust case/spring.toml --case case.toml --measured measured.toml",
		least:    1,
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runAdjust(ctx, o, c, args[0])
		},
	}
}

// check finds what contradicts itself on the command line.
func (o adjustOptions) check(file string) error {
	if given := o.flags.Changed("form"); given == (o.flags.Changed("measured") || o.flags.Changed("picture")) {
		return wrongCommandLine("adjust needs one of --measured, --picture and --form").
			hint("springwright adjust %s --form measured.toml writes the blank form", printable(file))
	}
	if o.form != "" && o.flags.Changed("out") {
		return wrongCommandLine("--form names its own file, what is --out for").hint("leave one of them out")
	}
	if o.soFar && (o.json || o.caseFile == "") {
		return wrongCommandLine("--so-far needs --case, for what the spring is to do, and prints no JSON")
	}
	return nil
}

// In one piece: the order of the steps, each with its failure.
func runAdjust(ctx context.Context, o adjustOptions, c console, file string) error {
	if err := o.check(file); err != nil {
		return err
	}
	made, data, err := readSpring(ctx, file)
	if err != nil {
		return err
	}
	known := asbent.CaseOf(made)
	if o.caseFile != "" {
		_, known, err = readCase(ctx, []string{o.caseFile})
		if err != nil {
			return err
		}
		if err := fitsCase(file, made, known); err != nil {
			return err
		}
		c.warn(report.UnnamedTeeth(file, made, known.Teeth))
		made.Teeth = known.Teeth
		known = asbent.CaseFor(known, made)
	}
	drawn, err := solve.Evaluate(ctx, made, solve.Options{AllowYield: true})
	if err != nil && !errors.Is(err, solve.ErrYield) {
		return err
	}
	if o.form != "" {
		return o.writeForm(c, made, drawn.Gauge)
	}
	var place *destination
	if o.flags.Changed("out") {
		if made.Teeth == (tooth.Pair{}) {
			return wrongCommandLine("the sheet names teeth, and neither the spring file nor a case tells them").hint("give the case by --case, or add [teeth] to the spring file")
		}
		if place, err = o.prepare(ctx, c, adjustOutputs()); err != nil {
			return err
		}
	}
	c.warnUnmet(file, made.Teeth, made)
	measured, read, err := o.readings(ctx, c, made, known, drawn.Gauge)
	if err != nil {
		return err
	}
	job := asbent.Job{Case: known, Spring: made, Measured: measured, Seed: o.seed, Springs: o.springs}
	if o.soFar {
		return o.goOn(ctx, c, job, place)
	}
	r, err := asbent.Read(ctx, job)
	c.doubt(made, r.Doubts)
	if err != nil {
		return o.unread(err)
	}
	fingerprint := casefile.FingerprintOf(append(data, read...))
	var files []output
	if place != nil {
		if files, err = o.files(known, made, r, fingerprint); err != nil {
			return err
		}
		if files, err = place.write(ctx, files); err != nil {
			return err
		}
	}
	text := adjustText(known, made, r, o.out, files)
	if o.json {
		answer, err := casefile.WriteAdjustment(origin(fingerprint), made, r)
		if err != nil {
			return err
		}
		text = string(answer)
	}
	if err := writeResult(c.stdout, text, o.out, files); err != nil {
		return err
	}
	return beyondHelp(r)
}

// readings are what was measured of a spring, from the form and from a picture, and the bytes that they
// were read from.
func (o adjustOptions) readings(ctx context.Context, c console, made spring.Spring, known design.Case, g solve.GaugeCheck) (m spring.Measured, data []byte, err error) {
	if o.measured != "" {
		if data, err = readInput(ctx, o.measured); err != nil {
			return m, nil, err
		}
		if m, err = casefile.ReadMeasured(o.measured, data, made, known.Bender, casefile.GaugeWayOf(g)); err != nil {
			return m, nil, err
		}
	}
	if o.picture != "" {
		seen, err := c.pictureReadings(o.picture, made, o.card)
		if err != nil {
			return m, nil, err
		}
		m.Steps = append(m.Steps, seen...)
		data = fmt.Appendf(data, "%v", seen)
	}
	return m, data, nil
}

// unread says why nothing can be told of a spring as bent.
func (o adjustOptions) unread(err error) error {
	var f *failure
	switch {
	case errors.Is(err, asbent.ErrReadings):
		return (&failure{code: exitFile, text: fmt.Sprintf("%s%s: %v", o.measured, o.picture, err)}).hint("measure again what is farthest from the drawing")
	case errors.Is(err, hand.ErrSuperelastic):
		return (&failure{code: exitUnsolved, text: "a spring of superelastic wire is not followed as bent"}).hint("its loads hang on what it has been through: bend it again over the sheet")
	case errors.Is(err, hand.ErrNothingSolved):
		f = &failure{code: exitUnsolved, text: "it finds no rest in its slots"}
	default:
		if f = asFailure(err); f.code != exitUnsolved {
			return err
		}
	}
	f.text = "the spring as bent cannot be seated: " + f.text
	f.hints = nil
	return f.hint("lay it over the drawing and put right what is farthest off, then measure it again; or bend a new one")
}

// beyondHelp ends a run that has told of a spring which no correction brings to its target.
func beyondHelp(r asbent.Report) error {
	asBent, corrected := r.Usable()
	if !r.HasTarget || asBent || corrected {
		return nil
	}
	if r.AsBent.Met() {
		return (&failure{code: exitUnmet, text: "fewer than half of the springs that it may be meet the target, and no one or two corrections bring it there"}).
			hint("measure more of it: what was not measured is as likely as the hand leaves it")
	}
	return (&failure{code: exitUnmet, text: "the spring as bent misses its target, and no one or two corrections bring it there"}).
		hint("bend a new one; do not use this one as if it met the target")
}

// writeForm writes the blank form.
func (o adjustOptions) writeForm(c console, s spring.Spring, g solve.GaugeCheck) error {
	names, gauge := english().StepNames(s), english().GaugeReading(s, g)
	if o.form == "-" {
		return writeAll(c.stdout, string(casefile.MeasuredForm(s, names, gauge)))
	}
	form := casefile.MeasuredForm(s, names, gauge)
	if strings.HasSuffix(strings.ToLower(o.form), ".csv") {
		form = casefile.MeasuredTable(s, names, gauge)
	}
	if err := writeOwnFile(o.form, form); err != nil {
		return err
	}
	return writeAll(c.stdout, fmt.Sprintf("written: %s\n", o.form))
}

// writeOwnFile writes a file that must not exist yet.
func writeOwnFile(name string, data []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err == nil {
		_, err = f.Write(data)
		if closing := f.Close(); err == nil {
			err = closing
		}
		if err != nil { // half a file is worse than none: a plate would print, and lack its upper part
			_ = os.Remove(name)
		}
	}
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrExist):
		return (&failure{code: exitOutput, text: fmt.Sprintf("%s exists already", printable(name))}).hint("name a file that does not exist yet")
	}
	var pathError *fs.PathError
	if errors.As(err, &pathError) {
		err = pathError.Err // without the operation and a second mention of the name
	}
	return (&failure{code: exitOutput, text: fmt.Sprintf("%s cannot be written: %v", printable(name), err)}).hint("name a file in another directory")
}
