package photo

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// line is a wire's middle line on the card: legs, bends and straights.
type line struct {
	start   r2.Vec // where the first bend begins
	heading float64
	angles  []float64 // rad, positive to the left as seen on the card
	radii   []float64
	inner   []float64  // lengths of straights between bends
	legs    [2]float64 // lengths of the first and the last straight
	pieces  []piece    // of pieces, kept by lay
}

// piece is a piece of a line: a straight, or an arc where curvature is not 0.
type piece struct {
	at        r2.Vec
	heading   float64
	lengthMM  float64
	curvature float64
}

// pose is the point and direction at a length along a piece, which may lie beyond it.
func (p *piece) pose(s float64) (at r2.Vec, heading float64) {
	sin, cos := math.Sincos(p.heading)
	if p.curvature == 0 {
		return r2.Vec{X: p.at.X + s*cos, Y: p.at.Y + s*sin}, p.heading
	}
	h := p.heading + p.curvature*s
	sinH, cosH := math.Sincos(h)
	return r2.Vec{X: p.at.X + (sinH-sin)/p.curvature, Y: p.at.Y - (cosH-cos)/p.curvature}, h
}

// off is how far a point is to the left of a piece that goes on both ways.
func (p *piece) off(q r2.Vec) float64 {
	sin, cos := math.Sincos(p.heading)
	d := r2.Sub(q, p.at)
	left := cos*d.Y - sin*d.X
	if p.curvature == 0 {
		return left
	}
	r := 1 / p.curvature
	// From the arc's middle, which lies r to the left.
	along := cos*d.X + sin*d.Y
	return r - math.Copysign(math.Hypot(along, left-r), r)
}

// along is how far along a straight piece a point is.
func (p *piece) along(q r2.Vec) float64 {
	sin, cos := math.Sincos(p.heading)
	d := r2.Sub(q, p.at)
	return cos*d.X + sin*d.Y
}

// lay works out the pieces: the first leg, a bend, a straight, … the last leg.
func (l *line) lay() []piece {
	l.pieces = l.pieces[:0]
	sin, cos := math.Sincos(l.heading)
	at, heading := l.start, l.heading
	l.pieces = append(l.pieces, piece{at: r2.Sub(at, r2.Scale(l.legs[0], r2.Vec{X: cos, Y: sin})), heading: heading, lengthMM: l.legs[0]})
	add := func(p piece) {
		l.pieces = append(l.pieces, p)
		at, heading = p.pose(p.lengthMM)
	}
	for k, a := range l.angles {
		curvature := math.Copysign(1/l.radii[k], a)
		add(piece{at, heading, math.Abs(a) * l.radii[k], curvature})
		if k < len(l.inner) {
			add(piece{at, heading, l.inner[k], 0})
		}
	}
	add(piece{at, heading, l.legs[1], 0})
	return l.pieces
}

// curvature is that at a length along the line, as a blur of a standard deviation along the line mixes
// it: where a straight meets a bend it is half of the bend's.
func (l *line) curvature(alongMM, blurMM float64) float64 {
	before := func(mm float64) float64 { return math.Erf((mm - alongMM) / (math.Sqrt2 * math.Max(blurMM, 1e-6))) }
	var sum, from float64
	for _, p := range l.pieces {
		to := from + p.lengthMM
		if p.curvature != 0 {
			sum += p.curvature * (before(to) - before(from)) / 2
		}
		from = to
	}
	return sum
}

// params are the numbers that are fitted: place, heading, angles, radii, inner lengths.
func (l *line) params() []float64 {
	p := []float64{l.start.X, l.start.Y, l.heading}
	p = append(p, l.angles...)
	p = append(p, l.radii...)
	return append(p, l.inner...)
}

func (l *line) set(p []float64) {
	n := len(l.angles)
	l.start, l.heading = r2.Vec{X: p[0], Y: p[1]}, p[2]
	copy(l.angles, p[3:3+n])
	copy(l.radii, p[3+n:3+2*n])
	copy(l.inner, p[3+2*n:])
}

// steps are those of differences for each of the params.
func (l *line) steps() []float64 {
	s := []float64{1e-5, 1e-5, 1e-6}
	for range l.angles {
		s = append(s, 1e-6)
	}
	for range len(l.radii) + len(l.inner) {
		s = append(s, 1e-5)
	}
	return s
}

func (l *line) clone() *line {
	c := *l
	c.angles = append([]float64(nil), l.angles...)
	c.radii = append([]float64(nil), l.radii...)
	c.inner = append([]float64(nil), l.inner...)
	c.pieces = nil
	return &c
}

// points are along the whole line, stepMM apart, with the pieces' ends.
func (l *line) points(stepMM float64) []r2.Vec {
	var out []r2.Vec
	for _, p := range l.lay() {
		n := max(1, int(math.Ceil(p.lengthMM/stepMM)))
		if p.curvature == 0 {
			n = 1
		}
		for i := range n {
			at, _ := p.pose(p.lengthMM * float64(i) / float64(n))
			out = append(out, at)
		}
	}
	last := l.pieces[len(l.pieces)-1]
	end, _ := last.pose(last.lengthMM)
	return append(out, end)
}
