package beam

import "gonum.org/v1/gonum/spatial/r3"

// Parameter is a way of changing the unloaded rod: what one unit of it does to one piece.
// A quantity that changes several pieces is the sum of its parameters.
type Parameter struct {
	Piece     int
	LengthMM  float64 // change of the piece's length, its curvature kept
	Curvature r3.Vec  // change of the piece's curvature, rad/mm
}

// Slope is the change of a solution by one unit of a Parameter, the hold kept.
type Slope struct {
	End  Wrench // on the far end, about that end
	Base Wrench // on the first end, about that end
	// EndShiftMM is the move of the far end, mm, global axes: none where it is clamped and the
	// hold stays.
	EndShiftMM r3.Vec
	// SlidMM is the wire let out of the slots at the base and the far end that it slides through.
	SlidMM [2]float64
	load   vec6 // internal load about the base
	start  vec6 // motion of the wire's start
	letMM  [2]float64
}

// Slopes fills slopes with the exact derivatives of the discrete solution of the last
// Follow by each parameter, for an end clamped by that hold. It reports false where the
// end is at a limit of stability and the derivatives do not exist, and for a wire with
// memory, which has none that do not depend on its way.
func (s *Solver) Slopes(hold Hold, parameters []Parameter, slopes []Slope) bool {
	if s.points != nil {
		return false
	}
	s.exactTangent()
	s.carry(parameters)
	hold.Pose.At = r3.Sub(hold.Pose.At, s.base.At)
	t := target{hold: hold, at: hold.Pose}
	end := s.end()
	jacobian := s.jacobian(&t, &end, &s.flexibility[len(s.steps)])
	tangent := factor(&jacobian)
	if tangent.singular {
		return false
	}
	last := s.columns[len(s.steps)]
	for i := range parameters {
		var none vec6
		res := s.residualSlope(&t, &end, &last[i], &none)
		load := tangent.solve(&res)
		for k := range load {
			load[k] = -load[k]
		}
		slopes[i] = s.slope(load, s.motionOf(len(s.steps), i, &load))
	}
	return true
}

// UnloadedSlopes is Slopes for the wire as Reset left it, with no load on it: after it,
// NodeSlope with an empty Slope gives how the unloaded wire's nodes move.
func (s *Solver) UnloadedSlopes(parameters []Parameter) {
	s.exactTangent()
	s.carry(parameters)
}

// carry integrates the motion of every node by each parameter, the load at the base held.
func (s *Solver) carry(parameters []Parameter) {
	for len(s.columns) < len(s.nodes) {
		s.columns = append(s.columns, nil)
	}
	for i := range s.nodes {
		if cap(s.columns[i]) < len(parameters) {
			s.columns[i] = make([]vec6, len(parameters))
		}
		s.columns[i] = s.columns[i][:len(parameters)]
	}
	clear(s.columns[0])
	var c crossing
	for i := range s.steps {
		st := &s.steps[i]
		p := &s.nodes[i]
		begun := false
		for j := range parameters {
			before := &s.columns[i][j]
			var felt vec6
			s.addFelt(&felt, before)
			after := s.motions[i].mul(&felt)
			for k := range after {
				after[k] += before[k]
			}
			if parameter := &parameters[j]; parameter.Piece == st.piece {
				if !begun {
					n, m := s.localLoad(p)
					c.begin(st, &s.flex, n, m)
					begun = true
				}
				own := c.slopeInLength(st).scaled(parameter.LengthMM / float64(s.partsOf(i)))
				if parameter.Curvature != (r3.Vec{}) {
					own = own.plus(c.slope(st, &s.flex, r3.Vec{}, r3.Vec{}, parameter.Curvature))
				}
				slope := newExpSlope(c.omega)
				moved := p.motion(slope.apply(c.omega, own))
				for k := range after {
					after[k] += moved[k]
				}
			}
			s.columns[i+1][j] = after
		}
	}
}

// partsOf is the number of steps of the piece that step i belongs to.
func (s *Solver) partsOf(i int) int {
	piece := s.steps[i].piece
	first, last := i, i
	for first > 0 && s.steps[first-1].piece == piece {
		first--
	}
	for last+1 < len(s.steps) && s.steps[last+1].piece == piece {
		last++
	}
	return last - first + 1
}

// motionOf is the motion of a node by parameter i and the change of the load it causes.
func (s *Solver) motionOf(node, i int, load *vec6) vec6 {
	motion := s.flexibility[node].mul(load)
	for k := range motion {
		motion[k] += s.columns[node][i][k]
	}
	return motion
}

func (s *Solver) slope(load, endMotion vec6) Slope {
	end := s.end()
	force := r3.Vec{X: load[0], Y: load[1], Z: load[2]}
	moment := r3.Vec{X: load[3], Y: load[4], Z: load[5]}
	endMoment := moment
	moved := shiftOf(&endMotion, end.At)
	subCross(&endMoment, &end.At, &force)
	subCross(&endMoment, &moved, &s.force)
	return Slope{
		End:  Wrench{ForceN: force, MomentNMM: endMoment},
		Base: Wrench{ForceN: r3.Scale(-1, force), MomentNMM: r3.Scale(-1, moment)},

		EndShiftMM: moved,
		load:       load,
	}
}

// shiftOf is how far a motion carries the point at.
func shiftOf(motion *vec6, at r3.Vec) r3.Vec {
	turn := r3.Vec{X: motion[0], Y: motion[1], Z: motion[2]}
	shift := r3.Vec{X: motion[3], Y: motion[4], Z: motion[5]}
	return r3.Add(shift, r3.Cross(turn, at))
}

// NodeMotion is how a node changes by one unit of a parameter.
type NodeMotion struct {
	ShiftMM   r3.Vec // of its place, global axes
	TurnRad   r3.Vec // of its frame, global axes
	MomentNMM r3.Vec // of its internal moment, section frame
}

// NodeSlope returns, after Slopes, the change of a node by parameter i.
func (s *Solver) NodeSlope(node, i int, slope *Slope) NodeMotion {
	load := slope.load
	s.addFelt(&load, &slope.start)
	motion := s.motionOf(node, i, &load)
	for k := range motion {
		motion[k] += slope.start[k]
	}
	if slope.letMM != [2]float64{} {
		s.addLet(&motion, node, slope.letMM)
	}
	p := &s.nodes[node]
	felt := slope.load
	s.addFelt(&felt, &motion)
	force := r3.Vec{X: felt[0], Y: felt[1], Z: felt[2]}
	moment := r3.Vec{X: felt[3], Y: felt[4], Z: felt[5]}
	subCross(&moment, &p.At, &force)
	return NodeMotion{
		ShiftMM:   shiftOf(&motion, p.At),
		TurnRad:   r3.Vec{X: motion[0], Y: motion[1], Z: motion[2]},
		MomentNMM: p.ToLocal(moment),
	}
}
