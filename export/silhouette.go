package export

import (
	"math"

	"springwright/design/beam"
	"springwright/design/wire"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// drawSilhouette draws what is seen of a wire that may run towards the viewer: the outline of
// all its sections together, its line centred on the edge.
func drawSilhouette(p *sheet.Page, by plane.Point, poses []beam.Pose, w wire.Wire, see projection, at plane.Point, scale float64) {
	half := sheet.Outline.WidthMM() / 2 / scale
	covered := func(growMM float64) [][]plane.Point {
		var pieces [][]plane.Point
		for i := 1; i < len(poses); i++ {
			a, b := poses[i-1], poses[i]
			if i == 1 {
				a = a.Along(-growMM)
			}
			if i == len(poses)-1 {
				b = b.Along(growMM)
			}
			piece := plane.Hull(append(sectionSeen(a, w, growMM, see), sectionSeen(b, w, growMM, see)...))
			for k, q := range piece {
				piece[k] = at.Add(plane.Point{X: q.X * by.X, Y: q.Y * by.Y}.Times(scale))
			}
			pieces = append(pieces, piece)
		}
		return pieces
	}
	p.Silhouette(covered(half), covered(-half))
}

// sectionSeen is the rim of a wire's section, grown all round, as it is seen.
func sectionSeen(p beam.Pose, w wire.Wire, growMM float64, see projection) []plane.Point {
	on := func(across, up float64) plane.Point {
		return see(r3.Add(p.At, r3.Add(r3.Scale(across, p.D2), r3.Scale(up, p.D3))))
	}
	if w.Round() {
		const sides = 24
		rim := make([]plane.Point, sides)
		for i := range rim {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
			rim[i] = on((w.DiameterMM/2+growMM)*cos, (w.DiameterMM/2+growMM)*sin)
		}
		return rim
	}
	across, up := w.WidthMM/2+growMM, w.ThicknessMM/2+growMM
	return []plane.Point{on(across, up), on(-across, up), on(-across, -up), on(across, -up)}
}
