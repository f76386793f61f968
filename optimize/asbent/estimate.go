package asbent

import (
	"fmt"
	"math"
	"slices"

	"springwright/design/bent"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// estimate is the spring most likely bent, in standard normal numbers of the hand's sources: the mean, and the
// Cholesky factor U of the information UᵀU, the inverse of their covariance.
type estimate struct {
	mean    []float64
	factor  mat.Cholesky
	upper   mat.TriDense // U
	doubted []Doubt
}

// doubtedSDs is from how many standard deviations on a reading is doubted: one of 16,000 is off so far by
// chance (choice).
const doubtedSDs = 4

// observation is one reading: what it should be of a spring, and what was read instead.
type observation struct {
	doubt     Doubt // what it would be called
	value, sd float64
	predict   func(z []float64) (float64, error)
	// slope is how the prediction changes with each source; nil: by differences.
	source int // of which it is alone a function, −1: of all steps and the stiffness
	step   float64
}

// observations are the readings of a job as functions of the sources.
func (m *model) observations() []observation {
	var all []observation
	first := m.hand.FirstStep()
	for _, r := range m.job.Measured.Steps {
		all = append(all, observation{
			doubt: Doubt{Kind: bent.OfStep, Step: r.Step}, value: r.Value, sd: r.SD, source: first + r.Step, step: differenceZ,
			predict: func(z []float64) (float64, error) { return size(m.cameOut(z).Steps[r.Step]), nil },
		})
	}
	for _, r := range m.job.Measured.End {
		all = append(all, observation{
			doubt: Doubt{Kind: bent.OfEnd, Along: r.Along}, value: r.Off, sd: r.SD, source: -1, step: differenceZ,
			predict: func(z []float64) (float64, error) {
				return off(m.end, freeEnd(m.cameOut(z).Steps))[r.Along], nil
			},
		})
	}
	if g := m.job.Measured.Gauge; g != nil {
		all = append(all, observation{
			doubt: Doubt{Kind: bent.OfGauge}, value: g.ForceN, sd: g.SD, source: -1, step: gaugeDifferenceZ,
			predict: func(z []float64) (float64, error) {
				came := m.cameOut(z)
				s := m.spring
				s.Path = spring.PathOf(came.Steps...)
				force, err := solve.GaugeForceN(s, g.Axis, g.TravelMM, hand.Accuracy)
				return came.Stiffness * force, err
			},
		})
	}
	return all
}

// Differences are taken over these parts of a standard deviation: of closed forms so small that rounding
// and curvature both stay below 1e-7 of a slope; of a solve to 1e-8, a tenth.
const (
	differenceZ      = 1e-4
	gaugeDifferenceZ = 0.1
)

// size is the number of a step that is measured: mm or rad.
func size(s spring.Step) float64 {
	if s.Kind == spring.Straight {
		return s.LengthMM
	}
	return s.AngleRad
}

// row fills in how an observation changes with each source, at z, which is as it was afterwards.
func (m *model) row(o observation, z, row []float64) error {
	for j := range row {
		row[j] = 0
		if o.source >= 0 && o.source != j || o.source < 0 && j != hand.StiffnessSource && j < m.hand.FirstStep() || m.hand.SD(j) == 0 {
			continue
		}
		at := z[j]
		var sides [2]float64
		for k, way := range [...]float64{-1, 1} {
			z[j] = at + way*o.step
			var err error
			if sides[k], err = o.predict(z); err != nil {
				z[j] = at
				return err
			}
		}
		z[j] = at
		row[j] = (sides[1] - sides[0]) / (2 * o.step)
	}
	return nil
}

// The iteration is Gauss and Newton's: readings of the free end turn by some degrees, where a second
// step is good to far below their error. More than mostIterations means that it wanders.
const (
	mostIterations = 30
	settledZ       = 1e-7
)

// estimate conditions the hand's errors on what was read: it minimises |z|² + Σ((read − predicted)/sd)²,
// the readings taken as linear about the latest z. The error wraps ErrReadings.
func (m *model) estimate() (estimate, error) {
	n := m.hand.Sources()
	e := estimate{mean: make([]float64, n)}
	all := m.observations()
	rows := mat.NewDense(max(1, len(all)), n, nil)
	settled := len(all) == 0
	for pass := 0; ; pass++ {
		information := mat.NewSymDense(n, nil)
		for j := range n {
			information.SetSym(j, j, 1)
		}
		right := make([]float64, n)
		for k, o := range all {
			row := rows.RawRowView(k)
			got, err := o.predict(e.mean)
			if err == nil {
				err = m.row(o, e.mean, row)
			}
			if err != nil {
				return e, fmt.Errorf("%w: %w", ErrReadings, err)
			}
			// z is to satisfy row·z = read − predicted + row·z now.
			residual := o.value - got + floats.Dot(row, e.mean)
			weight := 1 / (o.sd * o.sd)
			information.SymRankOne(information, weight, mat.NewVecDense(n, row))
			floats.AddScaled(right, weight*residual, row)
			if pass == 0 {
				e.doubt(o, (o.value-got)/math.Sqrt(floats.Dot(row, row)+o.sd*o.sd), true)
			}
		}
		if !e.factor.Factorize(information) {
			return e, ErrReadings
		}
		if settled {
			break
		}
		var next mat.VecDense
		if e.factor.SolveVecTo(&next, mat.NewVecDense(n, right)) != nil || !finite(next.RawVector().Data...) || pass == mostIterations {
			return e, ErrReadings
		}
		moved := floats.Distance(e.mean, next.RawVector().Data, math.Inf(1))
		copy(e.mean, next.RawVector().Data)
		settled = moved < settledZ
	}
	e.factor.UTo(&e.upper)
	for _, o := range all {
		got, err := o.predict(e.mean)
		if err != nil {
			return e, fmt.Errorf("%w: %w", ErrReadings, err)
		}
		e.doubt(o, (o.value-got)/o.sd, false)
	}
	return e, nil
}

// doubt takes up a reading that is so many standard deviations off, once.
func (e *estimate) doubt(o observation, sds float64, alone bool) {
	d := o.doubt
	d.Alone, d.SDs = alone, math.Abs(sds)
	known := slices.ContainsFunc(e.doubted, func(k Doubt) bool {
		return k.Kind == d.Kind && k.Step == d.Step && k.Along == d.Along
	})
	if d.SDs > doubtedSDs && !known {
		e.doubted = append(e.doubted, d)
	}
}

// draw turns standard normal numbers into those of a spring that may have been bent.
func (e *estimate) draw(normal []float64) []float64 {
	away := e.away(normal)
	floats.Add(away, e.mean)
	return away
}

// away is how far such a spring is from the mean: U⁻¹ normal.
func (e *estimate) away(normal []float64) []float64 {
	var out mat.VecDense
	// The factor of a matrix not below the identity is regular.
	_ = out.SolveVec(&e.upper, mat.NewVecDense(len(normal), slices.Clone(normal)))
	return out.RawVector().Data
}

// sds are the standard deviations that are left of each source, in those of the hand.
func (e *estimate) sds() []float64 {
	var covariance mat.SymDense
	_ = e.factor.InverseTo(&covariance)
	out := make([]float64, len(e.mean))
	for j := range out {
		out[j] = math.Sqrt(covariance.At(j, j))
	}
	return out
}
