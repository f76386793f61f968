package casefile

import (
	"fmt"

	"springwright/design/quantity"
	"springwright/design/tooth"
	"springwright/design/wire"
)

// Format tells what a JSON text of the program is.
type Format string

// The formats.
const (
	RecordFormat     Format = "springwright record"
	DesignFormat     Format = "springwright design"
	ComparisonFormat Format = "springwright comparison"
	WiresFormat      Format = "springwright wires"
)

// FormatVersion is the version of all formats. It is raised where a key is dropped or changes
// its meaning, and not where one is added.
const FormatVersion = 1

// Origin tells what has written a text and from what.
type Origin struct {
	Program     string // name and version
	Fingerprint string // check value of what was read; "" is left out
}

// header begins a text with what it is and where it comes from.
func (w *recordWriter) header(f Format, from Origin) {
	fmt.Fprintf(&w.out, "{\n  \"format\": %q,\n  \"version\": %d,\n  \"program\": %s,\n", f, FormatVersion, w.text("program", from.Program))
	if from.Fingerprint != "" {
		fmt.Fprintf(&w.out, "  \"fingerprint\": %s,\n", w.text("fingerprint", from.Fingerprint))
	}
}

// axes say where the axes point and what the loads are of. Where the teeth are known they are
// told in the words of the mouth, too.
func (w *recordWriter) axes(teeth tooth.Pair) {
	pairs := []pair{
		{"origin", `"where the wire leaves the anchor slot"`},
		{"x", `"along the arch, from the anchor to the active tooth"`},
		{"y", `"z × x"`},
		{"z", `"apical"`},
		{"loads", `"on the tooth"`},
		{"couples", `"about the centre of the tooth's slot, for a hook about the point where it is hooked"`},
	}
	if teeth != (tooth.Pair{}) {
		x, y := "distal", "lingual"
		if teeth.MesialSign() > 0 {
			x = "mesial"
		}
		if teeth.BuccalSign() > 0 {
			y = "buccal"
		}
		pairs = append(pairs, pair{"x_towards", fmt.Sprintf("%q", x)}, pair{"y_towards", fmt.Sprintf("%q", y)})
	}
	w.object("axes", "  ", pairs)
}

// wire writes the wire under the keys of a spring file.
func (w *recordWriter) wire(of wire.Wire, indent string) {
	w.place = "wire"
	w.object("wire", indent, wirePairs(of, func(s string) string { return w.text("alloy", s) }, func(key string, u quantity.Unit, inside float64) string {
		return w.number(key, u.Outside(inside))
	}))
}

// object writes a key with its keys, a line each, and others behind it.
func (w *recordWriter) object(key, indent string, pairs []pair) {
	fmt.Fprintf(&w.out, "%s%q: {", indent, key)
	for i, p := range pairs {
		if i > 0 {
			w.out.WriteByte(',')
		}
		fmt.Fprintf(&w.out, "\n%s  %q: %s", indent, p.key, p.value)
	}
	fmt.Fprintf(&w.out, "\n%s},\n", indent)
}

// text quotes a text.
func (w *recordWriter) text(key, s string) string {
	quoted, err := jsonText(s)
	if err != nil && w.err == nil {
		w.err = fmt.Errorf("%s of the record: %w", key, err)
	}
	return quoted
}

// wirePairs are the keys of a wire in spring files and records; what is 0 is left out.
func wirePairs(w wire.Wire, text func(string) string, number func(key string, u quantity.Unit, inside float64) string) []pair {
	var pairs []pair
	if w.Alloy != "" {
		pairs = append(pairs, pair{"alloy", text(w.Alloy)})
	}
	add := func(key string, u quantity.Unit, inside float64) {
		pairs = append(pairs, pair{key, number(key, u, inside)})
	}
	add("e_gpa", quantity.Gigapascal, w.EMPa)
	add("poisson", plain, w.Poisson)
	add("yield_mpa", quantity.Megapascal, w.YieldMPa)
	if w.TangentMPa > 0 {
		add("tangent_mpa", quantity.Megapascal, w.TangentMPa)
	}
	if w.Round() {
		add("diameter_mm", quantity.Millimetre, w.DiameterMM)
		return pairs
	}
	add("thickness_mm", quantity.Millimetre, w.ThicknessMM)
	add("width_mm", quantity.Millimetre, w.WidthMM)
	if w.CornerRadiusMM > 0 {
		add("corner_radius_mm", quantity.Millimetre, w.CornerRadiusMM)
	}
	return pairs
}
