package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/casefolder"
	"springwright/design/fault"
	"springwright/design/timeline"
	"springwright/export"
	"springwright/optimize/visit"

	"github.com/spf13/pflag"
)

// visitOptions are the flags of "visit".
type visitOptions struct {
	form    string
	visit   string
	values  string
	add     bool
	json    bool
	springs int
	seed    uint64
	paperOptions
	printer export.Printer

	flags *pflag.FlagSet
}

// AddFlags adds the flags and their defaults.
func (o *visitOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	flags.StringVar(&o.form, "new", "", "write the blank form of the next visit to `FILE`; \"-\" prints it")
	flags.StringVar(&o.visit, "visit", "", "`FILE` of today's visit, as --new writes it; it is only tried unless --add is given")
	flags.StringVar(&o.values, "values", "", "the visit as `TEXT` in place of a file, its lines parted by \";\", such as \"date = 2026-04-13; done = 'left as it is'; now.along_mm = 12.4; now.occlusal_mm = 1; now.buccal_mm = 0\"")
	flags.BoolVar(&o.add, "add", false, "append the visit to the history, visits.toml, where it is sound")
	flags.BoolVar(&o.json, "json", false, "print the result as JSON")
	flags.Var(countFlag{design.MostSprings, &o.springs}, "springs", "`NUMBER` of springs that may be the one worn, for bands and chances")
	flags.Lookup("springs").DefValue = fmt.Sprint(visit.UsualSprings)
	flags.Uint64Var(&o.seed, "seed", 1, "`NUMBER` that they are drawn with")
	o.addPaperFlags(flags, "", "visit")
	addScaleFlags(flags, &o.printer)
}

func newVisit() verb {
	var o visitOptions
	return verb{
		name:      "visit",
		arguments: "CASE-FOLDER",
		summary:   "tell at a follow-up visit where both teeth stand, and what to do with the spring",
		about: "CASE-FOLDER holds the case file as case.toml, the springs as \"design\" and \"adjust\" write them, and,\n" +
			"once there is one, the history of the visits, visits.toml. That is written by --add alone, which\n" +
			"appends to it and changes nothing above. The first visit is that at which the spring is seated.\n" +
			"Told is where both slots stand beside the plan, what the spring gives now, how far it still brings\n" +
			"the tooth, what the anchor has lost, and one thing to do: wait, re-activate, remake or stop. What\n" +
			"was guessed, how fast the teeth go, how firmly the anchor holds and where the centres of resistance\n" +
			"lie, is fitted to what was measured.\n" +
			"Where --out is given: visit.pdf, visit-1.svg and so on, corrected-1.toml, the spring to re-activate,\n" +
			"and remade-case.toml, the case of a new spring, where it comes to that. visit-files.txt lists them.\n",
		example:  "visit my-case --visit today.toml",
		least:    1,
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runVisit(ctx, o, c, args[0])
		},
	}
}

// given tells whether a visit is given.
func (o visitOptions) given() bool { return o.visit != "" || o.values != "" }

// check finds what contradicts itself on the command line.
func (o visitOptions) check(dir string) error {
	switch {
	case o.visit != "" && o.values != "":
		return wrongCommandLine("--visit and --values both give the visit").hint("leave one of them out")
	case o.form != "" && (o.given() || o.add || o.flags.Changed("out")):
		return wrongCommandLine("--new writes the form and nothing else").hint("fill it in, and give it by --visit")
	case o.add && !o.given():
		return wrongCommandLine("--add needs the visit").hint("springwright visit %s --new today.toml writes the blank form; give it by --visit", printable(dir))
	}
	return nil
}

// writeForm writes the blank form of the next visit.
func (o visitOptions) writeForm(c console, form []byte) error {
	if o.form == "-" {
		return writeAll(c.stdout, string(form))
	}
	if err := writeOwnFile(o.form, form); err != nil {
		return err
	}
	return writeAll(c.stdout, fmt.Sprintf("written: %s\n", o.form))
}

// told is the folder with the visit that is given, where one is.
func (o visitOptions) told(ctx context.Context, folder *casefolder.Folder) (*casefolder.Folder, error) {
	name, form := "--values", []byte(strings.ReplaceAll(o.values, ";", "\n"))
	switch {
	case !o.given():
		return folder, nil
	case o.visit != "":
		name = o.visit
		var err error
		if form, err = readInput(ctx, name); err != nil {
			return folder, err
		}
	}
	return folder.With(name, form)
}

func runVisit(ctx context.Context, o visitOptions, c console, dir string) error {
	if err := o.check(dir); err != nil {
		return err
	}
	read := func(path string) ([]byte, error) { return readInput(ctx, path) }
	folder, err := casefolder.Open(ctx, dir, read)
	if err != nil {
		return folderFailure(dir, err)
	}
	if o.form != "" {
		return o.writeForm(c, folder.Form())
	}
	told, err := o.told(ctx, folder)
	if err != nil {
		return err
	}
	if len(told.Stand) == 0 {
		return (&failure{code: exitFile, text: dir + " has no visit yet"}).
			hint("the first visit is that at which the spring is seated: springwright visit %s --new first.toml writes its blank form", printable(dir))
	}
	var place *destination
	if o.flags.Changed("out") {
		if place, err = c.prepare(ctx, visitOutputs(), o.out, o.force); err != nil {
			return err
		}
	}
	r, err := visit.Read(ctx, visit.Job{Case: told.Case, Visits: told.Standing(), Springs: o.springs, Seed: o.seed})
	if err != nil {
		return notFollowed(ctx, err)
	}
	fingerprint := told.Fingerprint()
	var files []output
	if place != nil {
		if files, err = o.files(told, r, fingerprint); err != nil {
			return err
		}
	}
	text := []byte(nil)
	if o.json {
		if text, err = casefile.WriteVisit(origin(fingerprint), r); err != nil {
			return err
		}
	}
	if place != nil {
		if files, err = place.write(ctx, files); err != nil {
			return err
		}
	}
	if o.add { // last: all that can go wrong has gone right, and a run that fails before may be made again
		if err := folder.Append(told); err != nil {
			return notAdded(dir, o.out, len(files) > 0, err)
		}
	}
	if !o.json {
		text = []byte(visitText(r, o, dir, o.given(), files))
	}
	return writeResult(c.stdout, string(text), o.out, files)
}

// notAdded says that a history could not be written, and what of its visit was.
func notAdded(dir, out string, written bool, err error) error {
	f := (&failure{code: exitOutput, text: fmt.Sprintf("%s cannot be written: %v", filepath.Join(dir, casefolder.VisitsName), err)}).hint("nothing was added; look at the file, and try again")
	if written {
		f.details = append(f.details, fmt.Sprintf("the files in %s tell of a visit that is not in the history", out))
		f.hint("--force replaces them then")
	}
	return f
}

// folderFailure says what a case folder needs.
func folderFailure(dir string, err error) error {
	var faults fault.List
	var f *failure
	if !errors.As(err, &faults) && errors.As(err, &f) {
		if info, err := os.Stat(dir); err != nil || !info.IsDir() {
			return (&failure{code: exitFile, text: printable(dir) + " is no folder"}).hint("a case folder holds the case file as %s and the springs: \"springwright design %s --out FOLDER\" makes one, the case file is copied into it", casefolder.CaseName, casefolder.CaseName)
		}
		return f.hint("a case folder holds the case file as %s; copy it there: cp my-case.toml %s", casefolder.CaseName, printable(filepath.Join(dir, casefolder.CaseName)))
	}
	return err
}

// notFollowed says why nothing can be told.
func notFollowed(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return (&failure{code: exitUnsolved, text: err.Error()}).
		hint("measure the slots again; if they stand so, take the spring out of work and plan anew")
}

// files are the page of a visit, and the springs and the case that come of it.
func (o visitOptions) files(folder *casefolder.Folder, r timeline.Report, fingerprint string) ([]output, error) {
	date, err := sheetDate()
	if err != nil {
		return nil, err
	}
	file, pages, err := export.VisitSheets(export.Visit{
		Frame:  export.Frame{Version: version, Fingerprint: fingerprint, Date: date, Paper: o.paper, Language: o.language, Printer: o.printer},
		Report: r,
	})
	if err != nil {
		return nil, err
	}
	files := pageFiles("visit", file, pages)
	for i, way := range r.Verdict.Ways {
		s := way.Spring
		s.Shortfall = way.Missed
		files = append(files, output{fmt.Sprintf("corrected-%d.toml", i+1), casefile.WriteSpring(s)})
	}
	if r.Verdict.Advice == timeline.Remake {
		data, err := casefile.RemadeCase(folder.CaseData, r.Case, r.Points[len(r.Points)-1].Now, 1+springsSeated(r))
		if err != nil {
			return nil, (&failure{code: exitFile, text: fmt.Sprintf("no case file can be made of %s: %v", casefolder.CaseName, err)}).
				hint("write where the slots stand now into a copy of it")
		}
		files = append(files, output{"remade-case.toml", data})
	}
	return files, nil
}

// springsSeated is how many springs there have been.
func springsSeated(r timeline.Report) int {
	n := 0
	for _, p := range r.Points {
		if p.Visit.Done == design.SeatedFirst || p.Visit.Done == design.Remade {
			n++
		}
	}
	return n
}

// visitText is what is told of a visit on the terminal.
func visitText(r timeline.Report, o visitOptions, dir string, given bool, files []output) string {
	var text tableText
	said := export.VisitTextOf(r, english().Language())
	last := r.Points[len(r.Points)-1].Visit
	text.line("%s", caseName(r.Case))
	text.line("visit %d, %s, %s", last.Number, last.Date.Format("2006-01-02"), last.Done)
	text.line("\n%s", said.Headline)
	for _, line := range append(append([]string{}, said.Todo...), said.Why...) {
		text.line("%s", line)
	}
	text.line("\nwhere the slots stand: %s", lowerFirst(said.WhereNote))
	text.labelled(joinedCells(said.Where))
	if len(said.Loads) > 0 {
		text.line("\nwhat the spring gives now: %s", lowerFirst(said.LoadsNote))
		text.labelled(said.Loads)
	}
	if len(said.Anchor)+len(said.Doubts) > 0 {
		text.line("")
		for _, line := range append(append([]string{}, said.Anchor...), said.Doubts...) {
			text.line("%s", line)
		}
	}
	if len(said.Fits) > 0 {
		text.line("\nwhat was guessed, and what the movement tells")
		text.labelled(said.Fits)
		for _, line := range said.Fitted {
			text.line("%s", line)
		}
		text.line("%s", said.FitsNote)
	}
	text.line("\nvisits")
	text.table(said.History)
	switch {
	case o.add:
		text.line("\nadded to %s", printable(filepath.Join(dir, casefolder.VisitsName)))
	case given:
		text.line("\ntried only: with --add it is written into %s", printable(filepath.Join(dir, casefolder.VisitsName)))
	}
	if len(files) > 0 {
		text.line("")
		text.written(o.out, files)
	}
	text.line("\nAn estimate for licensed dental professionals, not a prescription: the prescriber decides.")
	return text.String()
}

// joinedCells puts the first two cells of each row together.
func joinedCells(rows [][]string) [][]string {
	var out [][]string
	for _, row := range rows {
		out = append(out, append([]string{strings.TrimSpace(row[0] + " " + row[1])}, row[2:]...))
	}
	return out
}

// lowerFirst begins a sentence small, behind a colon.
func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }
