package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// A wire drawn tight is stiff against bending over a length of λ = √(EI/F) alone, and what
// is off at its start has grown by about exp(L/λ) at its end. Shooting from the start then
// needs ever smaller steps: they fall as exp(−L/λ), to 1/2048 of the way at about L/λ = 10,
// and below rounding at 16. Such a wire is solved with the poses of all nodes as unknowns
// beside the load (lifted Newton; Albersmeyer and Diehl, SIAM J. Optim. 20 (2010) 1655):
// each step of the wire starts at its own node, and what it misses the next node by, its
// gap, goes to zero together with the residual.
//
// The linear system is solved by a Riccati sweep. With δ the change of the load (force, moment
// about the base), η_i the motion of node i and A as in linearise, a section feels
// f_i = δ + A η_i, and the load on the node about its own place, carried along, changes by
// g_i = δ + B_i η_i. A step with gap d_i gives η_{i+1} = η_i + S f_i + d_i, and with
// η_i = Φ_i g_i + c_i
//
//	η_{i+1} = P g_i + p,   P = Φ_i + S (I + C_i Φ_i),   p = c_i + S C_i c_i + d_i,   C_i = A − B_i
//	g_{i+1} = R g_i + r,   R = I + B_{i+1} P − B_i Φ_i,   r = B_{i+1} p − B_i c_i
//	Φ_{i+1} = P R⁻¹,   c_{i+1} = p − Φ_{i+1} r
//
// Φ, how a wire clamped at its start gives way to a dead load, stays small where the wire is
// tight, and backwards g falls. So neither sweep magnifies errors (Ascher, Mattheij and
// Russell, Numerical Solution of Boundary Value Problems for ODEs, SIAM 1995, section 10.4).
type lifted struct {
	on      bool
	nodes   []lift
	kept    []Pose // before the last step of the way
	residue float64
}

// lift is what the sweep knows of a node.
type lift struct {
	yields mat6    // Φ: motion by the dead load on the node
	offset vec6    // c: motion by the gaps before it
	starts [6]vec6 // c by a unit of what moves the start
	back   mat6    // R⁻¹ of the step that ends here
	given  vec6    // r of that step by the gaps
	passes [6]vec6 // r by a unit of what moves the start
}

const (
	// liftedGrowth is the L/λ from which shooting may be what limits the steps.
	liftedGrowth = 5
	// liftedBelow is the share of the way below which it is then given up.
	liftedBelow = 1.0 / 128
	// liftedShare is what is tried next.
	liftedShare = 1.0 / 16
)

// growth is L/λ, by the force in the wire.
func (s *Solver) growth() float64 { return s.lengthMM * math.Sqrt(r3.Norm(s.force)/s.bendEI) }

// lift takes the nodes for unknowns from now on, if that may help. It reports false where
// the wire is not tight or is solved so already.
func (s *Solver) lift() bool {
	if s.lifted.on || s.points != nil || !(s.growth() > liftedGrowth) {
		return false
	}
	s.lifted.on = true
	return true
}

// lower shoots from the start again where that is safe.
func (s *Solver) lower() {
	if s.lifted.on && s.growth() < liftedGrowth {
		s.lifted.on = false
		s.shoot()
		s.updateTangent()
	}
}

// motionBetween is the motion that carries one pose into another.
func motionBetween(from, to *Pose) vec6 {
	turn := RotationBetween(*from, *to)
	shift := r3.Sub(r3.Sub(to.At, from.At), r3.Cross(turn, from.At))
	return vec6{turn.X, turn.Y, turn.Z, shift.X, shift.Y, shift.Z}
}

// movedBy is the pose carried by a motion.
func (p Pose) movedBy(motion *vec6) Pose {
	turn := r3.Vec{X: motion[0], Y: motion[1], Z: motion[2]}
	at := p.At
	p = p.Turned(turn)
	p.At = r3.Add(at, r3.Add(r3.Vec{X: motion[3], Y: motion[4], Z: motion[5]}, r3.Cross(turn, at)))
	return p
}

// felt is A η.
func (s *Solver) felt(motion *vec6) (felt vec6) {
	s.addFelt(&felt, motion)
	return felt
}

// carried is B η at a node: what its motion changes of the moment about its own place.
func (s *Solver) carried(at *Pose, motion *vec6) vec6 {
	moved := shiftOf(motion, at.At)
	var moment r3.Vec
	subCross(&moment, &moved, &s.force)
	return vec6{3: moment.X, 4: moment.Y, 5: moment.Z}
}

// column is column j of a matrix.
func (m *mat6) column(j int) (v vec6) {
	for k := range v {
		v[k] = m[k][j]
	}
	return v
}

// sweep crosses every step from its node and fills in what the nodes need for a step of
// Newton's method. starts are motions of the wire's start.
func (s *Solver) sweep(starts []vec6) {
	if n := len(s.nodes); len(s.lifted.nodes) < n {
		s.lifted.nodes = make([]lift, n)
	}
	s.nodes[0] = s.start
	s.lifted.nodes[0] = lift{}
	copy(s.lifted.nodes[0].starts[:], starts)
	s.lifted.residue = 0
	s.crossings += len(s.steps)
	var c crossing
	for i := range s.steps {
		st, p := &s.steps[i], &s.nodes[i]
		n, m := s.localLoad(p)
		c.begin(st, &s.flex, n, m)
		s.stepFlexibility(&s.motions[i], st, &c, p)
		arrives := p.exp(c.omega)
		gap := motionBetween(&s.nodes[i+1], &arrives)
		miss := r3.Norm(r3.Sub(arrives.At, s.nodes[i+1].At)) / s.lengthMM
		for k := range 3 {
			miss = max(miss, math.Abs(gap[k]))
		}
		s.lifted.residue = max(s.lifted.residue, miss) // keeps a NaN
		s.sweepStep(i, &gap, len(starts))
	}
}

// sweepStep takes the recursion over step i.
func (s *Solver) sweepStep(i int, gap *vec6, starts int) {
	before, after := &s.lifted.nodes[i], &s.lifted.nodes[i+1]
	here, there := &s.nodes[i], &s.nodes[i+1]
	// across is η_{i+1} and the growth of g, by η_i and a part of f_i that is given.
	across := func(motion vec6, felt vec6) (next, grows vec6) {
		own, carried := s.felt(&motion), s.carried(here, &motion)
		for k := range felt {
			felt[k] += own[k] - carried[k]
		}
		next = s.motions[i].mul(&felt)
		for k := range next {
			next[k] += motion[k]
		}
		grows = s.carried(there, &next)
		for k := range grows {
			grows[k] -= carried[k]
		}
		return next, grows
	}
	var p, r mat6
	for j := range 6 {
		unit := vec6{}
		unit[j] = 1
		next, grows := across(before.yields.column(j), unit)
		grows[j]++
		p.setColumn(j, next)
		r.setColumn(j, grows)
	}
	f := factor(&r)
	for j := range 6 {
		var unit vec6
		unit[j] = 1
		after.back.setColumn(j, f.solve(&unit))
	}
	after.yields = p.times(&after.back)

	offset := func(motion vec6, gap *vec6) (out, grows vec6) {
		out, grows = across(motion, vec6{})
		if gap != nil {
			further := s.carried(there, gap)
			for k := range out {
				out[k] += gap[k]
				grows[k] += further[k]
			}
		}
		given := after.yields.mul(&grows)
		for k := range out {
			out[k] -= given[k]
		}
		return out, grows
	}
	after.offset, after.given = offset(before.offset, gap)
	for j := range starts {
		after.starts[j], after.passes[j] = offset(before.starts[j], nil)
	}
}

// times is the product of two matrices.
func (m *mat6) times(b *mat6) (out mat6) {
	for i := range 6 {
		for k := range 6 {
			v := m[i][k]
			for j := range 6 {
				out[i][j] += v * b[k][j]
			}
		}
	}
	return out
}

// loadUnder is the change of the load with which the dead load on the end changes so, where
// the end moves so: δ = g − B η.
func (s *Solver) loadUnder(dead, motion *vec6) (load vec6) {
	end := s.end()
	carried := s.carried(&end, motion)
	for k := range load {
		load[k] = dead[k] - carried[k]
	}
	return load
}

// liftedJacobian returns the change of the residual by the dead load on the end, and by the
// gaps.
func (s *Solver) liftedJacobian(t *target, end *Pose) (jacobian mat6, byGaps vec6) {
	last := &s.lifted.nodes[len(s.steps)]
	for j := range 6 {
		var dead vec6
		dead[j] = 1
		motion := last.yields.column(j)
		load := s.loadUnder(&dead, &motion)
		jacobian.setColumn(j, s.residualSlope(t, end, &motion, &load))
	}
	load := s.loadUnder(&vec6{}, &last.offset)
	return jacobian, s.residualSlope(t, end, &last.offset, &load)
}

// reachLifted is reach with the nodes as unknowns.
func (s *Solver) reachLifted(t *target) error {
	scale := s.scales()
	previous := math.Inf(1)
	for i := range newtonMaximum {
		s.sweep(nil)
		res := s.residual(t)
		if max(largest(&res), s.lifted.residue) <= s.options.Tolerance {
			s.updateTangent()
			if s.trusted {
				return nil
			}
			return s.stable(&t.hold)
		}
		end := s.end()
		jacobian, byGaps := s.liftedJacobian(t, &end)
		tangent := factor(&jacobian)
		if tangent.singular {
			return ErrUnstable
		}
		for k := range res {
			res[k] = -res[k] - byGaps[k]
		}
		dead := tangent.solve(&res)
		motion := s.lifted.nodes[len(s.steps)].motion(&dead, nil)
		load := s.loadUnder(&dead, &motion)
		size := loadSize(&load, scale)
		if !(size <= newtonContraction*previous) { // also catches NaN
			return ErrNoConvergence
		}
		if turn := s.moveNodes(&load, dead, nil); i == 0 && !(turn <= longestTurn) {
			return ErrNoConvergence
		}
		previous = size
	}
	return ErrNoConvergence
}

// motion is that of the node by the dead load on it, the gaps and what moves the start.
func (n *lift) motion(dead *vec6, starts []float64) vec6 {
	motion := n.yields.mul(dead)
	for k := range motion {
		motion[k] += n.offset[k]
		for j, share := range starts {
			motion[k] += share * n.starts[j][k]
		}
	}
	return motion
}

// moveNodes changes the load and moves all nodes by the dead load on the end and by shares of
// what moves the start. It returns the largest turn, rad.
func (s *Solver) moveNodes(load *vec6, dead vec6, starts []float64) float64 {
	var most float64
	for i := len(s.steps); i >= 0; i-- {
		at := &s.lifted.nodes[i]
		motion := at.motion(&dead, starts)
		most = max(most, math.Sqrt(motion[0]*motion[0]+motion[1]*motion[1]+motion[2]*motion[2])) // keeps a NaN
		for k := range dead {
			dead[k] -= at.given[k]
			for j, share := range starts {
				dead[k] -= share * at.passes[j][k]
			}
		}
		dead = at.back.mul(&dead)
		s.nodes[i] = s.nodes[i].movedBy(&motion)
	}
	s.force = r3.Add(s.force, r3.Vec{X: load[0], Y: load[1], Z: load[2]})
	s.moment = r3.Add(s.moment, r3.Vec{X: load[3], Y: load[4], Z: load[5]})
	return most
}

// keepNodes keeps the nodes of a lifted wire to come back to.
func (s *Solver) keepNodes() {
	if s.lifted.on {
		s.lifted.kept = append(s.lifted.kept[:0], s.nodes...)
	}
}

func (s *Solver) restoreNodes() {
	if s.lifted.on {
		copy(s.nodes, s.lifted.kept)
	}
}
