package main

import (
	"context"
	"errors"
	"strings"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/notice"
	"springwright/design/quantity"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/export"
	"springwright/optimize"
	"springwright/optimize/asbent"
	"springwright/presets"

	"github.com/spf13/pflag"
)

// designOptions are the flags of "design".
type designOptions struct {
	paperOptions
	printer      export.Printer
	twin         bool
	stages       bool
	pages        []export.Page // none: the usual ones
	list         bool          // the bend list, on standard output
	json         bool
	anyway       bool
	seed         uint64
	lengthStepMM float64 // 0: as the case says
	angleStepRad float64 // 0: as the case says
	shares       int     // springs bent, read and corrected in trial; 0: none
	springs      int     // bent in trial; as the case says where not given
	quiet        bool
	verbose      bool
	preset       string // a case of the program's own, in place of a file

	flags *pflag.FlagSet // tells a given seed from the default
}

// Steps coarser than these are no use: a loop is some 8 mm, a pre-activation bend some 20°.
const (
	largestLengthStepMM = 2
	largestAngleStepDeg = 15
)

// AddFlags adds the flags and their defaults.
func (o *designOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	o.addPaperFlags(flags, "springwright-out", "design")
	o.addOnlyFlag(flags, designOutputs())
	addScaleFlags(flags, &o.printer)
	flags.Var(pagesFlag{&o.pages}, "pages",
		"`LIST` of the pages to lay out: "+strings.Join(export.PageNames(), ", ")+" (default all but "+strings.Join(export.SpecialPageNames(), ", ")+")")
	flags.BoolVar(&o.stages, "stages", false, "one page more: the wire after each bend, to lay the wire over")
	flags.BoolVar(&o.twin, "twin", false, "one page more: the template of the mirrored spring for the other side")
	addListFlag(flags, &o.list)
	flags.BoolVar(&o.json, "json", false, "print the result as JSON: the record, what is missed, and the files that were written")
	flags.BoolVar(&o.anyway, "anyway", false, "write the template of the nearest design even if it misses the target")
	flags.Uint64Var(&o.seed, "seed", 0, "`NUMBER` that starts the search, instead of the case's")
	flags.Lookup("seed").DefValue = ""
	flags.Var(quantityFlag{quantity.Millimetre, 0.01, largestLengthStepMM, &o.lengthStepMM}, "length-step",
		"lengths end on multiples of `MM`, instead of the case's step")
	flags.Var(quantityFlag{quantity.Degree, quantity.Degree.Inside(0.1), quantity.Degree.Inside(largestAngleStepDeg), &o.angleStepRad}, "angle-step",
		"angles end on multiples of `DEG`, instead of the case's step")
	addSpringsFlag(flags, &o.springs)
	flags.Var(countFlag{mostShares, &o.shares}, "shares", "also tell how many of `NUMBER` springs are right as bent, after the free-end check and after one correction: takes seconds for each")
	flags.BoolVar(&o.quiet, "quiet", false, "no progress line")
	addVerboseFlag(flags, &o.verbose)
	addPresetFlag(flags, &o.preset)
}

func newDesign() verb {
	var o designOptions
	return verb{
		name:      "design",
		arguments: "[CASE.toml]",
		summary:   "search a spring for a case and write its bending template",
		about: "CASE.toml is a case file; without one the demo case is designed. Written are template.pdf,\n" +
			"template-1.svg and so on, spring.toml, record.json, tables of the bends for hands and machines, and\n" +
			"design-files.txt, which lists them with their SHA-256: --force replaces nothing else.\n" +
			"\"presets\" lists cases to begin with, \"evaluate\" and \"adjust\" read the spring.\n",
		example:  "design case.toml --out case-template --paper a4\ndesign --preset t-loop --list --open",
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runDesign(ctx, o, c, args)
		},
	}
}

// In one piece: the order of the steps, each with its failure.
func runDesign(ctx context.Context, o designOptions, c console, args []string) error {
	if o.json && o.list {
		return wrongCommandLine("--json and --list both print on standard output").hint("leave one of them out")
	}
	text, wanted, err := o.readCase(ctx, args)
	if err != nil {
		return err
	}
	o.override(&wanted.Search)
	if o.flags.Changed("springs") {
		wanted.Bender.Springs = o.springs
	}
	date, err := sheetDate()
	if err != nil {
		return err
	}
	if err := titleOnPaper(args, wanted); err != nil {
		return err
	}
	place, err := o.prepare(ctx, c, designOutputs())
	if err != nil {
		return err
	}

	chosen, err := search(ctx, c, o, wanted)
	if err != nil {
		return err
	}
	wanted = chosen.Case
	result := chosen.Result
	if !result.Met() {
		if !o.anyway {
			more, err := wayOut(ctx, chosen, newProgress(c, "looking for a way out", o.quiet))
			if err != nil {
				return err
			}
			return unmet(wanted, chosen, more)
		}
		c.say("warning", "the target is not met, this is the nearest design")
		for _, line := range shortcomings(wanted, result) {
			c.say("warning", line)
		}
	}
	if o.shares > 0 && !result.Spring.Wire.IsSuperelastic() { // whose springs are not followed as bent
		shares, err := asbent.Shares(ctx, wanted, result.Spring, o.shares, wanted.Search.Seed)
		if err != nil {
			return err
		}
		result.Evaluation.Record.Shares = &shares
	}
	r, err := report.Of(ctx, wanted, result.Spring, report.Options{Evaluation: &result.Evaluation})
	if err != nil {
		return err
	}
	if r.NotMade() && result.Met() {
		return notMade(r)
	}
	if err := holdAnchor(ctx, r, &result, o.anyway); err != nil {
		return err
	}
	c.warn(r.Evaluation.Warnings)
	job := o.job(r)
	job.Date, job.Fingerprint = date, casefile.Fingerprint(text, wanted.Search)
	files, err := render(job)
	if err != nil {
		return err
	}
	list := ""
	if o.list {
		if list, err = export.BendList(job); err != nil {
			return err
		}
	}
	files = append(files, alternativeFiles(result)...)
	if files, err = place.write(ctx, files); err != nil {
		return err
	}
	answer := designText(r, chosen, list, o.out, files)
	if o.json {
		if answer, err = designJSON(r, result.Family, job.Fingerprint, o.out, files); err != nil {
			return err
		}
	}
	if err := writeResult(c.stdout, answer, o.out, files); err != nil {
		return err
	}
	if !r.Met() {
		return unmetWritten(o.out)
	}
	return nil
}

// mostShares is how many springs are read and corrected at most: some minutes.
const mostShares = 1000

// notMade refuses a spring that meets its target and does not bring the tooth where it should.
func notMade(r report.Report) error {
	text, hint := english().Notice(notice.TravelNotMade{Tooth: r.Case.Teeth.Active})
	return (&failure{code: exitUnmet, text: "the target does not make the travel: " + text, details: []string{english().DriftInShort(r.Case.Teeth.ActiveMember(), r.Teeth.Drift)}}).hint("%s", hint)
}

// readCase reads the case named on the command line, by its file or as a preset, or the demo.
func (o designOptions) readCase(ctx context.Context, args []string) (text []byte, wanted design.Case, err error) {
	return readCaseOrPreset(ctx, args, o.preset)
}

func readCaseOrPreset(ctx context.Context, args []string, preset string) (text []byte, wanted design.Case, err error) {
	switch {
	case preset == "":
		return readCase(ctx, args)
	case len(args) > 0:
		return nil, design.Case{}, wrongCommandLine("%s and --preset both name a case", args[0]).hint("leave one of them out")
	}
	return presetCase(preset)
}

// readCase reads the case named on the command line, or the demo.
func readCase(ctx context.Context, args []string) (text []byte, wanted design.Case, err error) {
	if len(args) == 0 {
		return presets.Case(presets.Demo)
	}
	text, err = readInput(ctx, args[0])
	if err != nil {
		return nil, design.Case{}, err
	}
	if wanted, err = casefile.ReadCase(shownName(args[0]), text); err != nil {
		return nil, design.Case{}, err
	}
	text, err = readFreePath(ctx, args[0], text, &wanted)
	return text, wanted, err
}

// override puts the flags that were given in place of what the case says.
func (o designOptions) override(s *design.Search) {
	if o.flags.Changed("seed") {
		s.Seed = o.seed
	}
	if o.lengthStepMM > 0 {
		s.LengthStepMM = o.lengthStepMM
	}
	if o.angleStepRad > 0 {
		s.AngleStepRad = o.angleStepRad
	}
}

func search(ctx context.Context, c console, o designOptions, wanted design.Case) (optimize.Chosen, error) {
	chosen, err := searchTold(ctx, c, wanted, o.quiet, o.verbose)
	var f *failure
	switch {
	case ctx.Err() != nil:
		return chosen, ctx.Err()
	case errors.Is(err, optimize.ErrNothingSolved):
		f = &failure{code: exitUnmet, text: err.Error(), details: variantLines(chosen)}
	case errors.Is(err, solve.ErrYield): // of the nearest design: nothing to put on paper, not even by --anyway
		details := append([]string{"nearest design: " + err.Error()}, shortcomings(chosen.Case, chosen.Result)...)
		f = &failure{code: exitUnmet, text: unmetText, details: append(details, variantLines(chosen)...)}
	default:
		return chosen, err
	}
	more, adviceErr := wayOut(ctx, chosen, newProgress(c, "looking for a way out", o.quiet))
	if adviceErr != nil {
		return chosen, adviceErr
	}
	for _, line := range more {
		f.hint("%s", line)
	}
	if errors.Is(err, optimize.ErrNothingSolved) {
		return chosen, f.hint("check where the active slot is and from which side it is entered, or give the loop more room")
	}
	return chosen, f.hint("use a thinner wire, shorten the travel, ask for less force, or choose another kind of spring")
}

const unmetText = "no spring meets the target within the limits"

// unmet says what the nearest design misses, what stands in its way, and what more there is
// to say.
func unmet(wanted design.Case, r optimize.Chosen, more []string) error {
	f := &failure{code: exitUnmet, text: unmetText, details: append(shortcomings(wanted, r.Result), variantLines(r)...)}
	for _, line := range more {
		f.hint("%s", line)
	}
	return f.hint("let the window that is missed be wider where the tooth allows it, or plan a shorter travel; --anyway writes the template of the nearest design")
}

// unmetWritten ends a run that has written the nearest design as asked.
func unmetWritten(dir string) error {
	return (&failure{code: exitUnmet, text: unmetText + ": the files of the nearest design were written to " + dir + " all the same"}).
		hint("every page, spring.toml and record.json say what is missed; do not use the spring as if it met the target")
}

func shortcomings(wanted design.Case, r optimize.Result) []string {
	var lines []string
	for _, text := range english().Shortfall(wanted.Teeth, r.Spring) {
		lines = append(lines, "nearest design: "+text)
	}
	if len(r.Binding) > 0 {
		lines = append(lines, "in the way: "+strings.Join(said(r.Binding), ", "))
	}
	return lines
}
