package lattice

import (
	"cmp"
	"math"
	"slices"
)

// Form is a quadratic form ½·dᵀ·H·d − bᵀ·d over integers d within bounds. Its least
// points are found by depth-first enumeration with the nearest integers first (Schnorr &
// Euchner, Math. Program. 66 (1994) 181), the variables sorted so that those decided first
// prune most (Wübben et al., Electron. Lett. 37 (2001) 1348).
type Form struct {
	Quadratic    [][]float64 // H, n × n, symmetric and positive
	Pull         []float64   // b
	Lower, Upper []int       // of d
}

// Point is an integer vector and the value of the form there.
type Point struct {
	At    []int
	Value float64
}

// Least returns the points of least value, at most most of them, best first, all below 0 and
// without the origin. It looks at no more than visits partial vectors: what it returns by
// then may not be complete.
func (l *Form) Least(most, visits int) []Point {
	n := len(l.Pull)
	order, factor, target, ok := l.sorted()
	if !ok {
		return nil
	}
	// value = ½·|factor·d − target|² − ½·|target|²
	var offset float64
	for _, v := range target {
		offset += v * v
	}
	var best []Point
	bound := offset // only what is better than the origin counts
	d := make([]int, n)
	var visit func(k int, sum float64)
	visit = func(k int, sum float64) {
		if k < 0 {
			if sum >= bound || !slices.ContainsFunc(d, func(v int) bool { return v != 0 }) {
				return
			}
			at := make([]int, n)
			for i, j := range order {
				at[j] = d[i]
			}
			p := Point{at, (sum - offset) / 2}
			i, _ := slices.BinarySearchFunc(best, p, func(a, b Point) int { return cmp.Compare(a.Value, b.Value) })
			best = slices.Insert(best, i, p)
			if len(best) > most {
				best = best[:most]
			}
			if len(best) == most {
				bound = min(bound, 2*best[most-1].Value+offset)
			}
			return
		}
		rest := target[k]
		for j := k + 1; j < n; j++ {
			rest -= factor[k][j] * float64(d[j])
		}
		centre := rest / factor[k][k]
		nearest := min(max(int(math.Round(centre)), l.Lower[order[k]]), l.Upper[order[k]])
		// Outwards from the nearest, the nearer side first.
		up, down := nearest, nearest-1
		for visits > 0 {
			var v int
			upOpen, downOpen := up <= l.Upper[order[k]], down >= l.Lower[order[k]]
			switch {
			case upOpen && (!downOpen || math.Abs(float64(up)-centre) <= math.Abs(float64(down)-centre)):
				v = up
				up++
			case downOpen:
				v = down
				down--
			default:
				return
			}
			miss := factor[k][k] * (float64(v) - centre)
			if sum+miss*miss >= bound {
				return
			}
			visits--
			d[k] = v
			visit(k-1, sum+miss*miss)
		}
	}
	visit(n-1, 0)
	return best
}

// sorted factorises the form, H = factorᵀ·factor with the variables in order and factor
// upper triangular, the smallest pivots first, and solves factorᵀ·target = b.
func (l *Form) sorted() (order []int, factor [][]float64, target []float64, ok bool) {
	n := len(l.Pull)
	rest := make([][]float64, n)
	for i := range n {
		rest[i] = slices.Clone(l.Quadratic[i])
	}
	order = make([]int, n)
	for i := range n {
		order[i] = i
	}
	factor = make([][]float64, n)
	for i := range n {
		factor[i] = make([]float64, n)
	}
	for i := range n {
		at := i
		for j := i + 1; j < n; j++ {
			if rest[order[j]][order[j]] < rest[order[at]][order[at]] {
				at = j
			}
		}
		order[i], order[at] = order[at], order[i]
		for k := range i {
			factor[k][i], factor[k][at] = factor[k][at], factor[k][i]
		}
		p := order[i]
		if !(rest[p][p] > 0) {
			return nil, nil, nil, false
		}
		factor[i][i] = math.Sqrt(rest[p][p])
		for j := i + 1; j < n; j++ {
			factor[i][j] = rest[p][order[j]] / factor[i][i]
		}
		for j := i + 1; j < n; j++ {
			for k := i + 1; k < n; k++ {
				rest[order[j]][order[k]] -= factor[i][j] * factor[i][k]
			}
		}
	}
	target = make([]float64, n)
	for i := range n {
		sum := l.Pull[order[i]]
		for k := range i {
			sum -= factor[k][i] * target[k]
		}
		target[i] = sum / factor[i][i]
	}
	return order, factor, target, true
}
