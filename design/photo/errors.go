package photo

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// What points of the wire's middle are off by together, standard deviations, which their scatter does not
// show. From pictures made by a program that draws the wire's height, its sides and its shadows, so that
// errors are as large as is told.
const (
	clearMM   = 0.0015 // where paper is seen on both sides
	shadedMM  = 0.006  // where a shadow or a side of the wire is
	groupMM   = 1.0    // of the wire, that is off together, beside whole pieces
	overShare = 0.25   // of what a piece is seen wider than the wire, half of which would be one side alone
)

// group are points that are off together.
type group struct {
	points []int
	offMM  float64
}

// alike are the groups of points that err alike: those of a piece, and those of a millimetre of it. A piece
// that is seen wider than the wire is may be off by half of that.
func (f *field) alike(l *lineFit, expectedMM float64) []group {
	var all []group
	doubt := func(points []int) float64 {
		var sum float64
		for _, i := range points {
			if l.on[i].clear {
				sum += clearMM
			} else {
				sum += shadedMM
			}
		}
		return sum / float64(len(points))
	}
	for from := 0; from < len(l.on); {
		piece := l.on[from].piece
		var whole, part []int
		end := l.line.pieces[piece].along(l.on[from].at) + groupMM
		for ; from < len(l.on) && l.on[from].piece == piece; from++ {
			whole = append(whole, from)
			if p := &l.line.pieces[piece]; p.curvature == 0 && p.along(l.on[from].at) > end {
				all = append(all, group{part, doubt(part)})
				part, end = nil, end+groupMM
			}
			part = append(part, from)
		}
		over := math.Max(0, widthBehindBlur(l.pieceMM[piece], math.Hypot(f.blurMM, f.smoothMM))-expectedMM)
		all = append(all, group{part, doubt(part)}, group{whole, math.Hypot(doubt(whole), overShare*over)})
	}
	return all
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

// standardErrors are those of the line's params. Each piece's points scatter as they do, and
// neighbours err alike; groups of them are off together, which no scatter shows. The rest is the sandwich
// of White, Econometrica 1980;48:817.
func (f *field) standardErrors(l *lineFit, expectedMM float64) []float64 {
	n, points := len(l.line.params()), len(l.on)
	all := l.solved.residuals[:points]
	variance := make([]float64, len(l.line.pieces))
	usual := meanSquare(all) * inflation(all) * float64(points) / math.Max(1, float64(points-n))
	for from := 0; from < points; {
		to := from
		for to < points && l.on[to].piece == l.on[from].piece {
			to++
		}
		own := all[from:to]
		// A few points do not tell their own scatter, and none are better than all.
		variance[l.on[from].piece] = usual
		if len(own) >= 8 {
			variance[l.on[from].piece] = math.Max(usual/2, meanSquare(own)*inflation(own))
		}
		from = to
	}
	groups := f.alike(l, expectedMM)
	weighted := mat.NewDense(l.solved.residualCount()+len(groups), n, nil)
	weighted.Copy(l.solved.jacobian)
	for k, g := range groups {
		row := weighted.RawRowView(l.solved.residualCount() + k)
		for _, i := range g.points {
			for j := range row {
				row[j] += l.solved.jacobian.At(i, j) * g.offMM / l.on[i].sdMM
			}
		}
	}
	for i := range l.solved.residualCount() {
		v := 1.0 // what was known before is as good as it was said to be
		if i < points {
			v = variance[l.on[i].piece]
		}
		row := weighted.RawRowView(i)
		for k := range row {
			row[k] *= math.Sqrt(v)
		}
	}
	var spread mat.Dense
	spread.Mul(weighted, l.solved.inverse)
	out := make([]float64, n)
	for k := range out {
		out[k] = mat.Norm(spread.ColView(k), 2)
	}
	return out
}

func meanSquare(r []float64) float64 {
	var sum float64
	for _, v := range r {
		sum += v * v
	}
	return sum / float64(max(1, len(r)))
}
