package bend

import (
	"fmt"
	"math"

	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// View is how a pair of teeth is seen from the cheek, top of the page up in the mouth.
type View struct {
	Teeth tooth.Pair
	XSign float64 // +1: +x points right on the page
	ZSign float64 // +1: apical is up on the page
}

// ViewOf returns the view of a pair of teeth from the cheek.
func ViewOf(teeth tooth.Pair) View {
	v := View{Teeth: teeth, XSign: -1, ZSign: -1}
	if teeth.XPointsRight() {
		v.XSign = 1
	}
	if teeth.Active.Upper() {
		v.ZSign = 1
	}
	return v
}

// Page returns where a point is seen: right and up on the page, mm.
func (v View) Page(p r3.Vec) (rightMM, upMM float64) { return v.XSign * p.X, v.ZSign * p.Z }

// Plan returns where a point is seen from the biting side: right as from the cheek, so that
// both views stand under each other, and up. Neither view is mirrored: turning the page's
// right and the teeth's biting side gives up.
func (v View) Plan(p r3.Vec) (rightMM, upMM float64) { return v.XSign * p.X, -v.XSign * p.Y }

// OcclusalWord is "incisal" where the active tooth has an edge, "occlusal" elsewhere.
func (v View) OcclusalWord() string {
	if v.Teeth.Active.Place() <= 3 {
		return "incisal"
	}
	return "occlusal"
}

// Direction is the trade's words for a direction: its largest part, and how far it leans from
// it to the others.
type Direction []Lean

// Lean is how far a direction leans towards a side, which is named in English; the first one
// of a direction is its largest part.
type Lean struct {
	Side string // such as "distal"
	Rad  float64
}

// String is such as "distal, 14° occlusal".
func (d Direction) String() string {
	if len(d) == 0 {
		return ""
	}
	text := d[0].Side
	for _, lean := range d[1:] {
		text += fmt.Sprintf(", %.0f° %s", lean.Rad*180/math.Pi, lean.Side)
	}
	return text
}

// Direction names a direction. Leanings below half a degree are left out.
func (v View) Direction(d r3.Vec) Direction {
	word, part, main := v.parts(d)
	way := Direction{{Side: word[main]}}
	for i := range part {
		if lean := math.Atan2(part[i], part[main]); i != main && lean*180/math.Pi >= 0.5 {
			way = append(way, Lean{word[i], lean})
		}
	}
	return way
}

// mainWord names a direction by its largest part alone.
func (v View) mainWord(d r3.Vec) string {
	word, _, main := v.parts(d)
	return word[main]
}

// parts are the words for the parts of a direction along the arch, up or down and across
// it, how large they are, and which is the largest.
func (v View) parts(d r3.Vec) (word [3]string, part [3]float64, main int) {
	word = [3]string{"distal", "apical", v.Teeth.Active.OutwardWord()}
	if d.X*v.Teeth.MesialSign() > 0 {
		word[0] = "mesial"
	}
	if d.Z < 0 {
		word[1] = v.OcclusalWord()
	}
	if d.Y*v.Teeth.BuccalSign() < 0 {
		word[2] = v.Teeth.Active.InwardWord()
	}
	part = [3]float64{math.Abs(d.X), math.Abs(d.Z), math.Abs(d.Y)}
	for i := range part {
		if part[i] > part[main]+1e-9 { // equal parts: the first one, whatever the rounding
			main = i
		}
	}
	return word, part, main
}
