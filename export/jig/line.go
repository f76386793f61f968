package jig

import (
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/wire"
	"springwright/export/bend"
	"springwright/export/plane"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// sagittaMM is how far a chord of the wire's line may lie off its arc.
	sagittaMM = 0.0005
	// apartMM is how far points of the line lie from each other at most: legs that pass each other are
	// found between such points.
	apartMM = 0.1
)

// point is a place of the wire over the plate.
type point struct {
	at     plane.Point
	high   float64     // of the wire's line
	way    plane.Point // along the wire, as seen from above; shorter where it rises
	half   float64     // of the wire, across its way
	low    float64     // its lower side
	deep   float64     // of the groove there
	step   int         // of the path; −1 in the anchor slot, the number of steps in the active one
	steep  float64     // sine of the rise
	merged bool        // another leg's groove lies open beside
}

// line is the wire over the plate, from end to end.
type line struct {
	points  []point
	steps   int
	inwards []bool // per step: a bend within the plate's plane
}

// grooveDeep is how deep the groove is for a wire that is so tall in it. A third of a flat wire stands proud
// for tweezers (choice). A round one is touched at half its height, to which the upright walls must reach.
func grooveDeep(w wire.Wire, tallMM float64) float64 {
	const leastWallMM = 0.1 // a printed layer
	deep := tallMM * 2 / 3
	if w.Round() {
		deep = 0.55*tallMM + mouthDeep
	}
	return max(deep, mouthDeep+leastWallMM)
}

// lineOf is the line of a passive spring, its slots and a little more at both ends.
func lineOf(s spring.Spring, view bend.View) *line {
	pieces := s.Path.Pieces()
	l := &line{steps: len(pieces)}
	add := func(p beam.Pose, step int) { l.points = append(l.points, pointOf(p, view, s.Wire, step)) }
	run := func(p beam.Pose, along float64, step int) beam.Pose {
		parts := max(1, int(math.Ceil(along/apartMM)))
		for i := range parts {
			add(p.Along(along*float64(i)/float64(parts)), step)
		}
		return p.Along(along)
	}
	pose := run(beam.Origin().Along(-s.AnchorSlotLengthMM-runOutMM), s.AnchorSlotLengthMM+runOutMM, -1)
	for step, piece := range pieces {
		turn := r3.Norm(piece.Curvature) * piece.LengthMM
		parts := math.Ceil(piece.LengthMM / apartMM)
		if turn > 0 {
			chord := 2 * math.Acos(max(1-sagittaMM*turn/piece.LengthMM, 0))
			parts = max(parts, math.Ceil(turn/min(chord, 5*degree)))
		}
		_, across := toPlate(view, pose.ToGlobal(piece.Curvature))
		l.inwards = append(l.inwards, turn > 0 && math.Abs(across) > 0.7*r3.Norm(piece.Curvature)) // within 45°
		for i := range int(parts) {
			add(pose.Advance(piece.Curvature, piece.LengthMM*float64(i)/parts), step)
		}
		pose = pose.Advance(piece.Curvature, piece.LengthMM)
	}
	end := run(pose, s.ActiveSlotLengthMM+runOutMM, len(pieces))
	add(end, len(pieces))
	return l
}

func pointOf(p beam.Pose, view bend.View, w wire.Wire, step int) point {
	at, high := toPlate(view, p.At)
	way, rise := toPlate(view, p.D1)
	d2, up2 := toPlate(view, p.D2)
	d3, up3 := toPlate(view, p.D3)
	half, tall := w.HeightMM()/2, w.DepthMM()/2
	if !w.Round() {
		n := way.Unit().Left()
		half = math.Abs(d3.X*n.X+d3.Y*n.Y)*w.HeightMM()/2 + math.Abs(d2.X*n.X+d2.Y*n.Y)*w.DepthMM()/2
		tall = math.Abs(up3)*w.HeightMM()/2 + math.Abs(up2)*w.DepthMM()/2
	}
	return point{at: at, high: high, way: way, half: half, low: high - tall, deep: grooveDeep(w, 2*tall), step: step, steep: math.Abs(rise)}
}

// check refuses what a plate cannot carry.
func (l *line) check() error {
	for _, p := range l.points {
		if p.steep > math.Sin(steepest*degree) {
			return fmt.Errorf("%w: %s rises from the plate by %.0f°, at most %d° is carried; check the spring on its template, over both views",
				ErrJig, l.stepName(p.step), math.Asin(min(1, p.steep))/degree, steepest)
		}
	}
	for i := 1; i < len(l.points); i++ {
		for k := i + 2; k < len(l.points); k++ {
			a, b, c, d := l.points[i-1], l.points[i], l.points[k-1], l.points[k]
			if !(plane.Segment{A: a.at, B: b.at}).Crosses(plane.Segment{A: c.at, B: d.at}) {
				continue
			}
			over, need := math.Abs(a.high-c.high), a.high-a.low+c.high-c.low
			if over < need-0.02 { // legs that touch are drawn so
				return fmt.Errorf("%w: %s and %s cross with their lines %.2f mm over each other, and the wire takes %.2f mm; lay one of them aside, by bends out of the plane",
					ErrJig, l.stepName(a.step), l.stepName(c.step), over, need)
			}
		}
	}
	return nil
}

// stepName is what a place of the wire is called, as steps of the spring file are counted.
func (l *line) stepName(step int) string {
	switch {
	case step < 0:
		return "the wire in the anchor slot"
	case step >= l.steps:
		return "the wire in the active slot"
	}
	return fmt.Sprintf("step %d of the path", step+1)
}

// thinWalls returns pairs of points that a wall too thin for a nozzle stands between, and marks them.
func (l *line) thinWalls(clearanceMM float64, solid func(plane.Point) bool) (pairs [][2]int) {
	along := func(way, across plane.Point) float64 { return math.Abs(way.Unit().X*across.X + way.Unit().Y*across.Y) }
	for i := range l.points {
		for k := i + 1; k < len(l.points); k++ {
			a, b := &l.points[i], &l.points[k]
			apart := b.at.Sub(a.at)
			d, wide := apart.Norm(), a.half+b.half+2*clearanceMM
			// Walls run along both legs; what lies inside a bend is a corner and stays.
			if d >= wide+ThinnestWallMM || d <= wide || along(a.way, apart.Unit()) > 0.5 || along(b.way, apart.Unit()) > 0.5 {
				continue
			}
			if solid(a.at.Add(b.at).Times(0.5)) {
				pairs = append(pairs, [2]int{i, k})
				a.merged, b.merged = true, true
			}
		}
	}
	return pairs
}

// leastLegMM is below what the groove's walls say nothing of a leg's direction (choice).
const leastLegMM = 0.5

// bends tells what the plate holds of each bend, and which steps lack a wall along a part.
func (l *line) bends(s spring.Spring, clearanceMM float64) (bends []Bend, open []int) {
	lengthOf := func(a, b point) float64 { return b.at.Sub(a.at).Norm() }
	guided := make([]float64, l.steps+2) // by step, the anchor slot first
	lacks := make([]bool, l.steps+2)
	for i := 1; i < len(l.points); i++ {
		p := l.points[i-1]
		if p.merged {
			lacks[p.step+1] = true
		} else {
			guided[p.step+1] += lengthOf(p, l.points[i])
		}
	}
	steps, numbers := s.Path.Steps(), s.Path.BendNumbers()
	leg := func(from, way int) (mm float64) {
		for i := from; i >= -1 && i <= l.steps && (i < 0 || i == l.steps || steps[i].Kind == spring.Straight); i += way {
			mm += guided[i+1]
		}
		return mm
	}
	for i, step := range steps {
		if lacks[i+1] {
			open = append(open, i+1)
		}
		if step.Kind == spring.Straight {
			continue
		}
		b := Bend{Number: numbers[i]}
		before, behind := leg(i-1, -1), leg(i+1, 1)
		switch {
		case !l.inwards[i]:
			b.Unheld = OutOfPlane
		case before < leastLegMM || behind < leastLegMM:
			b.Unheld = ShortLegs
		default:
			// Each leg may go from one wall to the other along its length.
			b.PassesRad = math.Atan(2*clearanceMM/before) + math.Atan(2*clearanceMM/behind)
		}
		bends = append(bends, b)
	}
	return bends, open
}
