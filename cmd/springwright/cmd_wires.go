package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"springwright/design/casefile"
	"springwright/design/quantity"
	"springwright/design/wire"

	"github.com/spf13/pflag"
)

func newWires() verb {
	var asJSON bool
	return verb{
		name:    "wires",
		summary: "list the alloys and the standard sizes that the program knows",
		about: "A case or spring file names an alloy of this list, or gives its own e_gpa, poisson and\n" +
			"yield_mpa, also beside the alloy's name where a wire was measured.\n",
		example:  "wires\nwires --json",
		addFlags: func(flags *pflag.FlagSet) { flags.BoolVar(&asJSON, "json", false, "print the lists as JSON") },
		run: func(_ context.Context, c console, _ []string) error {
			if asJSON {
				text, err := wiresJSON()
				if err != nil {
					return err
				}
				return writeAll(c.stdout, text)
			}
			return writeAll(c.stdout, wiresText())
		},
	}
}

func wiresText() string {
	var text tableText
	text.line("alloys at room or mouth temperature: usual value (range)")
	rows := [][]string{{"", "E GPa", "G GPa", "ν", "yield MPa", "nickel"}}
	for _, a := range wire.Alloys() {
		yield, nickel := propertyText(a.YieldMPa, 1), "no"
		if a.IsSuperelastic() {
			yield = "superelastic"
		}
		if a.Nickel {
			nickel = "yes"
		}
		rows = append(rows, []string{
			a.Name, propertyText(a.EMPa, 1000), fixed(quantity.Gigapascal.Outside(a.ShearModulusMPa()), 0),
			propertyText(a.Poisson, 1), yield, nickel,
		})
	}
	text.labelled(rows)

	text.line("\nplateaus of superelastic wires, MPa from start to end")
	rows = [][]string{{"", "loading", "unloading", "strain %"}}
	for _, a := range wire.Alloys() {
		if l := a.Superelastic; a.IsSuperelastic() {
			rows = append(rows, []string{
				a.Name, fmt.Sprintf("%g to %g", l.LoadStartMPa, l.LoadEndMPa),
				fmt.Sprintf("%g to %g", l.UnloadStartMPa, l.UnloadEndMPa), fixed(100*l.TransformationStrain, 0),
			})
		}
	}
	text.labelled(rows)

	text.line("\nsources")
	for _, a := range wire.Alloys() {
		text.line("  %s", a.Name)
		text.line("    E: %s", a.EMPa.Source)
		text.line("    ν: %s; G = E/(2(1 + ν))", a.Poisson.Source)
		if a.IsSuperelastic() {
			text.line("    plateaus: %s", a.Superelastic.Source)
			continue
		}
		text.line("    yield: %s", a.YieldMPa.Source)
	}

	text.line("\nstandard sizes (common practice), thinner side first; round wires by their diameter")
	rows = [][]string{{"in", "mm"}}
	for _, s := range wire.Sizes() {
		mm := fixed(s.DiameterMM(), 4)
		if !s.Round() {
			mm = fixed(s.ThicknessMM(), 4) + " × " + fixed(s.WidthMM(), 4)
		}
		rows = append(rows, []string{strings.TrimSuffix(s.String(), " in"), mm})
	}
	text.labelled(rows)
	text.line("\nReal wires of one name differ by about a quarter in stiffness: check with a force gauge.")
	return text.String()
}

// propertyText is a value and its range, in units of size.
func propertyText(p wire.Property, size float64) string {
	number := func(v float64) string { return strconv.FormatFloat(v/size, 'g', 4, 64) }
	if p.Min == p.Max {
		return number(p.Value)
	}
	return fmt.Sprintf("%s (%s–%s)", number(p.Value), number(p.Min), number(p.Max))
}

// The listing as JSON; keys carry their unit as in files.
type wireLists struct {
	Format  casefile.Format `json:"format"`
	Version int             `json:"version"`
	Program string          `json:"program"`

	Alloys []listedAlloy `json:"alloys"`
	Sizes  []listedSize  `json:"sizes"`
}

type listedAlloy struct {
	Name         string              `json:"name"`
	E            listedProperty      `json:"e_gpa"`
	Poisson      listedProperty      `json:"poisson"`
	GGPa         float64             `json:"g_gpa"`
	Yield        *listedProperty     `json:"yield_mpa,omitempty"`
	Superelastic *listedSuperelastic `json:"superelastic,omitempty"`
	Nickel       bool                `json:"nickel"`
}

type listedProperty struct {
	Value  float64 `json:"value"`
	Min    float64 `json:"min"`
	Max    float64 `json:"max"`
	Source string  `json:"source"`
}

type listedSuperelastic struct {
	LoadStartMPa         float64 `json:"load_start_mpa"`
	LoadEndMPa           float64 `json:"load_end_mpa"`
	UnloadStartMPa       float64 `json:"unload_start_mpa"`
	UnloadEndMPa         float64 `json:"unload_end_mpa"`
	TransformationStrain float64 `json:"transformation_strain"`
	Source               string  `json:"source"`
}

type listedSize struct {
	Name        string  `json:"name"`
	ThicknessMM float64 `json:"thickness_mm,omitempty"`
	WidthMM     float64 `json:"width_mm,omitempty"`
	DiameterMM  float64 `json:"diameter_mm,omitempty"`
}

func wiresJSON() (string, error) {
	lists := wireLists{Format: casefile.WiresFormat, Version: casefile.FormatVersion, Program: origin("").Program}
	for _, a := range wire.Alloys() {
		listed := listedAlloy{
			Name: a.Name, E: listedIn(a.EMPa, 1000), Poisson: listedIn(a.Poisson, 1),
			GGPa: rounded(quantity.Gigapascal.Outside(a.ShearModulusMPa())), Nickel: a.Nickel,
		}
		if l := a.Superelastic; a.IsSuperelastic() {
			superelastic := listedSuperelastic(l)
			listed.Superelastic = &superelastic
		} else {
			yield := listedIn(a.YieldMPa, 1)
			listed.Yield = &yield
		}
		lists.Alloys = append(lists.Alloys, listed)
	}
	for _, s := range wire.Sizes() {
		lists.Sizes = append(lists.Sizes, listedSize{s.String(), s.ThicknessMM(), s.WidthMM(), s.DiameterMM()})
	}
	text, err := json.MarshalIndent(lists, "", "  ")
	return string(text) + "\n", err
}

func listedIn(p wire.Property, size float64) listedProperty {
	return listedProperty{rounded(p.Value / size), rounded(p.Min / size), rounded(p.Max / size), p.Source}
}

// rounded drops digits that no table of materials has.
func rounded(v float64) float64 { return math.Round(v*1e6) / 1e6 }
