package main

import (
	"context"
	"strings"

	"springwright/design/quantity"
	"springwright/export"
	"springwright/export/words"

	"github.com/spf13/pflag"
)

// paperOptions are the flags of every command that puts something on paper.
type paperOptions struct {
	out      string
	force    bool
	paper    export.Paper
	language words.Language
	only     string // the one file that goes to standard output; empty: files are written
	open     bool
}

// addPaperFlags adds the flags; what is what the command writes, in a word.
func (o *paperOptions) addPaperFlags(flags *pflag.FlagSet, dir, what string) {
	flags.StringVar(&o.out, "out", dir, "`DIR` to write into, made where it is missing")
	flags.BoolVar(&o.force, "force", false, "replace an earlier "+what+" in that directory; files that were changed since, or that it did not write, stop the run")
	flags.BoolVar(&o.open, "open", false, "open the sheet in the system's viewer when it is written")
	flags.Var(paperFlag{&o.paper}, "paper", "`SIZE` of the sheets, a4 or letter")
	flags.Var(languageFlag{&o.language}, "lang", "`LANGUAGE` of the printed words, "+strings.Join(words.Names(), ", "))
}

// addOnlyFlag adds the flag for one file of those that the command writes.
func (o *paperOptions) addOnlyFlag(flags *pflag.FlagSet, set outputSet) {
	flags.Var(onlyFlag{set, &o.only}, "only", "with --out -, the one file `NAME` of those that would be written, on standard output")
}

// prepare finds out before the work starts whether its result may be written, or printed.
func (o paperOptions) prepare(ctx context.Context, c console, set outputSet) (*destination, error) {
	if o.out == dash {
		if binaryOnTerminal(c.stdout, o.only) {
			return nil, wrongCommandLine("%s is no text, and standard output is a terminal", o.only).hint("lead it into a file or another program by > or |, or give a directory to --out")
		}
		return &destination{set: set, dir: dash, only: o.only, console: c}, nil
	}
	place, err := c.prepare(ctx, set, o.out, o.force)
	if place != nil {
		place.open, place.console = o.open, c
	}
	return place, err
}

// paperFlag is a flag whose value is a paper size.
type paperFlag struct{ value *export.Paper }

func (p paperFlag) Set(text string) (err error) {
	*p.value, err = export.ParsePaper(text)
	return err
}

func (p paperFlag) String() string { return strings.ToLower(p.value.String()) }

func (p paperFlag) Type() string { return "paper" }

// Choices are the papers.
func (p paperFlag) Choices() []string {
	return []string{paperFlag{new(export.A4)}.String(), paperFlag{new(export.Letter)}.String()}
}

// languageFlag is a flag whose value is a language of the printed words.
type languageFlag struct{ value *words.Language }

func (l languageFlag) Set(text string) (err error) {
	*l.value, err = words.Parse(text)
	return err
}

func (l languageFlag) String() string { return l.value.String() }

func (l languageFlag) Type() string { return "language" }

// Choices are the languages.
func (l languageFlag) Choices() []string { return words.Names() }

// addScaleFlags adds the flags that correct a sheet for a printer.
func addScaleFlags(flags *pflag.FlagSet, p *export.Printer) {
	flags.Var(quantityFlag{quantity.Millimetre, export.ShortestBarMM, export.LongestBarMM, &p.LevelMM}, "scale-x",
		"`MM` that the level 100 mm bar measured on your paper, such as 99.2; all true sizes are then drawn 100/MM as long")
	flags.Var(quantityFlag{quantity.Millimetre, export.ShortestBarMM, export.LongestBarMM, &p.UprightMM}, "scale-y",
		"`MM` that the upright bar measured; measure both on a sheet that is not corrected yet")
}

// addListFlag adds the flag for the bend list.
func addListFlag(flags *pflag.FlagSet, list *bool) {
	flags.BoolVar(list, "list", false, "print the bend list too, as on the page of bend steps, in the language of --lang")
}
