package beam

import "math"

// eliminated is a small linear system, decomposed with partial pivoting.
type eliminated struct {
	n   int
	a   [8][8]float64
	row [8]int
}

func (e *eliminated) factor() bool {
	for k := range e.n {
		p, best := k, 0.0
		for i := k; i < e.n; i++ {
			if v := math.Abs(e.a[i][k]); v > best {
				p, best = i, v
			}
		}
		if !(best > 1e-14) { // rows are pure numbers of order 1
			return false
		}
		e.row[k] = p
		e.a[k], e.a[p] = e.a[p], e.a[k]
		for i := k + 1; i < e.n; i++ {
			e.a[i][k] /= e.a[k][k]
			for j := k + 1; j < e.n; j++ {
				e.a[i][j] -= e.a[i][k] * e.a[k][j]
			}
		}
	}
	return true
}

func (e *eliminated) solve(b *[8]float64) {
	for k := range e.n {
		p := e.row[k]
		b[k], b[p] = b[p], b[k]
	}
	for i := range e.n {
		sum := b[i]
		for j, l := range e.a[i][:i] {
			sum -= l * b[j]
		}
		b[i] = sum
	}
	for i := e.n - 1; i >= 0; i-- {
		sum := b[i]
		for j := i + 1; j < e.n; j++ {
			sum -= e.a[i][j] * b[j]
		}
		b[i] = sum / e.a[i][i]
	}
}

// solveAll is solve for m right sides, the columns of b.
func (e *eliminated) solveAll(b *[8][10]float64, m int) {
	for k := range e.n {
		p := e.row[k]
		b[k], b[p] = b[p], b[k]
	}
	less := func(i, j int) {
		l, to, from := e.a[i][j], b[i][:m], b[j][:m]
		for k, v := range from {
			to[k] -= l * v
		}
	}
	for i := range e.n {
		for j := range i {
			less(i, j)
		}
	}
	for i := e.n - 1; i >= 0; i-- {
		for j := i + 1; j < e.n; j++ {
			less(i, j)
		}
		by := 1 / e.a[i][i]
		for k := range b[i][:m] {
			b[i][k] *= by
		}
	}
}
