package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"text/tabwriter"

	"springwright/design/quantity"
	"springwright/design/spelling"
	"springwright/design/tooth"

	"github.com/spf13/pflag"
)

// parseFlags parses the arguments of a command. It refuses what pflag would take for
// something else without a word: "-force" (read as -f -o …, or as help where it begins
// with h) and a flag that is given twice (the last would win).
func parseFlags(flags *pflag.FlagSet, args []string) (wantsHelp bool, err error) {
	if err := checkWords(flags, args); err != nil {
		return false, err
	}
	err = flags.Parse(args)
	var valueMissing *pflag.ValueRequiredError
	var valueWrong *pflag.InvalidValueError
	switch {
	case err == nil:
		return false, nil
	case errors.Is(err, pflag.ErrHelp):
		return true, nil
	case errors.As(err, &valueMissing):
		f := valueMissing.GetFlag()
		placeholder, _ := pflag.UnquoteUsage(f)
		return false, wrongCommandLine("--%s needs a value", f.Name).hint("write --%s %s", f.Name, placeholder)
	case errors.As(err, &valueWrong):
		f := valueWrong.GetFlag()
		refused := wrongCommandLine("--%s: %v", f.Name, cause(valueWrong, f))
		var hinted hintedError
		if errors.As(valueWrong, &hinted) {
			refused.hint("%s", hinted.hint)
		}
		return false, refused
	default:
		return false, wrongCommandLine("%v", err)
	}
}

// cause is the error of a flag's own Set, without pflag's frame. The number types of
// pflag put strconv's words there, which say nothing to the user.
func cause(wrong *pflag.InvalidValueError, f *pflag.Flag) error {
	if f.Value.Type() == "uint64" {
		return fmt.Errorf("%q is not a whole number from 0 on", wrong.GetValue())
	}
	return wrong.Unwrap()
}

func checkWords(flags *pflag.FlagSet, args []string) error {
	seen := map[string]bool{}
	for i := 0; i < len(args); i++ {
		word := args[i]
		if word == "--" {
			return nil
		}
		name, isLong := strings.CutPrefix(word, "--")
		name, _, hasValue := strings.Cut(name, "=")
		switch {
		case isLong && name == "help":
		case isLong:
			flag := flags.Lookup(name)
			if flag == nil {
				return unknownFlag(flags, "--"+name, name)
			}
			if _, repeats := flag.Value.(*wiresFlag); seen[name] && !repeats {
				return wrongCommandLine("--%s is given twice", name)
			}
			seen[name] = true
			if !hasValue && flag.NoOptDefVal == "" {
				i++ // the next word is its value
			}
		case len(word) == 2 && word[0] == '-' && flags.ShorthandLookup(word[1:]) != nil:
			if f := flags.ShorthandLookup(word[1:]); seen[f.Name] {
				return wrongCommandLine("--%s is given twice", f.Name)
			}
			seen[flags.ShorthandLookup(word[1:]).Name] = true
		case len(word) > 1 && word[0] == '-' && word != "-h":
			short, _, _ := strings.Cut(word[1:], "=")
			return unknownFlag(flags, "-"+short, short)
		}
	}
	return nil
}

func unknownFlag(flags *pflag.FlagSet, written, name string) error {
	names := []string{"help"}
	flags.VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	f := wrongCommandLine("unknown flag %s", written)
	if near := spelling.Nearest(name, names); near != "" {
		return f.hint("did you mean --%s", near)
	}
	return f.hint("springwright help %s lists the flags", flags.Name())
}

// quantityFlag is a flag whose value is a number with or without a unit. pflag's own
// floats would let NaN and infinities pass.
type quantityFlag struct {
	unit     quantity.Unit // of a number without a unit
	min, max float64       // allowed, in the program's own unit
	value    *float64      // in the program's own unit
}

func (q quantityFlag) Set(text string) error {
	v, err := quantity.ParseBare(text, q.unit)
	if err != nil {
		return err
	}
	if v < q.min || v > q.max {
		return fmt.Errorf("%s is not in %s…%s %s", text, q.unit.FormatInside(q.min), q.unit.FormatInside(q.max), q.unit.Symbol)
	}
	*q.value = v
	return nil
}

func (q quantityFlag) String() string {
	if q.value == nil || *q.value == 0 {
		return ""
	}
	return q.unit.FormatInside(*q.value) + q.unit.Symbol
}

func (q quantityFlag) Type() string { return q.unit.Symbol }

// toothFlag is a flag whose value is a tooth number.
type toothFlag struct{ value *tooth.Number }

func (t toothFlag) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || !tooth.Number(n).Valid() {
		return fmt.Errorf("%q is no permanent tooth, ISO 3950 has 11…18, 21…28, 31…38 and 41…48", text)
	}
	*t.value = tooth.Number(n)
	return nil
}

func (t toothFlag) String() string {
	if *t.value == 0 {
		return ""
	}
	return strconv.Itoa(int(*t.value))
}

func (t toothFlag) Type() string { return "tooth" }

// Choices are all teeth.
func (t toothFlag) Choices() (numbers []string) {
	for n := tooth.Number(11); n <= 48; n++ {
		if n.Valid() {
			numbers = append(numbers, strconv.Itoa(int(n)))
		}
	}
	return numbers
}

// flagUsages lists flags with their placeholders and defaults.
func flagUsages(flags *pflag.FlagSet) string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	flags.VisitAll(func(f *pflag.Flag) {
		name, usage := flagUsage(f)
		_, _ = fmt.Fprintf(w, "  %s\t%s\n", name, usage) // into memory
	})
	_ = w.Flush()
	return b.String()
}

// flagUsage is a flag with its placeholder, and what it does with its default.
func flagUsage(f *pflag.Flag) (name, usage string) {
	placeholder, usage := pflag.UnquoteUsage(f)
	if f.NoOptDefVal != "" {
		placeholder = ""
	}
	if f.DefValue != "" && f.DefValue != "false" {
		usage += " (default " + f.DefValue + ")"
	}
	name = strings.TrimSpace("--" + f.Name + " " + placeholder)
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", " + name
	}
	return name, usage
}

// hintedError is what is wrong with a flag's value, and what to write instead.
type hintedError struct {
	error
	hint string
}
