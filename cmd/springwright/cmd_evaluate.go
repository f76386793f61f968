package main

import (
	"context"
	"errors"

	"springwright/design/casefile"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"github.com/spf13/pflag"
)

// evaluateOptions are the flags of "evaluate".
type evaluateOptions struct {
	json       bool
	allowYield bool
	active     tooth.Number // 0: not given
	anchor     tooth.Number // 0: not given
}

// AddFlags adds the flags and their defaults.
func (o *evaluateOptions) AddFlags(flags *pflag.FlagSet) {
	flags.BoolVar(&o.json, "json", false, "print the record as JSON instead of tables")
	flags.BoolVar(&o.allowYield, "allow-yield", false, "only warn where the wire yields; the elastic figures are then too high")
	flags.Var(toothFlag{&o.active}, "active", "active `TOOTH` (ISO 3950); with --anchor, where the file names no teeth, loads are named mesial, buccal and so on")
	flags.Var(toothFlag{&o.anchor}, "anchor", "anchor `TOOTH`, in the same quadrant")
}

func newEvaluate() verb {
	var o evaluateOptions
	return verb{
		name:      "evaluate",
		arguments: "FILE",
		summary:   "print the loads of a spring file on both teeth over its travel",
		about: "FILE is a spring file (TOML). Loads are those on the tooth, couples are about the centre\n" +
			"of its slot or, of a hook, about the point where it is hooked. x runs along the arch from the\n" +
			"anchor to the active tooth, z is apical, y = z × x.\n",
		example:  "evaluate springwright-out/spring.toml --active 37 --anchor 36\nevaluate my-case/spring.toml --json",
		least:    1,
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runEvaluate(ctx, o, c, args[0])
		},
	}
}

func runEvaluate(ctx context.Context, o evaluateOptions, c console, file string) error {
	given, err := teethOf(o.active, o.anchor)
	if err != nil {
		return err
	}
	spring, data, err := readSpring(ctx, file)
	if err != nil {
		return err
	}
	teeth, err := teethFor(file, spring, given)
	if err != nil {
		return err
	}
	r, err := report.OfSpring(ctx, spring, teeth, solve.Options{AllowYield: o.allowYield})
	switch {
	case errors.Is(err, solve.ErrYield):
		return asFailure(err).hint("activate less, make the loop larger or use a thinner wire; --allow-yield prints the elastic figures all the same")
	case err != nil:
		return err
	}
	c.warn(report.UnnamedTeeth(file, spring, teeth))
	c.warnUnmet(file, teeth, spring)
	c.warn(r.Evaluation.Warnings)
	if o.json {
		record, err := casefile.WriteRecord(origin(casefile.FingerprintOf(data)), spring.Wire, r.Evaluation.Record)
		if err != nil {
			return err
		}
		return writeAll(c.stdout, string(record))
	}
	return writeAll(c.stdout, evaluationText(spring, r.Evaluation.Record, wordsOf(teeth)))
}

// wordsOf are the words for directions: the trade's where teeth are known.
func wordsOf(pair tooth.Pair) loadWords {
	if pair == (tooth.Pair{}) {
		return axisWords()
	}
	return pairWords(pair)
}

// teethOf is the pair of --active and --anchor; the zero pair where neither is given.
func teethOf(active, anchor tooth.Number) (tooth.Pair, error) {
	pair := tooth.Pair{Anchor: anchor, Active: active}
	switch {
	case pair == (tooth.Pair{}):
		return pair, nil
	case active == 0 || anchor == 0:
		return pair, wrongCommandLine("--active and --anchor must be given together")
	case active == anchor:
		return pair, wrongCommandLine("--active and --anchor are both tooth %d", active)
	case !pair.SameQuadrant():
		return pair, wrongCommandLine("teeth %d and %d stand in different quadrants", active, anchor).
			hint("give two teeth of one quadrant, with the same first digit")
	}
	return pair, nil
}

func evaluationText(s spring.Spring, r spring.Record, words loadWords) string {
	var text tableText
	if r.Title != "" {
		text.line("%s", r.Title)
	}
	text.line("%s, %.1f mm of wire between the slots", english().Wire(s.Wire), s.Path.WireLengthMM())
	text.loads(s, r, words)
	return text.String()
}
