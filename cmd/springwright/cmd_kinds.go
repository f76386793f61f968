package main

import (
	"context"
	"fmt"
	"math"
	"strings"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/family"

	"github.com/spf13/pflag"
)

// kindsOptions are the flags of "kinds".
type kindsOptions struct {
	json bool
	svg  bool
}

// AddFlags adds the flags and their defaults.
func (o *kindsOptions) AddFlags(flags *pflag.FlagSet) {
	flags.BoolVar(&o.json, "json", false, "print as JSON")
	flags.BoolVar(&o.svg, "svg", false, "print the drawing of NAME as SVG")
}

// longestKind is the number of words of the longest name of a kind.
const longestKind = 3

func newKinds() verb {
	var o kindsOptions
	return verb{
		name:      "kinds",
		arguments: "[NAME]",
		summary:   "list the kinds of springs and what they are for, or draw one of them",
		about: "With NAME, such as T-loop, the spring is drawn, and what it needs is said in the words of the\n" +
			"case file. What a kind is for is common practice; the drawing has invented sizes.\n",
		example:  "kinds T-loop\nkinds T-loop --svg > t-loop.svg",
		words:    kindWords,
		most:     longestKind,
		addFlags: o.AddFlags,
		run: func(_ context.Context, c console, args []string) error {
			return runKinds(o, c, strings.Join(args, " "))
		},
	}
}

func runKinds(o kindsOptions, c console, name string) error {
	kinds := design.Families()
	if name != "" {
		kind, err := design.FamilyOf(name)
		if err != nil {
			return wrongCommandLine("%v", err)
		}
		kinds = []design.Family{kind}
	}
	switch {
	case o.svg && o.json:
		return wrongCommandLine("--json and --svg both print on standard output").hint("leave one of them out")
	case o.svg && name == "":
		return wrongCommandLine("--svg draws one kind of spring, which is not named").hint("springwright kinds T-loop --svg > t-loop.svg")
	}
	listed, err := listKinds(kinds)
	switch {
	case err != nil:
		return err
	case o.json:
		return writeJSON(c, listed)
	case name == "":
		return writeAll(c.stdout, kindsText(kinds, listed.Kinds))
	case o.svg:
		return writeAll(c.stdout, kindSVG(kinds[0], listed.Kinds[0].SketchMM))
	}
	return writeAll(c.stdout, kindText(kinds[0], listed.Kinds[0]))
}

// The list as JSON.
type kindList struct {
	Format  casefile.Format `json:"format"`
	Version int             `json:"version"`
	Program string          `json:"program"`

	Kinds []listedKind `json:"kinds"`
}

type listedKind struct {
	Name        string       `json:"name"`
	For         string       `json:"for"`
	Hooked      bool         `json:"hooked"`
	FromBehind  bool         `json:"from_behind"`
	MovesAnchor bool         `json:"moves_anchor"`
	Presets     []string     `json:"presets"`
	SketchMM    [][2]float64 `json:"sketch_mm"`
}

func listKinds(kinds []design.Family) (kindList, error) {
	list := kindList{Format: casefile.KindsFormat, Version: casefile.FormatVersion, Program: origin("").Program}
	all, err := listPresets()
	if err != nil {
		return kindList{}, err
	}
	for _, kind := range kinds {
		poses, err := family.Sketch(kind)
		if err != nil {
			return kindList{}, err
		}
		listed := listedKind{
			Name: kind.Name, For: english().KindFor(kind), Hooked: kind.Hooked, FromBehind: kind.FromBehind, MovesAnchor: kind.MovesAnchor,
			Presets: []string{}, SketchMM: sketchLine(poses),
		}
		for _, p := range all.Presets {
			if p.Kind == kind.Name {
				listed.Presets = append(listed.Presets, p.Name)
			}
		}
		list.Kinds = append(list.Kinds, listed)
	}
	return list, nil
}

// sketchLine is x and z of a wire, to a hundredth of a millimetre.
func sketchLine(poses []beam.Pose) [][2]float64 {
	hundredth := func(v float64) float64 { return math.Round(v*100)/100 + 0 } // no minus zero
	var line [][2]float64
	for _, p := range poses {
		line = append(line, [2]float64{hundredth(p.At.X), hundredth(p.At.Z)})
	}
	return line
}

func kindsText(kinds []design.Family, listed []listedKind) string {
	var text tableText
	for i, kind := range kinds {
		text.line("%s", kind.Name)
		text.line("  %s\n", english().KindFor(kind))
		text.line("%s", kindPicture(listed[i].SketchMM, kind.Hooked))
	}
	text.line("\"springwright kinds NAME\" says what one needs. Left the anchor slot, sizes invented. What a kind is for is common practice.")
	return text.String()
}

// kindWords are the names of the kinds.
func kindWords(before []string) []candidate {
	var list []candidate
	for _, kind := range design.Families() {
		if len(before) == 0 {
			list = append(list, candidate{kind.Name, english().KindFor(kind)})
		}
	}
	return list
}

func kindText(kind design.Family, listed listedKind) string {
	var text tableText
	text.line("%s: %s\n", kind.Name, english().KindFor(kind))
	text.WriteString(kindPicture(listed.SketchMM, kind.Hooked))
	far := "right the active one"
	if kind.Hooked {
		far = "right the point that it is hooked to"
	}
	text.line("\nleft the anchor slot, %s; before any pre-activation, sizes invented\n", far)
	for _, line := range kindNeeds(kind) {
		text.line("%s", line)
	}
	text.line("\nin the case file")
	text.line("  spring = %q", kind.Name)
	if kind.Hooked {
		text.line("  slide = \"active\"         # where the hook slides along what it hangs on")
	}
	text.line("  [active_slot]")
	switch {
	case kind.Hooked:
		text.line("  length_mm = 0            # a point; enter and hold are left out")
	case kind.FromBehind:
		text.line("  enter = \"from behind\"    # or \"from the anchor\"")
	default:
		text.line("  # enter is left out: it goes from the anchor")
	}
	for _, name := range listed.Presets {
		text.line("\nan example: springwright presets show %s", name)
	}
	return text.String()
}

// kindNeeds says what a kind needs on both teeth.
func kindNeeds(kind design.Family) []string {
	needs := []string{"needs a slot or tube on the anchor tooth"}
	switch {
	case kind.Hooked:
		needs[0] += ", and on the active tooth a point to hook or tie it to"
	case kind.FromBehind:
		needs[0] += " and one on the active tooth, which it enters"
		needs = append(needs, "from the anchor, or from behind: from the side away from the anchor")
	default:
		needs[0] += " and one on the active tooth, which it enters from the anchor"
	}
	if kind.MovesAnchor {
		needs = append(needs, "the tooth to move holds it: that one is the anchor of the case, and the active tooth is the one that it is hooked to")
	}
	return needs
}

// kindSVG is a drawing of a kind's wire, with the slots or the hook at its ends.
func kindSVG(kind design.Family, line [][2]float64) string {
	const (
		roomMM         = 2.0
		slotMM, highMM = 3.0, 1.2
	)
	least, most := bounds(line)
	first, last := line[0], line[len(line)-1]
	left, right := least[0]-slotMM-roomMM, most[0]+slotMM+roomMM
	top, bottom := -most[1]-roomMM, -least[1]+roomMM
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.2fmm\" height=\"%.2fmm\" viewBox=\"%.2f %.2f %.2f %.2f\" fill=\"none\" stroke=\"black\" stroke-width=\"0.4\">\n",
		right-left, bottom-top, left, top, right-left, bottom-top)
	fmt.Fprintf(&b, "<title>%s</title>\n<polyline points=\"", kind.Name)
	for i, p := range line {
		if i > 0 {
			b.WriteString(" ")
		}
		fmt.Fprintf(&b, "%.2f,%.2f", p[0], 0-p[1])
	}
	b.WriteString("\"/>\n")
	slot := func(leftMM, z float64) {
		fmt.Fprintf(&b, "<rect x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\"/>\n", leftMM, -z-highMM/2, slotMM, highMM)
	}
	slot(first[0]-slotMM, first[1])
	if kind.Hooked {
		fmt.Fprintf(&b, "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"%.2f\"/>\n", last[0]+highMM/2, 0-last[1], highMM/2)
	} else {
		slot(last[0], last[1])
	}
	b.WriteString("</svg>\n")
	return b.String()
}
