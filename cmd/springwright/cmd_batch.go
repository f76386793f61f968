package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"springwright/cmd/springwright/batch"
	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/orders"
	"springwright/design/quantity"
	"springwright/export"
	"springwright/export/words"

	"github.com/spf13/pflag"
)

// batchOptions are the flags of "batch".
type batchOptions struct {
	out      string
	paper    export.Paper
	language words.Language
	printer  export.Printer
	part     orders.Part
	stockMM  float64
	anyway   bool
	json     bool
	quiet    bool
	newTable string
}

// Stock lengths of wire from a short end to what a spool is cut to.
const shortestStockMM, longestStockMM = 50, 5000

// AddFlags adds the flags and their defaults.
func (o *batchOptions) AddFlags(flags *pflag.FlagSet) {
	flags.StringVar(&o.newTable, "new", "", "write a list to begin with into `FILE`, with every column explained and an example that works, and make nothing")
	flags.StringVar(&o.out, "out", "springwright-batch", "`DIR` to write into, made where it is missing; a folder in it for each spring")
	flags.Var(partFlag{&o.part}, "part", "make only part `N/M` of the list, such as 3/8, and no cover sheet: for several machines")
	o.stockMM = orders.UsualStockMM
	flags.Var(quantityFlag{quantity.Millimetre, shortestStockMM, longestStockMM, &o.stockMM}, "stock", "length of the wires that pieces are cut from, in `MM`")
	flags.BoolVar(&o.anyway, "anyway", false, "draw the nearest spring where none meets the target; every page of it says what it misses")
	flags.Var(paperFlag{&o.paper}, "paper", "`SIZE` of the sheets, a4 or letter")
	flags.Var(languageFlag{&o.language}, "lang", "`LANGUAGE` of the printed words, "+strings.Join(words.Names(), ", "))
	addScaleFlags(flags, &o.printer)
	flags.BoolVar(&o.json, "json", false, "print what became of each order as JSON")
	flags.BoolVar(&o.quiet, "quiet", false, "no progress line")
}

// partFlag is a flag whose value is a part of a list.
type partFlag struct{ value *orders.Part }

func (p partFlag) Set(text string) (err error) {
	*p.value, err = orders.ParsePart(text)
	return err
}

func (p partFlag) String() string { return p.value.String() }

func (p partFlag) Type() string { return "part" }

func newBatch() verb {
	var o batchOptions
	return verb{
		name:      "batch",
		arguments: "ORDERS | --new FILE",
		summary:   "make the springs of many orders, with a cover sheet, labels and a cut list",
		about: "ORDERS is a list of orders as CSV, such as a spreadsheet saves, or a folder of case files; \"batch --new\n" +
			"orders.csv\" writes a list to begin with. Each spring gets a folder in DIR with template.pdf, spring.toml,\n" +
			"record.json, bends.csv, corners.csv and order.json. Beside them come cover.pdf, labels.pdf, summary.csv\n" +
			"and cut-list.csv. A second run makes only what is new or has changed; one that was stopped goes on.\n" +
			"With --part several machines share a list: copy their folders together, and run it once more without.\n" +
			"Of several exit codes the first of 7, 3 and 6 is given: not written, faulty orders, targets missed.\n",
		example:  "batch orders.csv --out today",
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			switch {
			case o.newTable != "" && len(args) > 0:
				return wrongCommandLine("--new makes nothing, what is %q for", args[0]).hint("leave out one of the two")
			case o.newTable != "":
				return newOrders(c, o)
			case len(args) == 0:
				return wrongCommandLine("batch needs ORDERS, a list or a folder of case files").
					hint("\"springwright batch --new orders.csv\" writes a list to begin with")
			}
			return runBatch(ctx, o, c, args[0])
		},
	}
}

// newOrders writes a list to begin with, in place of nothing.
func newOrders(c console, o batchOptions) error {
	if err := writeOwnFile(o.newTable, orders.NewTable(o.language.DecimalComma())); err != nil {
		return err
	}
	return writeAll(c.stdout, fmt.Sprintf("written: %s\n\nFill in a row an order and run \"springwright batch %s\".\n", printable(o.newTable), printable(o.newTable)))
}

// In one piece: the order of the steps, each with its failure.
func runBatch(ctx context.Context, o batchOptions, c console, from string) error {
	list, fingerprint, err := readOrders(ctx, from)
	if err != nil {
		return err
	}
	date, err := sheetDate()
	if err != nil {
		return err
	}
	if o.out == "" {
		return wrongCommandLine("--out names no directory")
	}
	frame := export.Frame{Version: version, Date: date, Paper: o.paper, Language: o.language, Printer: o.printer}
	if err := os.MkdirAll(o.out, 0o777); err != nil {
		return unwritable(o.out, err)
	}
	release, err := batch.Lock(o.out, o.part)
	switch {
	case errors.Is(err, batch.ErrBusy):
		return (&failure{code: exitOutput, text: "another run is at work in " + o.out}).
			hint("wait until it has ended, or name another directory by --out; runs of different parts of a list may share a directory")
	case err != nil:
		return unwritable(o.out, err)
	}
	defer release()
	whole := o.part == (orders.Part{})
	var place *destination
	if whole {
		if place, err = prepareOver(ctx, batchOutputs(), o.out); err != nil {
			return err
		}
	}

	p := newProgress(c, "", o.quiet)
	all, err := batch.Run(ctx, list, batch.Options{
		Dir: o.out, Part: o.part, Frame: frame, Anyway: o.anyway, Program: origin("").Program, Imprint: batch.Imprint(),
		Render: func(job export.Job) ([]batch.File, error) { return renderOrder(job) },
		Write:  writeOrder, Standing: orderStanding,
		FreePath: func(ctx context.Context, caseFile string, text []byte, wanted *design.Case) ([]byte, error) {
			return readFreePath(ctx, besideList(from, caseFile), text, wanted)
		},
		Faulty:   func(faults fault.List) { c.report(faults) },
		Progress: func(done batch.Progress) { p.say(progressText(done)) },
	})
	p.clear()
	interrupted := err != nil
	var files []output
	if whole {
		day := batch.Day(all, filepath.Base(shownName(from)), frame, o.stockMM)
		day.Fingerprint = fingerprint
		papers, err := batch.Papers(all, day)
		if err != nil {
			return err
		}
		// What is done is told even if the run was stopped.
		if files, err = place.write(context.WithoutCancel(ctx), outputsOf(papers)); err != nil {
			return err
		}
	}
	answer := batchText(all, from, o, files)
	if o.json {
		if answer, err = batchJSON(all, from, fingerprint, o, files); err != nil {
			return err
		}
	}
	if err := writeAll(c.stdout, answer); err != nil {
		return err
	}
	return batchEnd(all, interrupted)
}

// batchEnd is the error that a run ends with.
func batchEnd(all []batch.Outcome, interrupted bool) error {
	counts := batch.Counts(all)
	switch {
	case interrupted:
		return (&failure{code: exitInterrupted, text: fmt.Sprintf("interrupted; springs not made yet: %d of %d", counts[orders.Open], len(all))}).
			hint("run the same command again to go on")
	case counts[orders.InTheWay] > 0:
		return &failure{code: exitOutput, text: fmt.Sprintf("springs that could not be written: %d of %d", counts[orders.InTheWay], len(all))}
	case counts[orders.Faulty] > 0:
		return (&failure{code: exitFile, text: fmt.Sprintf("springs with faults in their orders: %d of %d", counts[orders.Faulty], len(all))}).
			hint("mend their rows and run the same command again: what is made stays")
	case counts[orders.Missed] > 0:
		return (&failure{code: exitUnmet, text: fmt.Sprintf("springs for which none meets the target: %d of %d", counts[orders.Missed], len(all))}).
			hint("the same case by \"springwright design\" is told what would do; --anyway draws the nearest spring")
	}
	return nil
}

// readOrders reads a list or a folder of case files, and returns a check value of it.
func readOrders(ctx context.Context, from string) (list []orders.Order, fingerprint string, err error) {
	if from != dash {
		info, err := os.Stat(from)
		if err != nil {
			return nil, "", unreadable(from, err)
		}
		if info.IsDir() {
			return readFolder(ctx, from)
		}
		if strings.EqualFold(filepath.Ext(from), ".toml") {
			return nil, "", (&failure{code: exitFile, text: from + " is no list of orders"}).hint("\"springwright design %s\" makes the spring of one case file; of many, name the folder that they are in", printable(from))
		}
	}
	const largestList = 1 << 26
	data, err := readInputUpTo(ctx, from, largestList)
	if err != nil {
		return nil, "", err
	}
	list, err = orders.ReadTable(shownName(from), data, orderStarts(ctx, from))
	return list, casefile.FingerprintOf(data), err
}

func readFolder(ctx context.Context, dir string) (list []orders.Order, fingerprint string, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, "", unreadable(dir, err)
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() {
			names = append(names, e.Name())
		}
	}
	var texts [][]byte
	for _, name := range batch.CaseNames(names) {
		name = filepath.Join(dir, name)
		text, err := readInput(ctx, name)
		if err != nil {
			return nil, "", err
		}
		list, texts = append(list, orders.OfFile(name, len(list)+1, text)), append(texts, text)
	}
	if len(list) == 0 {
		return nil, "", (&failure{code: exitFile, text: dir + " holds no case file"}).hint("case files end in .toml; \"springwright presets show NAME > %s\" writes one", filepath.Join(dir, "my-case.toml"))
	}
	return orders.OfFiles(list), casefile.FingerprintOf(texts...), nil
}

// besideList is where a file is that a list names.
func besideList(list, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	if info, err := os.Stat(list); err == nil && info.IsDir() {
		return name // a file of the folder goes by its whole name
	}
	return filepath.Join(filepath.Dir(list), name)
}

func progressText(p batch.Progress) string {
	text := fmt.Sprintf("springs made: %d of %d", p.Done, p.Total)
	if p.Attention > 0 {
		text += fmt.Sprintf(", to be looked after: %d", p.Attention)
	}
	if p.Left > 0 {
		text += ", about " + leftText(p.Left) + " left"
	}
	return text
}

// leftText is a time to wait, as nobody needs to know it better.
func leftText(d time.Duration) string {
	switch {
	case d < 90*time.Second:
		return fmt.Sprintf("%.0f s", d.Seconds())
	case d < 90*time.Minute:
		return fmt.Sprintf("%.0f min", d.Minutes())
	}
	return fmt.Sprintf("%.1f h", d.Hours())
}
