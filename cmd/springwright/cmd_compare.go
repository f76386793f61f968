package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/wire"
	"springwright/export"

	"github.com/spf13/pflag"
)

// compareOptions are the flags of "compare".
type compareOptions struct {
	spring string
	wires  wiresFlag
	json   bool
	quiet  bool
	preset string

	verbose bool
	paperOptions

	flags *pflag.FlagSet // tells a given directory from the default
}

// AddFlags adds the flags and their defaults.
func (o *compareOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	flags.StringVar(&o.spring, "spring", "", "spring `FILE` to compare, instead of searching one")
	flags.Var(&o.wires, "wire", "alloy and size of a straight `WIRE`, such as \"stainless steel 0.016x0.022in\"; may be given up to "+
		strconv.Itoa(mostWires)+" times (default "+strings.Join(defaultWires(), " and ")+")")
	flags.BoolVar(&o.json, "json", false, "print the comparison as JSON; the drawing is then written only where --out is given")
	o.addPaperFlags(flags, "springwright-out", "comparison")
	o.addOnlyFlag(flags, comparisonOutputs())
	addPresetFlag(flags, &o.preset)
	flags.BoolVar(&o.quiet, "quiet", false, "no progress line")
	addVerboseFlag(flags, &o.verbose)
}

// mostWires is how many curves can still be told apart beside that of the spring.
const mostWires = 4

// defaultWires are the first wires of most treatments (common practice).
func defaultWires() []string {
	return []string{"superelastic nickel-titanium 0.014in", "stainless steel 0.016in"}
}

func newCompare() verb {
	var o compareOptions
	return verb{
		name:      "compare",
		arguments: "[CASE.toml]",
		summary:   "hold a spring against straight wires over the same travel",
		about: "CASE.toml is a case file; without one the demo case is taken. The spring is searched as by\n" +
			"\"design\"; a straight wire lies at rest at the goal and slides through the active slot without\n" +
			"friction. Written are comparison.pdf, comparison-1.svg and so on, and comparison-files.txt,\n" +
			"which lists them with their SHA-256: --force replaces nothing else.\n" +
			"A wire that yields or cannot be solved is listed with the reason and without figures.\n" +
			"For a tooth to go up or down, what is usually said of straight wires is held against the figures.\n",
		example:  "compare case.toml --wire \"superelastic nickel-titanium 0.016in\"\ncompare --preset molar-step",
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runCompare(ctx, o, c, args)
		},
	}
}

func runCompare(ctx context.Context, o compareOptions, c console, args []string) error {
	text, wanted, err := readCaseOrPreset(ctx, args, o.preset)
	if err != nil {
		return err
	}
	wires, err := o.straightWires(wanted)
	if err != nil {
		return err
	}
	date, err := sheetDate()
	if err != nil {
		return err
	}
	drawn := !o.json || o.flags.Changed("out")
	var place *destination
	if drawn {
		if err := titleOnPaper(args, wanted); err != nil {
			return err
		}
		if place, err = o.prepare(ctx, c, comparisonOutputs()); err != nil {
			return err
		}
	}

	bent, err := o.bentSpring(ctx, c, &wanted)
	if err != nil {
		return err
	}
	candidates, err := o.compared(ctx, c, wanted, bent, wires)
	if err != nil {
		return err
	}

	var files []output
	if drawn {
		frame := export.Frame{
			Version: version, Fingerprint: casefile.Fingerprint(text, wanted.Search), Date: date, Paper: o.paper, Language: o.language,
		}
		sheet, pages, err := export.ComparisonSheets(export.Comparison{Frame: frame, Case: wanted, Candidates: candidates})
		if err != nil {
			return err
		}
		files = pageFiles("comparison", sheet, pages)
		if files, err = place.write(ctx, files); err != nil {
			return err
		}
	}
	if o.json {
		record, err := casefile.WriteComparison(origin(casefile.Fingerprint(text, wanted.Search)), wanted.Teeth, candidates)
		if err != nil {
			return err
		}
		return writeResult(c.stdout, string(record), o.out, files)
	}
	return writeResult(c.stdout, comparisonText(wanted, candidates, o.out, files), o.out, files)
}

// compared are the bent spring and the straight wires, with all that is said of them; what each warns of is told.
func (o compareOptions) compared(ctx context.Context, c console, wanted design.Case, bent effect.Candidate, wires []wire.Wire) ([]effect.Candidate, error) {
	candidates := []effect.Candidate{bent}
	for _, w := range wires {
		candidate, err := candidateOf(ctx, effect.Candidate{Straight: true, Spring: effect.StraightSpring(wanted, "", w)})
		if err != nil {
			return nil, err
		}
		candidates = append(candidates, candidate)
	}
	if err := anyFigures(candidates); err != nil {
		return nil, err
	}
	for i, candidate := range candidates {
		var err error
		if candidate, err = candidate.Argued(ctx, wanted, bent); err != nil {
			return nil, err
		}
		if candidates[i], err = candidate.WithAnchor(ctx, wanted); err != nil {
			return nil, err
		}
		if candidate.Withheld != nil {
			c.say("warning", candidate.Name+" has no figures: "+candidate.Withheld.Error())
		}
		for _, w := range candidate.Evaluation.Warnings {
			text, _ := english().Notice(w)
			c.say("warning", candidate.Name+": "+text)
		}
	}
	return candidates, nil
}

// anyFigures fails where no candidate at all could be solved.
func anyFigures(candidates []effect.Candidate) error {
	f := &failure{code: exitUnsolved, text: "no candidate has figures"}
	for _, c := range candidates {
		if c.Withheld == nil {
			return nil
		}
		f.details = append(f.details, c.Name+": "+c.Withheld.Error())
	}
	return f.hint("choose thinner or superelastic wires by --wire, or a case with a shorter travel")
}

// bentSpring searches the spring, or takes it from a file. Where there was something to choose the
// case becomes the one that the spring is for.
func (o compareOptions) bentSpring(ctx context.Context, c console, wanted *design.Case) (effect.Candidate, error) {
	if o.spring != "" {
		bent, err := springFromFile(ctx, c, o.spring, *wanted)
		c.warnUnmet(o.spring, wanted.Teeth, bent.Spring)
		return bent, err
	}
	chosen, err := searchTold(ctx, c, *wanted, o.quiet, o.verbose)
	if ctx.Err() != nil {
		return effect.Candidate{}, ctx.Err()
	}
	*wanted = chosen.Case
	result := chosen.Result
	if err != nil && !errors.Is(err, solve.ErrYield) {
		// Nothing to evaluate; the wires can be compared with each other all the same.
		return named(effect.Candidate{Withheld: err}), nil
	}
	if !result.Met() {
		c.say("warning", "the target is not met, the spring is the nearest design")
		for _, line := range shortcomings(chosen.Case, result) {
			c.say("warning", line)
		}
	}
	return candidateOf(ctx, effect.Candidate{Family: result.Family, Spring: result.Spring})
}

// springFromFile takes the bent wire of a spring file, which must be one for this case.
func springFromFile(ctx context.Context, c console, file string, wanted design.Case) (effect.Candidate, error) {
	given, _, err := readSpring(ctx, file)
	if err != nil {
		return effect.Candidate{}, err
	}
	if err := fitsCase(file, given, wanted); err != nil {
		return effect.Candidate{}, err
	}
	c.warn(report.UnnamedTeeth(file, given, wanted.Teeth))
	wanted.Heading, wanted.Wire, wanted.Slide = given.Heading, given.Wire, given.Slide
	s := wanted.SpringFor(given.Path)
	s.Title, s.Shortfall = given.Title, given.Shortfall
	// Held as the file says, which is how it was designed, and how "evaluate" tells its loads.
	s.AnchorHold, s.ActiveHold, s.SlidToRest, s.DrawnToN = given.AnchorHold, given.ActiveHold, given.SlidToRest, given.DrawnToN
	return candidateOf(ctx, effect.Candidate{Spring: s})
}

// candidateOf is a candidate with its names and figures.
func candidateOf(ctx context.Context, c effect.Candidate) (effect.Candidate, error) {
	c = named(c)
	if c.Straight {
		c.Spring.Title = c.Title
	}
	solved, err := effect.NewCandidate(ctx, c.Name, c.Title, c.Spring)
	solved.Family, solved.Straight = c.Family, c.Straight
	return solved, err
}

func named(c effect.Candidate) effect.Candidate {
	c.Name, c.Title = english().Candidate(c), english().CandidateTitle(c)
	return c
}

// straightWires returns the chosen wires, or the usual ones, and refuses what no slot takes.
func (o compareOptions) straightWires(wanted design.Case) ([]wire.Wire, error) {
	wires := o.wires.wires
	if len(wires) == 0 {
		for _, spec := range defaultWires() {
			w, err := wire.ParseSpec(spec)
			if err != nil {
				return nil, err
			}
			wires = append(wires, w)
		}
	}
	var names []string
	for _, w := range wires {
		name := named(effect.Candidate{Straight: true, Spring: spring.Spring{Wire: w}}).Name
		for _, slot := range []struct {
			name string
			slot spring.Slot
		}{{"anchor", wanted.AnchorSlot}, {"active", wanted.ActiveSlot}} {
			const rounding = 1 + 1e-9 // slot and wire of one nominal size
			if h := slot.slot.HeightMM; w.HeightMM() > h*rounding {
				return nil, wrongCommandLine("--wire: %s is %.4g mm thick, the %s slot is %.4g mm high", name, w.HeightMM(), slot.name, h).
					hint("choose a thinner wire, or check the slot in the case")
			}
			if d := slot.slot.DepthMM; d > 0 && w.DepthMM() > d*rounding {
				return nil, wrongCommandLine("--wire: %s is %.4g mm wide, the %s slot is %.4g mm deep", name, w.DepthMM(), slot.name, d).
					hint("choose a narrower wire, or check the slot in the case")
			}
		}
		if slices.Contains(names, name) {
			return nil, wrongCommandLine("--wire: %s is given twice", name)
		}
		names = append(names, name)
	}
	return wires, nil
}

// wiresFlag collects the wires of a flag that may be given several times.
type wiresFlag struct{ wires []wire.Wire }

func (f *wiresFlag) Set(text string) error {
	w, err := wire.ParseSpec(text)
	var spec *wire.SpecError
	if errors.As(err, &spec) {
		return hintedError{err, spec.Advice}
	}
	if len(f.wires) == mostWires {
		return fmt.Errorf("at most %d wires can be compared", mostWires)
	}
	f.wires = append(f.wires, w)
	return err
}

func (f *wiresFlag) String() string { return "" }

func (f *wiresFlag) Type() string { return "wire" }

// comparisonText is the answer on standard output.
func comparisonText(wanted design.Case, candidates []effect.Candidate, dir string, files []output) string {
	var text tableText
	text.line("case %s: %s", wanted.Code, wanted.Title)
	text.comparison(wanted, candidates)
	text.line("")
	text.written(dir, files)
	text.line("\nAn estimate for licensed dental professionals: real wires differ by about a quarter.")
	return text.String()
}
