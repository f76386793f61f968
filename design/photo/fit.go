package photo

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// lineFit is the wire's line fitted to its edges.
type lineFit struct {
	line      *line
	solved    *solved
	on        []placed
	all       []place
	wireMM    float64 // width seen
	widths    int     // places at which it was seen
	scatterMM float64
	lost      float64 // share of the places looked at where no wire was found
	pieceLost []float64
	looked    []int
	inflation float64 // of variances, for points beside each other err alike
}

// fit improves a first guess on the wire's edges.
func (f *field) fit(guess *line, s shape, sign float64, expectedMM float64) (*lineFit, error) {
	l := &lineFit{line: guess.clone(), wireMM: expectedMM}
	for round := range 5 {
		l.line.lay()
		l.all = f.places(l.line, l.wireMM)
		if round > 0 {
			if seen, count := f.seenWidth(l.all, expectedMM); count >= 20 && seen > leastWidth*expectedMM && seen < mostWidth*expectedMM {
				l.wireMM, l.widths = seen, count
			}
		}
		var seen []int
		l.on, l.looked, seen = f.middles(l.line, l.all, l.wireMM, l.widths > 0)
		looked, lost := 0, 0
		l.pieceLost = make([]float64, len(seen))
		for i := range seen {
			looked += l.looked[i]
			lost += l.looked[i] - seen[i]
			l.pieceLost[i] = float64(l.looked[i]-seen[i]) / math.Max(1, float64(l.looked[i]))
		}
		if looked == 0 || looked == lost {
			return nil, &PictureError{Reason: Unclear}
		}
		l.lost = float64(lost) / float64(looked)
		fit, err := fitLine(l.line, s, sign, l.on, 12)
		if err != nil {
			return nil, &PictureError{Reason: Unclear, Detail: err.Error()}
		}
		l.solved = fit
		l.line.set(fit.params)
		for _, v := range l.line.inner {
			if !(v > -1 && v < 200) {
				return nil, &PictureError{Reason: OtherSpring}
			}
		}
		for k, r := range l.line.radii {
			if !(r > s.bends[k].radiusMM/2) {
				return nil, &PictureError{Reason: OtherSpring}
			}
		}
		l.line.lay()
		f.ends(l)
	}
	var sum float64
	for i := range l.on {
		v := l.solved.residuals[i] * l.on[i].sdMM
		sum += v * v
	}
	l.scatterMM = math.Sqrt(sum / float64(len(l.on)))
	l.inflation = inflation(l.solved.residuals[:len(l.on)])
	return l, nil
}

// inflation is by how much the variance of a mean grows because neighbours err alike: one and
// twice the sum of their correlations, up to where those vanish.
func inflation(r []float64) float64 {
	var own float64
	for _, v := range r {
		own += v * v
	}
	if own == 0 {
		return 1
	}
	sum := 1.0
	for lag := 1; lag < min(40, len(r)/2); lag++ {
		var with float64
		for i := lag; i < len(r); i++ {
			with += r[i] * r[i-lag]
		}
		if with < 0.05*own {
			break
		}
		sum += 2 * with / own
	}
	return sum
}

// ends sets both legs to where the wire ends: where the darkness along its middle falls to half.
func (f *field) ends(l *lineFit) {
	for side := range 2 {
		p := l.line.pieces[0]
		if side == 1 {
			p = l.line.pieces[len(l.line.pieces)-1]
		}
		if end, ok := f.end(p, side, l.wireMM); ok {
			l.line.legs[side] = math.Max(0.2, end)
		}
	}
	l.line.lay()
}

// end is the length of a leg, from its bend to the end of the wire.
func (f *field) end(p piece, side int, wireMM float64) (lengthMM float64, ok bool) {
	const (
		stepMM   = 0.02
		beyondMM = 2.0 // of where the end was thought
		darkFrom = 0.5
	)
	sin, cos := math.Sincos(p.heading)
	out := r2.Vec{X: cos, Y: sin}
	from := p.at
	if side == 0 { // the first leg ends where its piece begins
		from = r2.Add(p.at, r2.Scale(p.lengthMM, out))
		out = r2.Scale(-1, out)
	}
	normal := r2.Vec{X: -out.Y, Y: out.X}
	n := int((p.lengthMM + beyondMM) / stepMM)
	dark := make([]float64, n)
	var level []float64
	for i := range dark {
		at := r2.Add(from, r2.Scale(float64(i)*stepMM, out))
		most := 0.0
		for _, across := range [...]float64{-0.3, -0.15, 0, 0.15, 0.3} { // a glare lies in the middle
			q := r2.Add(at, r2.Scale(across*wireMM, normal))
			most = math.Max(most, 1-f.between(q)/math.Max(1, f.paper.between(q)))
		}
		dark[i] = most
		if float64(i)*stepMM < p.lengthMM-0.4 {
			level = append(level, most)
		}
	}
	if len(level) < 10 {
		return 0, false
	}
	half := darkFrom * mean(level)
	// From the end inwards would stop at another part of the wire beyond; outwards a gap of
	// glare must not end it.
	gap := int(0.4 / stepMM)
	for i := len(level) / 2; i < n-1; i++ {
		if dark[i] >= half && dark[i+1] < half {
			gone := true
			for k := i + 1; k < min(n, i+gap); k++ {
				gone = gone && dark[k] < half
			}
			if gone {
				return (float64(i) + (dark[i]-half)/(dark[i]-dark[i+1])) * stepMM, true
			}
		}
	}
	return 0, false
}

// standardErrors are those of the line's params.
func (l *lineFit) standardErrors() []float64 {
	n := len(l.line.params())
	points := float64(len(l.on))
	var sum float64
	for _, v := range l.solved.residuals[:len(l.on)] {
		sum += v * v
	}
	variance := sum / math.Max(1, points-float64(n)) * l.inflation
	out := make([]float64, n)
	for i := range out {
		out[i] = math.Sqrt(variance * at(l.solved.inverse, i))
	}
	return out
}

func at(m *mat.SymDense, i int) float64 { return math.Max(0, m.At(i, i)) }
