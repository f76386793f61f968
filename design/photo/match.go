package photo

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// How far a bent spring may be from the one expected and still be recognised by its bends, as
// standard deviations of a hand that is much worse than usual (choice; a skilled one has
// 1.25° and 0.19 mm). A residual beyond three of them counts less and less.
const (
	looseAngleRad  = 5 * math.Pi / 180
	looseLengthMM  = 0.8
	looseHeading   = 3 * math.Pi / 180 // of a smoothed middle line of pixels
	looseCut       = 3.0
	headingAloneMM = 0.5 // along which headings of that line hang together
)

// reachMM is by how much a straight may be longer or shorter than expected where bends are
// searched.
const reachMM = 4.0

func huber(v float64) float64 {
	if v = math.Abs(v); v > looseCut {
		return looseCut * (2*v - looseCut)
	}
	return v * v
}

// matched is a route whose bends are found: the first guess of the wire's line.
type matched struct {
	route
	turnedOver bool
	reversed   bool
	cost       float64
	line       *line
}

// matchAll tries a route from both its ends and with either face up. The best comes first.
func matchAll(s shape, r route) []*matched {
	var all []*matched
	for _, back := range [...]bool{false, true} {
		way := r
		if back {
			way.points = slices.Clone(r.points)
			slices.Reverse(way.points)
			way.heading = headings(way.points, 2)
		}
		for _, over := range [...]bool{false, true} {
			if m := match(s, way, over); m != nil {
				m.reversed = back
				all = append(all, m)
			}
		}
	}
	return all
}

// aligner finds where along a route each bend is.
type aligner struct {
	shape
	route
	sign      float64
	sum, sum2 []float64 // of headings before a point
	halfMM    []float64 // of each bend's arc
}

// match finds a way to lay the expected bends along a route; nil where there is none.
func match(s shape, r route, over bool) *matched {
	a := &aligner{shape: s, route: r, sign: 1}
	if over {
		a.sign = -1
	}
	n := len(r.points)
	a.sum, a.sum2 = make([]float64, n+1), make([]float64, n+1)
	for i, h := range r.heading {
		a.sum[i+1], a.sum2[i+1] = a.sum[i]+h, a.sum2[i]+h*h
	}
	for _, b := range s.bends {
		a.halfMM = append(a.halfMM, b.radiusMM*math.Abs(b.angleRad)/2)
	}
	middles, cost := a.align()
	if middles == nil {
		return nil
	}
	m := &matched{route: r, turnedOver: over, cost: cost}
	m.line = a.line(middles)
	return m
}

// index is the point at a length along the route, within its bounds.
func (a *aligner) index(mm float64) int {
	return min(len(a.points), max(0, int(math.Round(mm/routeStepMM))))
}

// meanHeading is over points from i to before k.
func (a *aligner) meanHeading(i, k int) float64 { return (a.sum[k] - a.sum[i]) / float64(k-i) }

// scatter is what the headings of a straight cost that are not all the same.
func (a *aligner) scatter(i, k int) float64 {
	if k <= i {
		return 0
	}
	sum := a.sum[k] - a.sum[i]
	about := a.sum2[k] - a.sum2[i] - sum*sum/float64(k-i)
	return math.Max(0, about) / (looseHeading * looseHeading) * routeStepMM / headingAloneMM
}

// turn is what a bend costs whose middle is at point m.
func (a *aligner) turn(bend, m int) float64 {
	at, half := float64(m)*routeStepMM, a.halfMM[bend]
	window := func(s shapeStraight, leg bool) float64 {
		if leg {
			return 1
		}
		return math.Min(1, math.Max(0.2, 0.6*s.lengthMM))
	}
	before, behind := window(a.straights[bend], bend == 0), window(a.straights[bend+1], bend == len(a.bends)-1)
	i, k := a.index(at-half-before), a.index(at-half)
	if bend == 0 && i == 0 {
		i = min(3, k) // headings at the very end are not to be trusted
	}
	u, v := a.index(at+half), a.index(at+half+behind)
	if k <= i || v <= u {
		return math.Inf(1)
	}
	turned := a.meanHeading(u, v) - a.meanHeading(i, k)
	return huber((turned - a.sign*a.bends[bend].angleRad) / looseAngleRad)
}

// align finds the bends' middles, points along the route, by dynamic programming.
func (a *aligner) align() ([]int, float64) {
	n := len(a.points)
	best := make([][]float64, len(a.bends))
	from := make([][]int32, len(a.bends))
	for k := range a.bends {
		best[k], from[k] = make([]float64, n), make([]int32, n)
		for m := range n {
			best[k][m], from[k][m] = math.Inf(1), -1
			own := a.turn(k, m)
			if math.IsInf(own, 1) {
				continue
			}
			begin := a.index(float64(m)*routeStepMM - a.halfMM[k])
			if k == 0 {
				if begin >= 3 {
					best[k][m] = own + a.scatter(min(3, begin), begin)
				}
				continue
			}
			apart := a.halfMM[k-1] + a.straights[k].lengthMM + a.halfMM[k]
			first := int((apart - reachMM) / routeStepMM)
			last := int((apart + reachMM) / routeStepMM)
			if a.straights[k].step < 0 { // no straight between: arcs that follow each other
				first, last = int((apart-0.5)/routeStepMM), int((apart+0.5)/routeStepMM)
			}
			for p := m - last; p <= m-max(1, first); p++ {
				if p < 0 || math.IsInf(best[k-1][p], 1) {
					continue
				}
				length := float64(m-p)*routeStepMM - a.halfMM[k-1] - a.halfMM[k]
				if a.straights[k].step >= 0 && length < 0.1 {
					continue
				}
				cost := best[k-1][p] + own + huber((length-a.straights[k].lengthMM)/looseLengthMM) +
					a.scatter(a.index(float64(p)*routeStepMM+a.halfMM[k-1]), begin)
				if cost < best[k][m] {
					best[k][m], from[k][m] = cost, int32(p)
				}
			}
		}
	}
	last := len(a.bends) - 1
	at, cost := -1, math.Inf(1)
	for m := range n {
		end := a.index(float64(m)*routeStepMM + a.halfMM[last])
		if c := best[last][m] + a.scatter(end, max(end, n-3)); c < cost {
			at, cost = m, c
		}
	}
	if at < 0 {
		return nil, 0
	}
	middles := make([]int, len(a.bends))
	for k := last; k >= 0; k-- {
		middles[k] = at
		at = int(from[k][at])
	}
	return middles, cost
}

// line is the first guess of the wire's line, fitted to the route's points as the bends'
// middles share them out.
func (a *aligner) line(middles []int) *line {
	l := &line{}
	last := len(a.bends) - 1
	begin := func(k int) int { return a.index(float64(middles[k])*routeStepMM - a.halfMM[k]) }
	end := func(k int) int { return a.index(float64(middles[k])*routeStepMM + a.halfMM[k]) }
	heading := func(i, k int) float64 {
		if k <= i {
			i, k = max(0, min(i, k)-1), min(len(a.points), max(i, k)+1)
		}
		return a.meanHeading(i, k)
	}
	headings := []float64{heading(min(3, begin(0)), begin(0))}
	for k := range last {
		headings = append(headings, heading(end(k), begin(k+1)))
	}
	headings = append(headings, heading(end(last), max(end(last), len(a.points)-3)))
	for k, b := range a.bends {
		l.angles = append(l.angles, sameSign(headings[k+1]-headings[k], a.sign*b.angleRad))
		l.radii = append(l.radii, b.radiusMM)
		if k < last {
			apart := float64(middles[k+1]-middles[k])*routeStepMM - a.halfMM[k] - a.halfMM[k+1]
			l.inner = append(l.inner, math.Max(0, apart))
		}
	}
	l.heading = headings[0]
	l.start = a.points[min(len(a.points)-1, begin(0))]
	l.legs = [2]float64{float64(begin(0)) * routeStepMM, float64(len(a.points)-end(last)) * routeStepMM}

	var on []placed
	for k := 0; k < len(a.points); k++ {
		piece := 0
		for b := range a.bends {
			if k >= begin(b) {
				piece = 2*b + 1
			}
			if k >= end(b) {
				piece = 2*b + 2
			}
		}
		if k < 3 || k >= len(a.points)-3 {
			continue
		}
		on = append(on, placed{at: a.points[k], piece: piece, sdMM: 0.05})
	}
	if fit, err := fitLine(l, a.shape, a.sign, on, 5); err == nil {
		l.set(fit.params)
	}
	return l
}

// sameSign keeps an angle on the side that is expected; a bend of no angle would have no arc.
func sameSign(angle, like float64) float64 {
	const least = 0.1 * math.Pi / 180
	return math.Copysign(math.Max(least, angle*math.Copysign(1, like)), like)
}

// placed is a point of the wire's middle that belongs to a piece of its line.
type placed struct {
	at    r2.Vec
	piece int
	sdMM  float64
	// widthMM is how far the two edges that show it are apart; 0 where one does.
	widthMM float64
	// clear tells that there is paper on both sides, so that neither edge is a shadow's.
	clear bool
}

// What is known of a bend's radius and, loosely, of all else before points are looked at:
// pliers make a radius to some hundredths (choice), which matters little, as large bends
// show theirs and small ones hardly depend on it.
const (
	radiusShare   = 0.04
	priorAngleRad = 6 * math.Pi / 180
	priorLengthMM = 1.0
	noLengthMM    = 0.02 // of a straight that there is none of

)

// fitLine fits a line to points by least squares.
func fitLine(l *line, s shape, sign float64, on []placed, iterations int) (*solved, error) {
	trial := l.clone()
	n := len(l.angles)
	p := problem{steps: l.steps(), count: len(on) + 2*n + len(l.inner)}
	p.residuals = func(params, out []float64) {
		trial.set(params)
		pieces := trial.lay()
		for i, q := range on {
			out[i] = pieces[q.piece].off(q.at) / q.sdMM
		}
		out = out[len(on):]
		for k, b := range s.bends {
			out[k] = (trial.angles[k] - sign*b.angleRad) / priorAngleRad
			out[n+k] = (trial.radii[k] - b.radiusMM) / (radiusShare * b.radiusMM)
		}
		for k, v := range trial.inner {
			sd := priorLengthMM
			if s.straights[k+1].step < 0 {
				sd = noLengthMM
			}
			out[2*n+k] = (v - s.straights[k+1].lengthMM) / sd
		}
	}
	return p.solve(l.params(), 3, iterations)
}
