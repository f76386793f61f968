package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"springwright/design/casefile"
	"springwright/design/quantity"
	"springwright/design/tooth"
	"springwright/export/jig"
	"springwright/export/words"

	"github.com/spf13/pflag"
)

// jigOptions are the flags of "jig".
type jigOptions struct {
	out         string
	clearanceMM float64
	code        string
	active      tooth.Number // 0: not given
	anchor      tooth.Number // 0: not given
	language    words.Language
	json        bool

	flags *pflag.FlagSet // tells what was given
}

// AddFlags adds the flags and their defaults.
func (o *jigOptions) AddFlags(flags *pflag.FlagSet) {
	o.flags = flags
	flags.StringVar(&o.out, "out", "jig.stl", "`FILE` to write, binary STL in mm; one that exists is never replaced")
	o.clearanceMM = jig.UsualClearanceMM
	flags.Var(quantityFlag{quantity.Millimetre, jig.LeastClearanceMM, jig.MostClearanceMM, &o.clearanceMM}, "clearance",
		"`MM` of room on each side of the wire; printers in plastic keep to about 0.1 mm")
	flags.StringVar(&o.code, "code", "", "`CODE` in raised letters, never a patient's name; where not given, the name of the file or of its design's folder")
	flags.Var(toothFlag{&o.active}, "active", "active `TOOTH` (ISO 3950), where the file names no teeth")
	flags.Var(toothFlag{&o.anchor}, "anchor", "anchor `TOOTH`, in the same quadrant")
	flags.Var(languageFlag{&o.language}, "lang", "`LANGUAGE` of what is printed about the plate, "+strings.Join(words.Names(), ", "))
	flags.BoolVar(&o.json, "json", false, "print size, volume and what the plate tells of each bend as JSON")
}

func newJig() verb {
	var o jigOptions
	return verb{
		name:      "jig",
		arguments: "SPRING.toml",
		summary:   "write a plate to print in plastic, in whose groove the passive spring lies",
		about: "SPRING.toml is a spring file, such as \"design\" writes, and names its teeth; else --active and --anchor\n" +
			"do. The plate shows the spring as seen from the cheek, at true size; posts stand at the ends of the\n" +
			"slots, the teeth's numbers, the code and the file's fingerprint are raised. The smaller the\n" +
			"clearance, the more a spring that drops in tells: what it tells is printed.\n",
		example:  "jig springwright-out/spring.toml --out jig.stl --clearance 0.08",
		least:    1,
		most:     1,
		addFlags: o.AddFlags,
		run: func(ctx context.Context, c console, args []string) error {
			return runJig(ctx, o, c, args[0])
		},
	}
}

func runJig(ctx context.Context, o jigOptions, c console, file string) error {
	if o.out == "" {
		return wrongCommandLine("--out names no file")
	}
	given, err := teethOf(o.active, o.anchor)
	if err != nil {
		return err
	}
	s, data, err := readSpring(ctx, file)
	if err != nil {
		return err
	}
	teeth, err := teethFor(file, s, given)
	switch {
	case err != nil:
		return err
	case teeth == (tooth.Pair{}):
		return wrongCommandLine("which teeth %s is for is not said", file).hint("give --active and --anchor: they say from which side the plate shows the spring")
	}
	code := springCode(file)
	if o.flags.Changed("code") {
		code = o.code
	}
	from := origin(casefile.FingerprintOf(data))
	made, err := jig.Of(s, teeth, jig.Options{ClearanceMM: o.clearanceMM, Code: code, Fingerprint: from.Fingerprint})
	if errors.Is(err, jig.ErrJig) {
		return failureOf(exitLimit, err)
	} else if err != nil {
		return err
	}
	if made.Unprinted != "" {
		c.say("warning", fmt.Sprintf("the plate has no raised letters for %q of its code", made.Unprinted))
		c.say("hint", "--code takes up to 32 letters of the English alphabet, digits, blanks and - _ . / +")
	}
	c.warnUnmet(file, teeth, s)
	stl := made.STL()
	if err := writeOwnFile(o.out, stl); err != nil {
		return err
	}
	if o.json {
		return writeJSON(c, jigJSONOf(made, from, o.out, stl))
	}
	var text tableText
	for _, line := range words.NewBook(o.language).Jig(made) {
		text.line("%s", line)
	}
	text.line("\nwritten: %s", printable(o.out))
	return writeAll(c.stdout, text.String())
}

// A plate as JSON.
type jigJSON struct {
	Format      casefile.Format `json:"format"`
	Version     int             `json:"version"`
	Program     string          `json:"program"`
	Fingerprint string          `json:"fingerprint"`

	File        string        `json:"file"`
	Bytes       int           `json:"bytes"`
	SHA256      string        `json:"sha256"`
	SizeMM      [3]float64    `json:"size_mm"`
	VolumeMM3   float64       `json:"volume_mm3"`
	Triangles   int           `json:"triangles"`
	ClearanceMM float64       `json:"clearance_mm"`
	GrooveMM    float64       `json:"groove_mm"`
	DepthMM     float64       `json:"depth_mm"`
	RiseMM      float64       `json:"rise_mm"`
	OpenSteps   []int         `json:"steps_without_a_wall"`
	Bends       []jigBendJSON `json:"bends"`
}

type jigBendJSON struct {
	Number    int      `json:"number"`
	PassesDeg *float64 `json:"passes_deg,omitempty"`
	Unheld    string   `json:"unheld,omitempty"`
}

func jigJSONOf(j jig.Jig, from casefile.Origin, file string, stl []byte) jigJSON {
	out := jigJSON{
		Format: casefile.JigFormat, Version: casefile.FormatVersion, Program: from.Program, Fingerprint: from.Fingerprint,
		File: file, Bytes: len(stl), SHA256: checksum(stl),
		SizeMM: [3]float64{thousandths(j.SizeMM.X), thousandths(j.SizeMM.Y), thousandths(j.SizeMM.Z)}, VolumeMM3: thousandths(j.VolumeMM3), Triangles: len(j.Triangles),
		ClearanceMM: j.ClearanceMM, GrooveMM: thousandths(j.GrooveMM), DepthMM: thousandths(j.DepthMM), RiseMM: thousandths(j.RiseMM),
		OpenSteps: append([]int{}, j.OpenWalls...), Bends: []jigBendJSON{},
	}
	for _, b := range j.Bends {
		one := jigBendJSON{Number: b.Number, Unheld: b.Unheld.String()}
		if b.Unheld == jig.Held {
			passes := thousandths(quantity.Degree.Outside(b.PassesRad))
			one.PassesDeg = &passes
		}
		out.Bends = append(out.Bends, one)
	}
	return out
}

// thousandths is a number to a thousandth, which nobody prints or measures.
func thousandths(v float64) float64 {
	const thousandth = 1e3
	return math.Round(v*thousandth)/thousandth + 0 // no minus zero
}
