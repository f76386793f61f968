package casefile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

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
	KindsFormat      Format = "springwright kinds"
	PresetsFormat    Format = "springwright presets"
	AdjustmentFormat Format = "springwright adjustment"
	JigFormat        Format = "springwright jig"
	VisitFormat      Format = "springwright visit"
	OrderFormat      Format = "springwright order"
	BatchFormat      Format = "springwright batch"
	ClassFormat      Format = "springwright class"
	MarksFormat      Format = "springwright marks"
)

// FormatVersion is the version of all formats. It is raised where a key is dropped or changes
// its meaning, and not where one is added.
const FormatVersion = 1

// Origin tells what has written a text and from what.
type Origin struct {
	Program     string // name and version
	Fingerprint string // check value of what was read; "" is left out
}

// headJSON is how every text begins: what it is, where it comes from, and of one with loads where
// the axes point.
type headJSON struct {
	Format      Format    `json:"format"`
	Version     int       `json:"version"`
	Program     string    `json:"program"`
	Fingerprint string    `json:"fingerprint,omitempty"`
	Axes        *axesJSON `json:"axes,omitempty"`
}

// axesJSON says where the axes point and what the loads are of. Where the teeth are known it says
// so in the words of the mouth, too.
type axesJSON struct {
	Origin   string `json:"origin"`
	X        string `json:"x"`
	Y        string `json:"y"`
	Z        string `json:"z"`
	Loads    string `json:"loads"`
	Couples  string `json:"couples"`
	XTowards string `json:"x_towards,omitempty"`
	YTowards string `json:"y_towards,omitempty"`
}

func head(f Format, from Origin) headJSON {
	return headJSON{Format: f, Version: FormatVersion, Program: from.Program, Fingerprint: from.Fingerprint}
}

// headOfLoads is the head of a text with loads on a pair of teeth.
func headOfLoads(f Format, from Origin, teeth tooth.Pair) headJSON {
	out := head(f, from)
	out.Axes = &axesJSON{
		Origin:  "where the wire leaves the anchor slot",
		X:       "along the arch, from the anchor to the active tooth",
		Y:       "z × x",
		Z:       "apical",
		Loads:   "on the tooth",
		Couples: "about the centre of the tooth's slot, for a hook about the point where it is hooked",
	}
	if teeth != (tooth.Pair{}) {
		out.Axes.XTowards, out.Axes.YTowards = "distal", "lingual"
		if teeth.MesialSign() > 0 {
			out.Axes.XTowards = "mesial"
		}
		if teeth.BuccalSign() > 0 {
			out.Axes.YTowards = "buccal"
		}
	}
	return out
}

// wire is the wire under the keys of a spring file.
func (w *recordWriter) wire(of wire.Wire) pairsJSON {
	w.place = "wire"
	return wirePairs(of, jsonText, func(key string, u quantity.Unit, inside float64) string {
		n, _ := w.number(key, u.Outside(inside)).MarshalJSON() // never fails
		return string(n)
	})
}

// pairsJSON is an object in the order of its keys, whose values are JSON already.
type pairsJSON []pair

// MarshalJSON writes the object.
func (p pairsJSON) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, one := range p {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "%q:%s", one.key, one.value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
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
	if w.StressRelieved {
		pairs = append(pairs, pair{"bends", text(bendsRelieved)})
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

// jsonText quotes a text; what is no UTF-8 in it is replaced.
func jsonText(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.Encode(s) // a string and a buffer never fail
	return strings.TrimSuffix(b.String(), "\n")
}
