package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// TrustStability tells Follow whether to take equilibria for stable without a look, which is
// about a fifth of its work: for moves to loads that are smaller than those before.
func (s *Solver) TrustStability(trust bool) { s.trusted = trust }

// stable returns ErrUnstable unless the present equilibrium is a minimum of the energy.
// With both ends clamped that takes a positive second variation. Components that are let
// free add the condition that the stiffness against them is positive: as they are released
// one after the other, the tangent never has another sign than on the unloaded wire
// (Sylvester's criterion; the last sign alone would miss two modes that are lost together).
func (s *Solver) stable(hold *Hold) error {
	if !s.surelyStable() && !s.positiveSecondVariation() {
		return ErrUnstable
	}
	released := Hold{Pose: hold.Pose}
	for i := range 6 {
		if !hold.free(i) {
			continue
		}
		released.release(i)
		if !s.options.RoughTangent && s.points == nil {
			s.exactTangent()
		}
		now := s.endTangentSign(&released)
		if now*s.unloadedSign(&released) < 0 {
			return ErrUnstable
		}
	}
	return nil
}

// surelyStable is a quick sufficient condition. A small turn θ(s) of the sections that
// vanishes at both ends changes the energy by at least
//
//	½ ∫ c θ'² − |m| |θ| |θ'| − k θ² ds,   k = |n| (1 + 2|n|/d)
//
// with c and d the smallest stiffnesses against curvature and against stretch or shear. The part
// of it from one end to s is at least ½ ρ(s) θ(s)² as long as ρ, which starts at +∞ and falls by
//
//	ρ' = −k − (ρ + |m|/2)²/c
//
// stays above 0: what the integrand has more than (ρ θ²)' ≤ ρ' θ² + 2ρ |θ| |θ'| is a square
// (Riccati's equation; Gelfand and Fomin, Calculus of Variations, 1963, section 26). The wire is
// stable where the ways from both ends overlap.
func (s *Solver) surelyStable() bool {
	force := r3.Norm(s.force)
	stretch := force * max(s.flex.stretch.X, s.flex.stretch.Y, s.flex.stretch.Z)
	b := stableBound{bend: max(s.flex.bend.X, s.flex.bend.Y, s.flex.bend.Z)}
	b.rate = math.Sqrt(b.bend * force * (1 + 2*stretch))
	// On a step the moment is largest at a node, but for the arm that its bow gives the force: as
	// long as it is, it lies within an ellipse about its nodes.
	largest := func(i int) float64 {
		longest := s.steps[i].lengthMM * (1 + stretch)
		bow := math.Sqrt(max(0, longest*longest-r3.Norm2(r3.Sub(s.nodes[i+1].At, s.nodes[i].At)))) / 2
		return max(s.momentAt(i), s.momentAt(i+1)) + force*bow
	}
	left, right := math.Inf(1), math.Inf(1) // ρ from either end
	i, j := 0, len(s.steps)
	for ; i < j; i++ {
		next := b.behind(left, largest(i), s.steps[i].lengthMM)
		if !(next > 0) { // also catches NaN
			break
		}
		left = next
	}
	for ; i < j-1; j-- {
		if right = b.behind(right, largest(j-1), s.steps[j-1].lengthMM); !(right > 0) {
			return false
		}
	}
	return i == j || b.way(left, largest(i))+b.way(right, largest(i)) > s.steps[i].lengthMM
}

// stableBound is how ρ of surelyStable falls. On a length of constant |m| its g = 1/(ρ + |m|/2) grows
// by g' = 1/c + k g², as a tangent does.
type stableBound struct {
	bend float64 // 1/c
	rate float64 // of the tangent's angle, √(k/c)
}

// behind is ρ behind a length of wire with a largest moment, not above 0 where it does not get so far.
func (b stableBound) behind(rho, moment, lengthMM float64) float64 {
	g := 1 / (rho + moment/2)
	angle := b.rate * lengthMM
	if !(angle < math.Pi/2) {
		return 0
	}
	grow := b.bend * lengthMM
	over := 1.0
	if angle > 0 {
		tan := math.Tan(angle)
		grow *= tan / angle
		over -= b.rate / b.bend * g * tan
	}
	return over/(g+grow) - moment/2
}

// way is the length on which ρ falls to 0.
func (b stableBound) way(rho, moment float64) float64 {
	if b.rate == 0 {
		return (2/moment - 1/(rho+moment/2)) / b.bend
	}
	k := b.rate / b.bend
	return (math.Atan2(2*k, moment) - math.Atan2(k, rho+moment/2)) / b.rate
}

// momentAt is the size of the moment at a node.
func (s *Solver) momentAt(i int) float64 {
	m := s.moment
	subCross(&m, &s.nodes[i].At, &s.force)
	return math.Sqrt(r3.Norm2(m))
}

// positiveSecondVariation splits the wire at each node in turn: the part before it and the
// step behind it must resist a motion of the node together, their other ends clamped. As
// no step is unstable by itself, the number of unstable modes is the number of negative
// pivots (Wittrick and Williams, Q. J. Mech. Appl. Math. 24 (1971) 263). The sign of one
// determinant would miss two modes that are lost at the same place, as in round wire. A step
// of no length, such as a bend of 0°, is rigid: nothing moves against what is before it.
func (s *Solver) positiveSecondVariation() bool {
	s.exactTangent()
	var arcMM float64
	for i := 1; i < len(s.steps); i++ {
		arcMM += s.steps[i-1].lengthMM
		if arcMM == 0 || s.steps[i].lengthMM == 0 {
			continue
		}
		var sum mat6
		if !s.addStiffnessBefore(&sum, i, arcMM) ||
			!s.addStiffness(&sum, &s.motions[i], s.steps[i].lengthMM) || !positive(&sum) {
			return false
		}
	}
	// Rows are (turn, shift), columns (force, moment): pairing turns with moments swaps
	// three columns and with them the sign. This is all there is for a single step.
	if s.lifted.on {
		return true // there are many steps
	}
	f := factor(&s.flexibility[len(s.steps)])
	return f.signOfDeterminant() <= 0
}

// addStiffnessBefore adds the stiffness of the wire before node i. That of a tight wire is
// taken by the dead load on the node, which its motion carries along.
func (s *Solver) addStiffnessBefore(sum *mat6, i int, arcMM float64) bool {
	if !s.lifted.on {
		return s.addStiffness(sum, &s.flexibility[i], arcMM)
	}
	if !s.addStiffness(sum, &s.lifted.nodes[i].yields, arcMM) {
		return false
	}
	for j := range 6 {
		var unit vec6
		unit[j] = 1
		carried := s.carried(&s.nodes[i], &unit)
		for k := range 6 {
			sum[k][j] -= carried[(k+3)%6]
		}
	}
	return true
}

// endTangentSign is the tangent's sign at the present end, held as it lies.
func (s *Solver) endTangentSign(hold *Hold) float64 {
	end := s.end()
	if !s.lifted.on {
		return s.tangentSign(hold, end, &s.flexibility[len(s.steps)])
	}
	// By the load itself instead of the dead load on the end: δ = (I − B Φ) g.
	jacobian, _ := s.liftedJacobian(&target{hold: *hold, at: end}, &end)
	var change mat6
	yields := &s.lifted.nodes[len(s.steps)].yields
	for j := range 6 {
		var dead vec6
		dead[j] = 1
		motion := yields.column(j)
		change.setColumn(j, s.loadUnder(&dead, &motion))
	}
	f, g := factor(&jacobian), factor(&change)
	return f.signOfDeterminant() * g.signOfDeterminant()
}

// addStiffness adds the inverse of the flexibility of a length of wire, its rows put in the
// order of the motion's columns: moment by turn first. It reports false where there is
// none.
func (s *Solver) addStiffness(sum, flexibility *mat6, lengthMM float64) bool {
	// The wire is taken a thousandth softer than it is. An inextensible straight has no
	// inverse otherwise, and where a direction is much stiffer than the rest, what large
	// steps leave of asymmetry would count for more than the other directions. The bound
	// found is lower than the true one by about as little.
	const softer = 1e-3
	soft := *flexibility
	reachMM := s.lengthMM
	if s.lifted.on { // a tight wire gives way within λ of its end
		reachMM /= max(1, s.growth())
		lengthMM = min(lengthMM, reachMM)
	}
	turn := softer * lengthMM / s.bendEI
	for k := range 3 {
		soft[k][3+k] += turn
		soft[3+k][k] += turn * reachMM * reachMM
	}
	f := factor(&soft)
	if f.singular {
		return false
	}
	for j := range 6 {
		var unit vec6
		unit[j] = 1
		load := f.solve(&unit)
		for i := range 6 {
			sum[i][j] += load[(i+3)%6]
		}
	}
	return true
}

// positive tells whether the symmetric part of a matrix is positive definite.
func positive(m *mat6) bool {
	var a mat6
	for i := range 6 {
		for j := range 6 {
			a[i][j] = (m[i][j] + m[j][i]) / 2
		}
	}
	for k := range 6 {
		if !(a[k][k] > 0) {
			return false
		}
		for i := k + 1; i < 6; i++ {
			q := a[i][k] / a[k][k]
			for j := k + 1; j < 6; j++ {
				a[i][j] -= q * a[k][j]
			}
		}
	}
	return true
}

// unloadedSign is the tangent's sign on the unloaded wire.
func (s *Solver) unloadedSign(hold *Hold) float64 {
	force, moment := s.force, s.moment
	s.force, s.moment = r3.Vec{}, r3.Vec{}
	sign := s.tangentSign(hold, s.unloaded, &s.unloadedFlex)
	s.force, s.moment = force, moment
	return sign
}

// tangentSign is the sign of the tangent's determinant for an end that is held as it lies.
func (s *Solver) tangentSign(hold *Hold, end Pose, flexibility *mat6) float64 {
	jacobian := s.jacobian(&target{hold: *hold, at: end}, &end, flexibility)
	f := factor(&jacobian)
	return f.signOfDeterminant()
}
