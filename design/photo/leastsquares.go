package photo

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

var errUndetermined = errors.New("the numbers are not determined")

// problem is a least-squares problem: residuals, each in units of its standard error, of
// parameters that a step of the given size changes noticeably.
type problem struct {
	steps     []float64 // of differences, one a parameter
	residuals func(params, out []float64)
	count     int // of residuals
}

// solved are parameters with the inverse of their normal matrix, which is their covariance
// where residuals are independent and of standard error 1.
type solved struct {
	params    []float64
	residuals []float64
	jacobian  *mat.Dense
	inverse   *mat.SymDense
}

func (s *solved) residualCount() int { return len(s.residuals) }

// solve improves params by Levenberg's and Marquardt's damped Gauss-Newton steps, residuals
// beyond cut weighing less (Huber 1964). The parameters are scaled by their steps.
//
// In one piece: what is kept from step to step.
func (p problem) solve(params []float64, cut float64, iterations int) (*solved, error) {
	n := len(params)
	if p.count < n {
		return nil, errUndetermined
	}
	x := append([]float64(nil), params...)
	r, moved := make([]float64, p.count), make([]float64, p.count)
	p.residuals(x, r)
	now := costOf(r, cut)
	if !finite(now) {
		return nil, errUndetermined
	}
	damping := 1e-6
	jacobian := mat.NewDense(p.count, n, nil)
	rhs := mat.NewVecDense(n, nil)
	normal := mat.NewSymDense(n, nil)
	differentiate := func() {
		for k := range n {
			kept := x[k]
			x[k] = kept + p.steps[k]
			p.residuals(x, moved)
			x[k] = kept
			for i := range moved {
				jacobian.Set(i, k, (moved[i]-r[i])*weightOf(r[i], cut))
			}
		}
		normal.SymOuterK(1, jacobian.T())
		for k := range n {
			var sum float64
			for i := range r {
				sum += jacobian.At(i, k) * r[i] * weightOf(r[i], cut)
			}
			rhs.SetVec(k, -sum)
		}
	}
	for range iterations {
		differentiate()
		if !finite(normal.RawSymmetric().Data...) {
			return nil, errUndetermined
		}
		better := false
		for range 8 {
			damped := mat.NewSymDense(n, nil)
			damped.CopySym(normal)
			for k := range n {
				damped.SetSym(k, k, normal.At(k, k)*(1+damping)+1e-300)
			}
			var factor mat.Cholesky
			if factor.Factorize(damped) {
				step := mat.NewVecDense(n, nil)
				if factor.SolveVecTo(step, rhs) == nil || finite(step.RawVector().Data...) {
					trial := make([]float64, n)
					for k := range n {
						trial[k] = x[k] + step.AtVec(k)*p.steps[k]
					}
					p.residuals(trial, moved)
					if c := costOf(moved, cut); finite(c) && c <= now {
						better = now-c > 1e-10*now
						x, now = trial, c
						copy(r, moved)
						damping = math.Max(damping/10, 1e-9)
						break
					}
				}
			}
			damping = math.Max(10*damping, 1e-6)
		}
		if !better {
			break
		}
	}
	differentiate()
	return p.solvedAt(x, r, jacobian, normal)
}

// weightOf is the weight of a residual: those beyond the cut pull no more than one at it (Huber, Ann Math Statist 1964;35:73).
func weightOf(v, cut float64) float64 {
	if v = math.Abs(v); v > cut {
		return math.Sqrt(cut / v)
	}
	return 1
}

// costOf is the sum of squares, beyond the cut of their tangents.
func costOf(r []float64, cut float64) (sum float64) {
	for _, v := range r {
		if v = math.Abs(v); v > cut {
			sum += cut * (2*v - cut)
		} else {
			sum += v * v
		}
	}
	return sum
}

// solvedAt is the solution, its derivatives and covariances in the parameters' own units.
func (p problem) solvedAt(x, r []float64, jacobian *mat.Dense, normal *mat.SymDense) (*solved, error) {
	n := len(x)
	var factor mat.Cholesky
	if !factor.Factorize(normal) {
		return nil, errUndetermined
	}
	s := &solved{params: x, residuals: r, jacobian: jacobian, inverse: mat.NewSymDense(n, nil)}
	if err := factor.InverseTo(s.inverse); err != nil && !finite(s.inverse.RawSymmetric().Data...) {
		return nil, errUndetermined
	}
	for i := range n {
		for k := i; k < n; k++ {
			s.inverse.SetSym(i, k, s.inverse.At(i, k)*p.steps[i]*p.steps[k])
		}
	}
	for i := range p.count {
		for k := range n {
			jacobian.Set(i, k, jacobian.At(i, k)/p.steps[k])
		}
	}
	return s, nil
}
