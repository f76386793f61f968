package photo

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// lineFit is the wire's line fitted to its edges.
type lineFit struct {
	line      *line
	solved    *solved
	on        []placed
	all       []place
	wireMM    float64   // width that is looked for
	pieceMM   []float64 // of each piece
	widths    widths
	scatterMM float64
	lost      float64 // share of the places looked at where no wire was found
	pieceLost []float64
	looked    []int
}

// fit improves a first guess on the wire's edges, which are about expectedMM apart.
func (f *field) fit(guess *line, s shape, sign float64, expectedMM float64, apart apartness) (*lineFit, error) {
	l := &lineFit{line: guess.clone(), wireMM: expectedMM}
	for round := range 5 {
		l.line.lay()
		l.all = f.places(l.line, l.wireMM)
		if round > 0 {
			l.widths = f.seenWidth(l.all)
			if mm := l.widths.apartMM(apart); l.widths.known() && mm > leastWidth*expectedMM && mm < mostWidth*expectedMM {
				l.wireMM = mm
			}
		}
		var seen []int
		l.pieceMM = f.pieceWidths(l.line, l.all, l.wireMM, expectedMM)
		l.on, l.looked, seen = f.middles(l.line, l.all, l.pieceMM, l.widths.known())
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
		for k, v := range l.line.inner {
			if !(v > -1 && v < 200) {
				return nil, &PictureError{Reason: OtherSpring, Bends: []int{k + 1, k + 2}, Detail: fmt.Sprintf("between bends %d and %d there is no straight", k+1, k+2)}
			}
		}
		for k, r := range l.line.radii {
			if !(r > s.bends[k].radiusMM/2) {
				return nil, l.notFlat(fmt.Sprintf("bend %d would be much too sharp", k+1), k+1)
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
	return l, nil
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
	// The wire goes on: the next round looks farther.
	return float64(n) * stepMM, dark[n-1] >= half
}
