package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export"

	"github.com/spf13/pflag"
)

// sheetOptions are the flags of "sheet".
type sheetOptions struct {
	measuring bool
	cases     string
	active    tooth.Number // 0: not given
	anchor    tooth.Number // 0: not given
	perSheet  int
	twins     bool
	list      bool // the bend lists, on standard output
	paperOptions
	printer export.Printer

	flags *pflag.FlagSet // tells what was given
}

// mostSprings is a day's work of a laboratory, and 100 pages at most.
const mostSprings = 100

// AddFlags adds the flags and their defaults.
func (o *sheetOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	flags.BoolVar(&o.measuring, "measuring", false, "the blank form for what is measured at the chair or on the model, and no springs")
	flags.StringVar(&o.cases, "cases", "", "case `FILES` of the springs, in their order, with commas between them")
	flags.Var(toothFlag{&o.active}, "active", "active `TOOTH` (ISO 3950) of all the springs, where their files name none, instead of --cases")
	flags.Var(toothFlag{&o.anchor}, "anchor", "anchor `TOOTH` of all the springs, in the same quadrant")
	flags.Var(countFlag{mostSprings, &o.perSheet}, "per-sheet", "`NUMBER` of springs on a page; where not given, as many as fit")
	flags.BoolVar(&o.twins, "twins", false, "behind each spring its mirrored twin for the other side")
	addListFlag(flags, &o.list)
	o.addPaperFlags(flags, "springwright-sheet", "sheet")
	o.addOnlyFlag(flags, outputSet{names: []string{"springs.pdf", "measuring.pdf"}, numbered: []numberedName{{"springs-", ".svg"}, {"measuring-", ".svg"}}})
	addScaleFlags(flags, &o.printer)
}

// countFlag is a flag whose value is a whole number from 1 on.
type countFlag struct {
	most  int
	value *int
}

func (c countFlag) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > c.most {
		return fmt.Errorf("%q is not a whole number from 1 to %d", text, c.most)
	}
	*c.value = n
	return nil
}

func (c countFlag) String() string {
	if c.value == nil || *c.value == 0 {
		return ""
	}
	return strconv.Itoa(*c.value)
}

func (c countFlag) Type() string { return "count" }

func newSheet() verb {
	var o sheetOptions
	return verb{
		name:      "sheet",
		arguments: "SPRING.toml… | --measuring",
		summary:   "draw several springs on one sheet, or the blank measuring form",
		about: "SPRING.toml is a spring file, such as \"design\" writes, and names its teeth; else --cases or\n" +
			"--active and --anchor do. All are drawn at true size, none over another. Written are springs.pdf,\n" +
			"springs-1.svg and so on; with --measuring, measuring.pdf and measuring-1.svg. A list of them\n" +
			"with their SHA-256 stands beside them, such as springs-files.txt: --force replaces nothing else.\n",
		example:  "sheet a/spring.toml b/spring.toml --cases a.toml,b.toml --twins\nsheet --measuring --open",
		most:     mostSprings,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			if o.measuring {
				return runMeasuring(ctx, o, c, args)
			}
			return runSheet(ctx, o, c, args)
		},
	}
}

func runMeasuring(ctx context.Context, o sheetOptions, c console, args []string) error {
	if len(args) > 0 {
		return wrongCommandLine("--measuring draws no springs, what is %q for", args[0]).hint("leave out one of the two")
	}
	for _, name := range [...]string{"cases", "active", "anchor", "per-sheet", "twins", "list"} {
		if o.flags.Changed(name) {
			return wrongCommandLine("--measuring draws no springs, what is --%s for", name).hint("leave out one of the two")
		}
	}
	frame, err := o.frame(nil)
	if err != nil {
		return err
	}
	place, err := o.prepare(ctx, c, measuringOutputs())
	if err != nil {
		return err
	}
	file, pages, err := export.Measuring(frame)
	if err != nil {
		return err
	}
	return o.write(ctx, c, place, "measuring", file, pages, "")
}

func runSheet(ctx context.Context, o sheetOptions, c console, args []string) error {
	if len(args) == 0 {
		return wrongCommandLine("sheet needs SPRING.toml, one or more, or --measuring").hint("\"springwright help sheet\" shows how it is called")
	}
	springs, inputs, err := o.springs(ctx, args)
	if err != nil {
		return err
	}
	frame, err := o.frame(inputs)
	if err != nil {
		return err
	}
	place, err := o.prepare(ctx, c, springsOutputs())
	if err != nil {
		return err
	}
	if err := evaluateAll(ctx, c, springs); err != nil {
		return err
	}
	wanted := export.SpringSheet{Frame: frame, Springs: springs, Twins: o.twins, PerSheet: o.perSheet}
	file, pages, err := export.Springs(wanted)
	if err != nil {
		return err
	}
	for i, spring := range springs {
		c.warn(report.UnnamedTeeth(args[i], spring.Spring, spring.Teeth))
		c.warnUnmet(args[i], spring.Teeth, spring.Spring)
	}
	list := ""
	if o.list {
		if list, err = wanted.BendLists(); err != nil {
			return err
		}
		list += "\n"
	}
	return o.write(ctx, c, place, "springs", file, pages, list)
}

// evaluateAll solves all springs, for what the sheet says of each beside its drawing. One
// that cannot be solved is drawn all the same: its file may be on its way to be mended.
func evaluateAll(ctx context.Context, c console, springs []export.SheetSpring) error {
	for i := range springs {
		s := &springs[i]
		if s.Evaluation, s.Unsolved = solve.Evaluate(ctx, s.Spring, solve.Options{}); s.Unsolved == nil {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		c.say("warning", fmt.Sprintf("%s: %v; its sheet has no gauge value", s.Code, s.Unsolved))
		c.say("hint", "\"springwright evaluate\" on its file says more")
	}
	return nil
}

// springs reads all springs with their teeth, and returns what was read, too.
func (o sheetOptions) springs(ctx context.Context, files []string) (springs []export.SheetSpring, inputs [][]byte, err error) {
	var cases []string
	byTeeth := o.active != 0 || o.anchor != 0
	switch {
	case o.cases != "" && byTeeth:
		return nil, nil, wrongCommandLine("--cases and --active with --anchor both name the teeth").hint("leave out one of the two")
	case o.cases != "":
		if cases = strings.Split(o.cases, ","); len(cases) != len(files) {
			return nil, nil, wrongCommandLine("--cases names %d files for %d springs", len(cases), len(files)).hint("give one case file for each spring, in the same order")
		}
	}
	pair, err := teethOf(o.active, o.anchor)
	if err != nil {
		return nil, nil, err
	}
	for i, name := range files {
		spring, data, err := readSpring(ctx, name)
		if err != nil {
			return nil, nil, err
		}
		inputs = append(inputs, data)
		if cases != nil {
			data, err := readInput(ctx, cases[i])
			if err != nil {
				return nil, nil, err
			}
			wanted, err := casefile.ReadCase(shownName(cases[i]), data)
			if err != nil {
				return nil, nil, err
			}
			inputs = append(inputs, data)
			if err := fitsCase(name, spring, wanted); err != nil {
				return nil, nil, err
			}
			springs = append(springs, sheetSpringOf(wanted, spring))
			continue
		}
		teeth, err := teethFor(name, spring, pair)
		if err != nil {
			return nil, nil, err
		}
		if teeth == (tooth.Pair{}) {
			return nil, nil, wrongCommandLine("which teeth %s is for is not said", name).
				hint("give --cases with a case file for each spring, or --active and --anchor")
		}
		springs = append(springs, export.SheetSpring{Code: springCode(name), Teeth: teeth, Spring: spring})
	}
	return springs, inputs, nil
}

func sheetSpringOf(wanted design.Case, spring spring.Spring) export.SheetSpring {
	return export.SheetSpring{
		Code: wanted.Code, Teeth: wanted.Teeth, Spring: spring,
		AnchorSlot: wanted.AnchorSlot, ActiveSlot: wanted.ActiveSlot,
	}
}

// springCode names a spring without a case by its file, or by the directory of a design.
func springCode(file string) string {
	code := strings.TrimSuffix(filepath.Base(file), ".toml")
	if dir := filepath.Base(filepath.Dir(file)); code == "spring" && dir != "." && dir != string(filepath.Separator) {
		code = dir
	}
	const longest = 32 // as of a case code
	if runes := []rune(code); len(runes) > longest {
		code = string(runes[:longest-1]) + "…"
	}
	return code
}

func (o sheetOptions) frame(inputs [][]byte) (export.Frame, error) {
	date, err := sheetDate()
	if err != nil {
		return export.Frame{}, err
	}
	frame := export.Frame{Version: version, Date: date, Paper: o.paper, Language: o.language, Printer: o.printer}
	if len(inputs) > 0 {
		frame.Fingerprint = casefile.FingerprintOf(inputs...)
	}
	return frame, nil
}

// write writes the files and prints the text, which may be empty, and where they are.
func (o sheetOptions) write(ctx context.Context, c console, place *destination, name string, file []byte, pages [][]byte, list string) error {
	files, err := place.write(ctx, pageFiles(name, file, pages))
	if err != nil {
		return err
	}
	var text tableText
	text.WriteString(list)
	text.written(o.out, files)
	text.line("\nPrint at 100 %% and measure both bars.")
	return writeResult(c.stdout, text.String(), o.out, files)
}
