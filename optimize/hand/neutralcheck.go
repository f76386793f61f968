package hand

import (
	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// neutralCheck is what a bender does about a spring whose passive end does not lie where
// the template shows it. To first order the end is off by miss · z, z the standard normal
// numbers of the steps. It is read with an error ν, and the steps are corrected by what
// they are expected to be off, given what was read:
//
//	z ← z − gain (miss z + ν),   gain = missᵀ (miss missᵀ + R)⁻¹,   R = cov ν
//
// which leaves z distributed as it is given that the end is read to be right (conditional
// normal distribution; "Matheron's rule": Journel and Huijbregts, Mining Geostatistics, 1978,
// section VII.A, from memory).
type neutralCheck struct {
	miss *mat.Dense // 6 × steps: shift (mm) and turn (rad) of the end by one SD of each step
	gain *mat.Dense // steps × 6
}

// readDirections are the components that the eye reads: three places and three turns.
const readDirections = 6

// newNeutralCheck returns nil where nothing is checked.
func newNeutralCheck(b design.Bender, spring spring.Spring, steps []source) *neutralCheck {
	if !b.Checks || len(steps) == 0 {
		return nil
	}
	solver := beam.NewSolver(spring.Rod(), beam.Origin(), Accuracy)
	solver.UnloadedSlopes(pathParameters(spring.Path))
	n := &neutralCheck{miss: mat.NewDense(readDirections, len(steps), nil)}
	for j, s := range steps {
		motion := solver.NodeSlope(solver.Nodes()-1, s.index, &beam.Slope{})
		for k, v := range [readDirections]float64{
			motion.ShiftMM.X, motion.ShiftMM.Y, motion.ShiftMM.Z,
			motion.TurnRad.X, motion.TurnRad.Y, motion.TurnRad.Z,
		} {
			n.miss.Set(k, j, s.sd*v)
		}
	}
	var spread mat.Dense
	spread.Mul(n.miss, n.miss.T())
	for k := range readDirections {
		// What no step moves and no eye misreads must not make the matrix singular.
		const least = 1e-12
		sd := readSD(b, k)
		spread.Set(k, k, spread.At(k, k)+sd*sd+least)
	}
	var inverse mat.Dense
	if inverse.Inverse(&spread) != nil {
		return nil
	}
	n.gain = new(mat.Dense)
	n.gain.Mul(n.miss.T(), &inverse)
	return n
}

// readSD is what a component of the passive end's place is misread by.
func readSD(b design.Bender, k int) float64 {
	switch {
	case !b.Checks:
		return 0
	case k < 3:
		return b.CheckSDMM
	}
	return b.CheckSDRad
}

// correct puts the numbers of the steps right, given those of the reading, mm and rad.
func (n *neutralCheck) correct(steps, reading []float64) {
	for k := range readDirections {
		reading[k] += floats.Dot(n.miss.RawRowView(k), steps)
	}
	for j := range steps {
		steps[j] -= floats.Dot(n.gain.RawRowView(j), reading)
	}
}

// passOn is correct for slopes: it turns the change of a load by each step as it stands in
// the end into that by each step as first bent, and returns that by each reading.
func (n *neutralCheck) passOn(steps []float64) (reading [readDirections]float64) {
	for k := range reading {
		for j, slope := range steps {
			reading[k] -= slope * n.gain.At(j, k)
		}
	}
	for j := range steps {
		for k, r := range reading {
			steps[j] += r * n.miss.At(k, j)
		}
	}
	return reading
}
