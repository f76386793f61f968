package optimize

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// leastSquares is a problem of n variables within bounds and m residuals.
type leastSquares interface {
	// residuals fills r, and jacobian (m × n) unless it is nil. It returns false where the
	// residuals do not exist at x.
	residuals(x, r []float64, jacobian *mat.Dense) bool
	size() (variables, residuals int)
}

// box holds the bounds of every variable. A variable with equal bounds is fixed.
type box struct{ lower, upper []float64 }

func (b box) clip(i int, v float64) float64 { return min(max(v, b.lower[i]), b.upper[i]) }

// levenberg minimises half the sum of squares within a box.
//
// Variables at a bound with the descent pointing outward are taken out of the step (a
// projected active set; Bertsekas, SIAM J. Control Optim. 20 (1982) 221); the damping
// follows the gain ratio (Nielsen, IMM-REP-1999-05, Technical University of Denmark).
// Scaling x or a clipped full step would stall at the bounds.
type levenberg struct {
	problem leastSquares
	box     box
	width   []float64 // scale of each variable

	x, r, trial, trialR, gradient, delta []float64
	jacobian, trialJacobian              *mat.Dense
	fixed                                []bool
}

func newLevenberg(problem leastSquares, b box, width []float64) *levenberg {
	n, m := problem.size()
	return &levenberg{
		problem: problem, box: b, width: width,
		x: make([]float64, n), r: make([]float64, m),
		trial: make([]float64, n), trialR: make([]float64, m),
		gradient: make([]float64, n), delta: make([]float64, n),
		jacobian: mat.NewDense(m, n, nil), trialJacobian: mat.NewDense(m, n, nil),
		fixed: make([]bool, n),
	}
}

func halfSquares(r []float64) float64 {
	var sum float64
	for _, v := range r {
		sum += v * v
	}
	return sum / 2
}

// minimise starts at x, overwrites it with the best point found, and returns its cost;
// +Inf where the problem has no residuals at the start.
func (l *levenberg) minimise(x []float64, iterations int) float64 {
	for i := range x {
		l.x[i] = l.box.clip(i, x[i])
	}
	if !l.problem.residuals(l.x, l.r, l.jacobian) {
		return math.Inf(1)
	}
	cost := halfSquares(l.r)
	damping, growth := 1e-2, 2.0
	for range iterations {
		if !l.prepare() {
			break
		}
		predicted, ok := l.step(damping)
		if !ok {
			break
		}
		trialCost := math.Inf(1)
		// Most trials are accepted, and then the Jacobian is wanted at the same point.
		if l.problem.residuals(l.trial, l.trialR, l.trialJacobian) {
			trialCost = halfSquares(l.trialR)
		}
		gain := (cost - trialCost) / predicted
		if !(gain > 1e-4) {
			damping, growth = damping*growth, 2*growth
			if damping > 1e12 {
				break
			}
			continue
		}
		l.x, l.trial = l.trial, l.x
		l.r, l.trialR = l.trialR, l.r
		l.jacobian, l.trialJacobian = l.trialJacobian, l.jacobian
		settled := cost-trialCost <= 1e-6*cost+1e-16
		cost = trialCost
		damping *= max(1.0/5, 1-math.Pow(2*gain-1, 3))
		damping, growth = max(damping, 1e-9), 2
		if settled {
			break
		}
	}
	copy(x, l.x)
	return cost
}

// prepare computes the gradient and the active set; false where nothing is left to move.
func (l *levenberg) prepare() bool {
	n, m := l.problem.size()
	movable := false
	for j := range n {
		var g float64
		for i := range m {
			g += l.jacobian.At(i, j) * l.r[i]
		}
		l.gradient[j] = g
		atLower, atUpper := l.x[j] <= l.box.lower[j], l.x[j] >= l.box.upper[j]
		l.fixed[j] = atLower && g >= 0 || atUpper && g <= 0
		movable = movable || !l.fixed[j]
	}
	return movable
}

// step fills in the trial point for a damping, and returns the decrease that the linear
// model predicts. Components that the box cuts are frozen there and the rest is solved
// again, so that the step stays the model's own minimum on the face it ends on.
func (l *levenberg) step(damping float64) (predicted float64, ok bool) {
	n, _ := l.problem.size()
	frozen := append([]bool(nil), l.fixed...)
	clear(l.delta)
	for range n {
		if !l.solve(damping, frozen) {
			return 0, false
		}
		cut := false
		for j := range n {
			if frozen[j] {
				continue
			}
			if v := l.x[j] + l.delta[j]; v < l.box.lower[j] || v > l.box.upper[j] {
				l.delta[j] = l.box.clip(j, v) - l.x[j]
				frozen[j], cut = true, true
			}
		}
		if !cut {
			break
		}
	}
	for j := range n {
		l.trial[j] = l.box.clip(j, l.x[j]+l.delta[j])
	}
	return l.predictedDecrease(), true
}

// solve fills delta of the variables that are not frozen; the others keep theirs.
func (l *levenberg) solve(damping float64, frozen []bool) bool {
	n, m := l.problem.size()
	var free []int
	for j := range n {
		if !frozen[j] {
			free = append(free, j)
		}
	}
	if len(free) == 0 {
		return true
	}
	column := func(j, i int) float64 { return l.jacobian.At(i, j) }
	normal := mat.NewSymDense(len(free), nil)
	right := mat.NewVecDense(len(free), nil)
	for a, ja := range free {
		for b := a; b < len(free); b++ {
			var sum float64
			for i := range m {
				sum += column(ja, i) * column(free[b], i)
			}
			normal.SetSym(a, b, sum)
		}
		// Damping against the variable's own width keeps millimetres and radians apart.
		normal.SetSym(a, a, normal.At(a, a)*(1+damping)+damping/(l.width[ja]*l.width[ja]))
		rhs := -l.gradient[ja]
		for j := range n {
			if frozen[j] && l.delta[j] != 0 {
				for i := range m {
					rhs -= column(ja, i) * column(j, i) * l.delta[j]
				}
			}
		}
		right.SetVec(a, rhs)
	}
	var cholesky mat.Cholesky
	if !cholesky.Factorize(normal) {
		return false
	}
	var solution mat.VecDense
	if cholesky.SolveVecTo(&solution, right) != nil {
		return false
	}
	for a, j := range free {
		l.delta[j] = solution.AtVec(a)
	}
	return true
}

func (l *levenberg) predictedDecrease() float64 {
	n, m := l.problem.size()
	var sum float64
	for i := range m {
		var change float64
		for j := range n {
			change += l.jacobian.At(i, j) * (l.trial[j] - l.x[j])
		}
		sum -= change * (l.r[i] + change/2)
	}
	return max(sum, 1e-300)
}
