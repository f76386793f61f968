package main

import (
	"context"
	"fmt"
	"time"

	"springwright/design"
	"springwright/design/spring"
	"springwright/optimize"

	"github.com/spf13/pflag"
)

func addVerboseFlag(flags *pflag.FlagSet, verbose *bool) {
	flags.BoolVarP(verbose, "verbose", "v", false, "tell on standard error what the search does, and how many springs it solves")
}

// searchTold searches with a line of progress, and tells what it does where that is asked for.
func searchTold(ctx context.Context, c console, wanted design.Case, quiet, verbose bool) (optimize.Chosen, error) {
	p := newProgress(c, "searching", quiet || verbose)
	options := optimize.Options{Progress: p.update}
	began := time.Now()
	tell := func(format string, args ...any) {
		_, _ = fmt.Fprintf(c.stderr, "springwright: %5.1f s: %s\n", time.Since(began).Seconds(), printable(fmt.Sprintf(format, args...)))
	}
	if verbose {
		if n := len(wanted.Variants()); n > 1 {
			tell("%d ways to choose from, each searched shortly, the best wholly", n)
		}
		options.Better = func(variant design.Case, s spring.Spring) {
			tell("best so far: %s, %s, %.1f mm of wire, %d bends", variant.Family, english().Wire(s.Wire), s.Path.WireLengthMM(), s.Path.Bends())
		}
	}
	chosen, err := optimize.SearchChoices(ctx, wanted, options)
	p.clear()
	if !verbose {
		return chosen, err
	}
	for _, line := range variantLines(chosen) {
		tell("%s", line)
	}
	for _, spared := range chosen.Spared {
		tell("with %d bends beside the plain corners the worst tolerance is used to %.0f %%, before rounding", spared.Bends, 100*spared.Worst)
	}
	tell("%d springs solved over their whole travel, %d numbers searched", chosen.Evaluations, len(chosen.Settings))
	if n := chosen.Robust.Spread; err == nil && n.Springs > 0 {
		tell("%d springs bent in trial, %d meet the target", n.Springs, n.Met)
	}
	return chosen, err
}
