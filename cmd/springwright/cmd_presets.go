package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/spelling"
	"springwright/presets"

	"github.com/spf13/pflag"
)

func newPresets() verb {
	var asJSON bool
	return verb{
		name:      "presets",
		arguments: "[show NAME | gallery]",
		summary:   "list the cases that come with the program, print one, or draw all",
		about: "\"presets show NAME\" prints the case file with its comments: write it into a file of your own and\n" +
			"change its numbers. \"design --preset NAME\" designs it as it is. \"presets gallery\" designs all of them\n" +
			"and prints their drawings as one SVG picture.\n",
		example:  "presets show t-loop > my-case.toml\npresets gallery > gallery.svg",
		words:    presetWords,
		most:     2,
		addFlags: func(flags *pflag.FlagSet) { flags.BoolVar(&asJSON, "json", false, "print the list as JSON") },
		run: func(ctx context.Context, c console, args []string) error {
			switch {
			case len(args) == 1 && args[0] == "gallery" && asJSON:
				return wrongCommandLine("the gallery is a picture, what is --json for").hint("leave it out")
			case len(args) == 1 && args[0] == "gallery":
				return runGallery(ctx, c)
			case len(args) > 0 && args[0] != "show":
				f := wrongCommandLine("presets does not know what to do with %q", args[0])
				if len(args) == 1 {
					if _, _, err := presets.Case(args[0]); err == nil {
						return f.hint("springwright presets show %s", args[0])
					}
				}
				return f.hint("springwright help presets")
			case len(args) == 1:
				return wrongCommandLine("presets show needs the name of a preset").hint("\"springwright presets\" lists them")
			case len(args) == 2 && asJSON:
				return wrongCommandLine("a case file is TOML, what is --json for").hint("leave it out")
			case len(args) == 2:
				text, _, err := presetCase(args[1])
				if err != nil {
					return err
				}
				return writeAll(c.stdout, string(text))
			}
			listed, err := listPresets()
			if err != nil {
				return err
			}
			if asJSON {
				return writeJSON(c, listed)
			}
			return writeAll(c.stdout, presetsText(listed))
		},
	}
}

// presetCase is the case of a preset named on the command line.
func presetCase(name string) (text []byte, wanted design.Case, err error) {
	text, wanted, err = presets.Case(name)
	if errors.Is(err, presets.ErrUnknown) {
		f := wrongCommandLine("%v", err)
		if near := spelling.Nearest(name, presets.Names()); near != "" {
			f.hint("did you mean %q", near)
		}
		return nil, design.Case{}, f
	}
	return text, wanted, err
}

// The list as JSON.
type presetList struct {
	Format  casefile.Format `json:"format"`
	Version int             `json:"version"`
	Program string          `json:"program"`

	Presets []listedPreset `json:"presets"`
}

type listedPreset struct {
	Name   string `json:"name"`
	For    string `json:"for"`
	Title  string `json:"title"`
	Kind   string `json:"kind"`
	Active int    `json:"active"`
	Anchor int    `json:"anchor"`
}

func listPresets() (presetList, error) {
	list := presetList{Format: casefile.PresetsFormat, Version: casefile.FormatVersion, Program: origin("").Program}
	for _, name := range presets.Names() {
		text, wanted, err := presets.Case(name)
		if err != nil {
			return presetList{}, err
		}
		kind, err := design.FamilyOf(wanted.Family)
		if err != nil {
			return presetList{}, err
		}
		list.Presets = append(list.Presets, listedPreset{
			Name: name, For: presets.For(text), Title: wanted.Title, Kind: kind.Name,
			Active: int(wanted.Teeth.Active), Anchor: int(wanted.Teeth.Anchor),
		})
	}
	return list, nil
}

func presetsText(list presetList) string {
	var text tableText
	for _, p := range list.Presets {
		text.line("%s (%s, tooth %s held at %s)", p.Name, p.Kind, strconv.Itoa(p.Active), strconv.Itoa(p.Anchor))
		text.line("  %s", p.For)
	}
	text.line("\n\"springwright presets show NAME > my-case.toml\" writes one to change, \"springwright design --preset NAME\" designs it.")
	return text.String()
}

// writeJSON prints a value on standard output.
func writeJSON(c console, value any) error {
	text, err := json.MarshalIndent(value, "", "  ")
	if err != nil {
		return fmt.Errorf("as JSON: %w", err)
	}
	return writeAll(c.stdout, string(text)+"\n")
}
