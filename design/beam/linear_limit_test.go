package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// unloadedCompliance is the linear compliance of a rod clamped at its base: the turn and
// shift of its end by a moment and force there, ∫ Adᵀ C Ad ds by Gauss points of degree 5
// along the unloaded wire (principle of virtual work).
func unloadedCompliance(rod beam.Rod, base beam.Pose) *mat.SymDense {
	end := rod.UnloadedEnd(base).At
	out := mat.NewSymDense(6, nil)
	const cells = 20
	root := math.Sqrt(0.6)
	s := rod.Section
	soft := [6]float64{1 / s.GJ, 1 / s.EI2, 1 / s.EI3, 1 / s.EA, 1 / s.GA2, 1 / s.GA3}
	p := base
	for _, piece := range rod.Pieces {
		h := piece.LengthMM / cells
		for range cells {
			for _, gauss := range [][2]float64{{-root, 5.0 / 18}, {0, 8.0 / 18}, {root, 5.0 / 18}} {
				q := p.Advance(piece.Curvature, h*(1+gauss[0])/2)
				arm := r3.Sub(end, q.At)
				// Section loads by a unit of each end load.
				var section [6][6]float64
				for j, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
					m := q.ToLocal(axis)
					section[j] = [6]float64{m.X, m.Y, m.Z}
					n, lever := q.ToLocal(axis), q.ToLocal(r3.Cross(arm, axis))
					section[3+j] = [6]float64{lever.X, lever.Y, lever.Z, n.X, n.Y, n.Z}
				}
				for i := range 6 {
					for j := i; j < 6; j++ {
						var sum float64
						for k, c := range soft {
							sum += section[i][k] * c * section[j][k]
						}
						out.SetSym(i, j, out.At(i, j)+h*gauss[1]*sum)
					}
				}
			}
			p = p.Advance(piece.Curvature, h)
		}
	}
	return out
}

// unitMotion is the small motion i of an end: 0 to 2 turns, 3 to 5 shifts.
func unitMotion(i int, size float64) (shift, rotation r3.Vec) {
	axis := [3]r3.Vec{{X: size}, {Y: size}, {Z: size}}[i%3]
	if i < 3 {
		return r3.Vec{}, axis
	}
	return axis, r3.Vec{}
}

// smallStiffness is the stiffness of the clamped end about the unloaded wire by central
// differences: moment and force by turn and shift.
func smallStiffness(t *testing.T, rod beam.Rod, base beam.Pose) *mat.Dense {
	t.Helper()
	out := mat.NewDense(6, 6, nil)
	const size = 1e-4
	for j := range 6 {
		for _, sign := range []float64{-1, 1} {
			s := beam.NewSolver(rod, base, beam.Options{StepMM: 0.25, StepRad: 0.1, Tolerance: 1e-13})
			shift, rotation := unitMotion(j, sign*size)
			mustFollow(t, s, moved(rod, base, shift, rotation))
			load := s.EndLoad()
			for i, v := range []float64{
				load.MomentNMM.X, load.MomentNMM.Y, load.MomentNMM.Z,
				load.ForceN.X, load.ForceN.Y, load.ForceN.Z,
			} {
				out.Set(i, j, out.At(i, j)+sign*v/(2*size))
			}
		}
	}
	return out
}

// For small movements the wire answers as its linear compliance says, and the stiffness is
// symmetric (Maxwell and Betti).
func TestLinearLimit(t *testing.T) {
	base := beam.Origin()
	for _, rod := range []beam.Rod{twistedLoop(), boxLoop(titaniumWire())} {
		stiffness := smallStiffness(t, rod, base)
		var product mat.Dense
		product.Mul(unloadedCompliance(rod, base), stiffness)
		for i := range 6 {
			for j := range 6 {
				want := 0.0
				if i == j {
					want = 1
				}
				near(t, "compliance × stiffness", product.At(i, j), want, 2e-5)
				scale := math.Sqrt(stiffness.At(i, i) * stiffness.At(j, j))
				near(t, "asymmetry", (stiffness.At(i, j)-stiffness.At(j, i))/scale, 0, 1e-6)
			}
		}
	}
}

// A thousandth of a large movement already follows the linear compliance within 1e-3.
func TestLinearLimitOfTheBoxLoop(t *testing.T) {
	const share = 1e-3
	base := beam.Origin()
	rod := boxLoop(titaniumWire())
	s := beam.NewSolver(rod, base, fine())
	mustFollow(t, s, boxHold(rod, share))
	motion := mat.NewVecDense(6, []float64{
		5 * share * math.Pi / 180, -4 * share * math.Pi / 180, 8 * share * math.Pi / 180,
		share, 0.5 * share, 0.8 * share,
	})
	var load mat.VecDense
	if err := load.SolveVec(unloadedCompliance(rod, base), motion); err != nil {
		t.Fatal(err)
	}
	moment := r3.Vec{X: load.AtVec(0), Y: load.AtVec(1), Z: load.AtVec(2)}
	force := r3.Vec{X: load.AtVec(3), Y: load.AtVec(4), Z: load.AtVec(5)}
	nearVec(t, "force", s.EndLoad().ForceN, force, 1e-3*r3.Norm(force))
	nearVec(t, "moment", s.EndLoad().MomentNMM, moment, 1e-3*r3.Norm(moment))
}
