package main

import (
	"springwright/presets"

	"github.com/spf13/pflag"
)

// presetFlag is a flag whose value is the name of a preset.
type presetFlag struct{ name *string }

func (p presetFlag) Set(text string) error {
	_, _, err := presetCase(text)
	if err == nil {
		*p.name = text
		return nil
	}
	if hints := asFailure(err).hints; len(hints) > 0 {
		return hintedError{err, hints[0]}
	}
	return err
}

func (p presetFlag) String() string {
	if p.name == nil {
		return ""
	}
	return *p.name
}

func (p presetFlag) Type() string { return "preset" }

// Choices are the presets.
func (p presetFlag) Choices() []string { return presets.Names() }

// addPresetFlag adds the flag for a case of the program's own.
func addPresetFlag(flags *pflag.FlagSet, name *string) {
	flags.Var(presetFlag{name}, "preset", "the case `NAME` that comes with the program, of those that \"springwright presets\" lists, in place of CASE.toml")
}

// presetWords are what may follow "presets".
func presetWords(before []string) []candidate {
	switch {
	case len(before) == 0:
		return []candidate{{"show", "print the case file"}, {"gallery", "draw all presets"}}
	case before[0] != "show":
		return nil
	}
	var list []candidate
	for _, name := range presets.Names() {
		if text, _, err := presets.Case(name); err == nil {
			list = append(list, candidate{name, presets.For(text)})
		}
	}
	return list
}
