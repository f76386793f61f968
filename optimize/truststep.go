package optimize

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Damping is measured by the largest entry of the normal matrix, in widths: less than the
// least would leave a singular matrix to rounding.
const (
	firstDamping = 1e-4
	leastDamping = 1e-13
	// A step is as long as the radius to within these shares of it.
	shortest, longest = 0.75, 1.1
	dampingTrials     = 12
)

// within fills in the trial point of the step that is about as long as the radius, or of
// the whole step where that is shorter, and returns its length; 0 where there is none.
func (l *levenberg) within(radius float64) float64 {
	low, high := 0.0, math.Inf(1)
	var length float64
	for range dampingTrials {
		if !l.step() {
			l.damping *= 100
			continue
		}
		length = l.length()
		switch {
		case length > longest*radius:
			low = l.damping
		case length < shortest*radius && l.damping > leastDamping:
			high = l.damping
		default:
			return length
		}
		next := l.damping * math.Pow(length/radius, 1.5)
		if !(next > low && next < high) {
			next = 10 * max(low, leastDamping)
			if !math.IsInf(high, 1) {
				next = math.Sqrt(max(low, high/1e4) * high)
			}
		}
		l.damping = max(next, leastDamping)
	}
	return length
}

// length is that of the step to the trial point, in widths.
func (l *levenberg) length() float64 {
	var sum float64
	for j := range l.x {
		d := (l.trial[j] - l.x[j]) / l.width[j]
		sum += d * d
	}
	return math.Sqrt(sum)
}

// step fills in the trial point for the damping. Components that the box cuts are frozen
// there and the rest is solved again, so that the step stays the model's own minimum on the
// face it ends on.
func (l *levenberg) step() bool {
	copy(l.frozen, l.fixed)
	clear(l.delta)
	for range l.x {
		if !l.solve() {
			return false
		}
		cut := false
		for j := range l.x {
			if l.frozen[j] {
				continue
			}
			if v := l.x[j] + l.delta[j]; v < l.box.lower[j] || v > l.box.upper[j] {
				l.delta[j] = l.box.clip(j, v) - l.x[j]
				l.frozen[j], cut = true, true
			}
		}
		if !cut {
			break
		}
	}
	for j := range l.x {
		l.trial[j] = l.box.clip(j, l.x[j]+l.delta[j])
	}
	return true
}

// moving lists the variables that are not frozen.
func (l *levenberg) moving() []int {
	var free []int
	for j, frozen := range l.frozen {
		if !frozen {
			free = append(free, j)
		}
	}
	return free
}

// solve fills delta of the variables that are not frozen; the others keep theirs.
func (l *levenberg) solve() bool {
	free := l.moving()
	if len(free) == 0 {
		return true
	}
	normal := mat.NewSymDense(len(free), nil)
	right := mat.NewVecDense(len(free), nil)
	for a, ja := range free {
		for b := a; b < len(free); b++ {
			normal.SetSym(a, b, l.normal.At(ja, free[b]))
		}
		// Damping against the variable's own width keeps millimetres and radians apart.
		normal.SetSym(a, a, normal.At(a, a)+l.damping*l.scale/(l.width[ja]*l.width[ja]))
		rhs := -l.gradient[ja]
		for j, frozen := range l.frozen {
			if frozen {
				rhs -= l.normal.At(ja, j) * l.delta[j]
			}
		}
		right.SetVec(a, rhs)
	}
	var solution mat.VecDense
	if !l.cholesky.Factorize(normal) || l.cholesky.SolveVecTo(&solution, right) != nil {
		return false
	}
	for a, j := range free {
		l.delta[j] = solution.AtVec(a)
	}
	return true
}

// accelerate bends the step along a curved valley by the second derivative of the residuals
// in its direction, where that correction is small beside the step (Transtrum, Machta and
// Sethna, Phys. Rev. E 83 (2011) 036701).
func (l *levenberg) accelerate(length float64) {
	const probeShare, largestBend = 0.1, 0.75
	n, m := l.problem.size()
	free := l.moving()
	probe := make([]float64, n)
	for j := range n {
		probe[j] = l.x[j] + probeShare*(l.trial[j]-l.x[j])
	}
	if len(free) == 0 || !l.problem.residuals(probe, l.trialR, nil, toTheEnd) {
		return
	}
	right := mat.NewVecDense(len(free), nil)
	for i := range m {
		var along float64
		for j := range n {
			along += l.jacobian.At(i, j) * (l.trial[j] - l.x[j])
		}
		second := 2 / probeShare * ((l.trialR[i]-l.r[i])/probeShare - along)
		for a, j := range free {
			right.SetVec(a, right.AtVec(a)-l.jacobian.At(i, j)*second)
		}
	}
	var bend mat.VecDense
	if l.cholesky.SolveVecTo(&bend, right) != nil {
		return
	}
	var sum float64
	for a, j := range free {
		d := bend.AtVec(a) / l.width[j]
		sum += d * d
	}
	if 2*math.Sqrt(sum) > largestBend*length {
		return
	}
	for a, j := range free {
		l.trial[j] = l.box.clip(j, l.trial[j]+bend.AtVec(a)/2)
	}
}
