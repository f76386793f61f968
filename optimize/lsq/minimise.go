package lsq

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// levenberg minimises half the sum of squares within a box.
//
// Variables at a bound with the descent pointing outward are taken out of the step (a
// projected active set; Bertsekas, SIAM J. Control Optim. 20 (1982) 221). The damping is
// the one that keeps the step within a trusted radius (Moré, Lecture Notes in Mathematics
// 630 (1978) 105): a hand's windows make narrow valleys, in which a damping that follows
// the gain alone would leap, fall back and crawl.
type levenberg struct {
	problem Problem
	box     Box
	width   []float64 // scale of each variable

	x, r, trial, trialR, gradient, delta []float64
	jacobian                             *mat.Dense
	normal                               *mat.SymDense // jacobianᵀ·jacobian
	fixed, frozen                        []bool        // at a bound for the whole step, or cut by one
	damping, scale                       float64
	cholesky                             mat.Cholesky // of the last step's damped normal matrix
}

func newLevenberg(problem Problem, b Box, width []float64) *levenberg {
	n, m := problem.Size()
	return &levenberg{
		problem: problem, box: b, width: width,
		x: make([]float64, n), r: make([]float64, m),
		trial: make([]float64, n), trialR: make([]float64, m),
		gradient: make([]float64, n), delta: make([]float64, n),
		jacobian: mat.NewDense(m, n, nil), normal: mat.NewSymDense(n, nil),
		fixed: make([]bool, n), frozen: make([]bool, n),
	}
}

// The gains and the growth of a trusted radius are usual (Nocedal and Wright, Numerical
// Optimization, 2006, algorithm 4.1; the accepted one their section 3.1; from memory), the rest are
// choices.
const (
	firstRadius  = 0.1  // in widths
	leastRadius  = 1e-9 // below it the arithmetic has the say
	widerBy      = 2.5
	trustedGain  = 0.75 // of what the linear model promises: the radius grows
	doubtedGain  = 0.25 // below it the radius shrinks
	acceptedGain = 1e-4
	stepTrials   = 12 // steps tried out from one point, each at most half as long as the last
	// A step that takes less off the cost is the last, if it is not cut short: far below what a
	// difference of two costs is asked for, and below the rounding of a cost of 1.
	settledShare, settledAtMost = 1e-6, 1e-16
	// A step is shortened to between these shares of itself (Dennis and Schnabel, Numerical
	// Methods for Unconstrained Optimization, 1983, algorithm A6.4.5, from memory).
	leastShrink, mostShrink = 0.1, 0.5
)

// Minimise starts at x, overwrites it with the best point found in at most so many iterations,
// and returns half the sum of squares there; +Inf where the problem has no residuals at the
// start. A jacobian is asked for last where it ends. width is the scale of each variable.
func Minimise(p Problem, within Box, width, x []float64, iterations int) float64 {
	return newLevenberg(p, within, width).minimise(x, iterations)
}

func (l *levenberg) minimise(x []float64, iterations int) float64 {
	for i := range x {
		l.x[i] = l.box.Clip(i, x[i])
	}
	if !l.problem.Residuals(l.x, l.r, l.jacobian, ToTheEnd) {
		return math.Inf(1)
	}
	cost := HalfSquares(l.r)
	radius := firstRadius
	l.damping = firstDamping
	for range iterations {
		if !l.prepare() {
			break
		}
		trialCost, gain, length := l.descend(cost, &radius)
		trusted := radius
		if !(gain > acceptedGain) {
			break
		}
		switch {
		case gain > trustedGain:
			radius = max(radius, widerBy*length)
		case gain < doubtedGain:
			radius = length / 2
		}
		l.x, l.trial = l.trial, l.x
		if !l.problem.Residuals(l.x, l.r, l.jacobian, ToTheEnd) {
			break
		}
		// A step that the radius cuts short may only be the first of many.
		settled := cost-trialCost <= settledShare*cost+settledAtMost && length < shortest*trusted
		cost = trialCost
		if settled {
			break
		}
	}
	copy(x, l.x)
	return cost
}

// descend shortens the step until it descends, and returns the cost there, the descent as a
// share of what the linear model promises, and the step's length.
func (l *levenberg) descend(cost float64, radius *float64) (trialCost, gain, length float64) {
	for range stepTrials {
		if length = l.within(*radius); length == 0 {
			return cost, 0, 0
		}
		predicted := l.predictedDecrease()
		l.accelerate(length)
		trialCost = math.Inf(1)
		if l.problem.Residuals(l.trial, l.trialR, nil, cost) {
			trialCost = HalfSquares(l.trialR)
		}
		if gain = (cost - trialCost) / predicted; gain > acceptedGain {
			return trialCost, gain, length
		}
		// The least of the parabola through the cost, its slope and the trial's cost.
		shrink := predicted / (2*predicted + trialCost - cost)
		*radius = min(max(shrink, leastShrink), mostShrink) * min(*radius, length)
		if *radius < leastRadius {
			break
		}
	}
	return cost, 0, 0
}

// prepare computes the gradient, the normal matrix and the active set; false where nothing
// is left to move.
func (l *levenberg) prepare() bool {
	movable := false
	l.normal.SymOuterK(1, l.jacobian.T())
	gradient := mat.NewVecDense(len(l.gradient), l.gradient)
	gradient.MulVec(l.jacobian.T(), mat.NewVecDense(len(l.r), l.r))
	l.scale = 0
	for j, g := range l.gradient {
		l.scale = max(l.scale, l.normal.At(j, j)*l.width[j]*l.width[j])
		atLower, atUpper := l.x[j] <= l.box.Lower[j], l.x[j] >= l.box.Upper[j]
		l.fixed[j] = atLower && g >= 0 || atUpper && g <= 0
		movable = movable || !l.fixed[j]
	}
	return movable && l.scale > 0
}

// predictedDecrease is that of the linear model at the trial point.
func (l *levenberg) predictedDecrease() float64 {
	n, m := l.problem.Size()
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
