// Package jig makes a plate to be printed in plastic, with a groove in which a passive spring lies
// where it is bent as drawn. Seen from above it is the spring as seen from the cheek, at true size.
// All lengths are mm; x runs to the right, y up the page, z out of the plate. Where the wire leaves
// its plane, the groove goes along on a ridge, and where the wire passes over itself the lower pass
// lies in a deeper groove, open upwards: every spring is laid in from above.
package jig

import (
	"errors"
	"fmt"
	"math"

	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/export/plane"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// UsualClearanceMM is the room on each side of the wire: printers in plastic keep to about 0.1 mm
	// (common practice); with less a good spring may not drop in.
	UsualClearanceMM = 0.10
	// LeastClearanceMM is below what such printers keep to, for those who have measured theirs, and
	// MostClearanceMM about a wire's thickness: beyond it the groove tells nothing (choices).
	LeastClearanceMM, MostClearanceMM = 0.02, 0.40
	// LargestMM is the plate's longest side: beds of small printers are about 120 mm (common practice).
	LargestMM = 120
	// ThinnestWallMM is the usual width of a nozzle (common practice): a thinner wall between two
	// legs would come out in part, and in the wire's way.
	ThinnestWallMM = 0.4

	marginMM   = 5.0  // of plate round the spring (choice)
	bottomMM   = 2.5  // below the lowest groove: stiff to the fingers (choice)
	mouthMM    = 0.25 // by which the mouth is wider than the groove, each side (choice)
	mouthDeep  = 0.15 // over which it widens; the rest of the groove has upright walls (choice)
	ridgeMM    = 0.6  // of level top beside the mouth, where the plate rises with the wire (choice)
	recessMM   = 1.0  // below the wire, for the tips of tweezers (choice)
	runOutMM   = 1.0  // of groove beyond the slots, for the wire's ends (choice)
	steepest   = 60   // degrees at which the wire may rise from the plate; beyond, nothing guides it (choice)
	letterMM   = 2.4  // height of the letters (choice)
	letterHigh = 0.6  // above the plate: three layers of 0.2 mm (choice)
	postMM     = 0.6  // radius of the posts beside the ends of slots (choice)
	postHigh   = 1.2  // above the plate (choice)

	degree = math.Pi / 180
)

// ErrJig says that no plate can be made for a spring. The text says why and what to do.
var ErrJig = errors.New("no plate can be made for this spring")

// Options are what a plate is made with. A zero clearance is the usual one.
type Options struct {
	ClearanceMM float64 // room on each side of the wire
	Code        string  // of the case, in raised letters; may be empty
	Fingerprint string  // of what the plate is made from; may be empty
}

// Jig is a plate. Its surface is closed, and each triangle runs anticlockwise seen from outside.
type Jig struct {
	Triangles   [][3]r3.Vec
	SizeMM      r3.Vec
	VolumeMM3   float64
	ClearanceMM float64 // each side
	GrooveMM    float64 // width of the groove where the wire lies flat
	DepthMM     float64 // of it there
	ProudMM     float64 // of the wire, above the plate there
	RiseMM      float64 // of the groove's floor between its lowest and highest place; 0 for a flat spring
	Recesses    int     // for tweezers, under the wire
	Unprinted   string  // letters of the code for which there is no raised one
	// OpenWalls lists the numbers of the steps of the path, from 1, whose groove lacks a wall along a part,
	// as another leg passes too near.
	OpenWalls []int
	Bends     []Bend // of the path, in their order

	shape shape // for tests
}

// Bend is what the plate tells of one bend or twist.
type Bend struct {
	Number int
	// PassesRad is by how much it may be off, all else right, and the spring still drop in: at most, for
	// both its legs then lie askew in the groove. 0 where the plate does not hold it at all.
	PassesRad float64
	// Unheld tells why: out of the plate's plane or a twist, or no leg long enough beside it.
	Unheld Unheld
}

// Unheld is why a plate does not tell a bend.
type Unheld int

// The reasons.
const (
	Held       Unheld = iota
	OutOfPlane        // the bend leaves the plate's plane, or is a twist
	ShortLegs         // the groove guides no leg of half a millimetre beside it
)

// String is the reason as JSON has it.
func (u Unheld) String() string {
	return [...]string{"", "out of plane", "short legs"}[u]
}

// Of makes the plate for a spring on a pair of teeth.
func Of(s spring.Spring, teeth tooth.Pair, o Options) (Jig, error) {
	if o.ClearanceMM == 0 {
		o.ClearanceMM = UsualClearanceMM
	}
	if !(o.ClearanceMM >= LeastClearanceMM && o.ClearanceMM <= MostClearanceMM) {
		return Jig{}, fmt.Errorf("%w: a clearance of %g mm is not in %g…%g mm", ErrJig, o.ClearanceMM, LeastClearanceMM, MostClearanceMM)
	}
	if !(s.Path.WireLengthMM() > 0) || !(s.Wire.HeightMM() > 0) || !(s.Wire.DepthMM() > 0) {
		return Jig{}, fmt.Errorf("%w: its path or its wire has no size", ErrJig)
	}
	view := bend.ViewOf(teeth)
	l := lineOf(s, view)
	if err := l.check(); err != nil {
		return Jig{}, err
	}
	g, err := newShape(l, s, teeth, o)
	if err != nil {
		return Jig{}, err
	}
	triangles, err := g.mesh()
	if err != nil {
		return Jig{}, err
	}
	j := Jig{
		Triangles: triangles, SizeMM: r3.Vec{X: g.widthMM(), Y: g.heightMM()},
		ClearanceMM: o.ClearanceMM, GrooveMM: s.Wire.HeightMM() + 2*o.ClearanceMM,
		Recesses: g.recesses, Unprinted: g.unprinted, shape: g,
	}
	j.DepthMM = grooveDeep(s.Wire, s.Wire.DepthMM())
	j.ProudMM = max(0, s.Wire.DepthMM()-j.DepthMM)
	for _, t := range triangles {
		j.VolumeMM3 += r3.Dot(t[0], r3.Cross(t[1], t[2])) / 6
		for _, v := range t {
			j.SizeMM.Z = max(j.SizeMM.Z, v.Z)
		}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range g.line.points {
		low, high = min(low, p.low), max(high, p.low)
	}
	const levelMM = 0.01 // far below a printed layer
	if high-low > levelMM {
		j.RiseMM = high - low
	}
	j.Bends, j.OpenWalls = g.line.bends(s, o.ClearanceMM)
	return j, nil
}

// toPlate is where a point of the mouth lies over the plate: as on the page, and towards the viewer.
func toPlate(v bend.View, p r3.Vec) (at plane.Point, highMM float64) {
	x, y := v.Page(p)
	// The third axis of the page: right × up, so that the plate is no mirror image.
	return plane.Point{X: x, Y: y}, -v.XSign * v.ZSign * p.Y
}
