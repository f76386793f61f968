package beam

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Stretch is a section's extension, twist rate and two curvatures (1/mm), each beyond the
// unloaded one; as a load, the axial force in N, the torque and the two bending moments in
// N·mm that do work on them.
type Stretch [4]float64

// Point is a cross-section at a fixed place of the wire that remembers what was done to
// it, such as one that yields. Respond answers from the state last kept.
type Point interface {
	// Respond returns the stretch under a load and its derivative by the load; ok is false
	// where the section cannot carry the load.
	Respond(load Stretch) (stretch Stretch, compliance [4][4]float64, ok bool)
	// Keep makes the last response the state to start from.
	Keep()
	// Clone returns a point with the same history that goes its own way from here.
	Clone() Point
}

// NewMemorySolver returns a solver whose wire remembers: each integration step has a Point
// of its own at its middle, made by point for the piece it belongs to and the length of
// wire before it. Shear stays elastic. The method is of order 2 in the step, and what
// Follow reaches depends on the way it went.
func NewMemorySolver(rod Rod, base Pose, options Options, point func(piece int, arcMM float64) Point) *Solver {
	options.RoughTangent = true
	s := NewSolver(rod, base, options)
	s.points = make([]Point, len(s.steps))
	s.yielding = make([]response, len(s.steps))
	arcMM := 0.0
	for i, st := range s.steps {
		s.points[i] = point(st.piece, arcMM+st.lengthMM/2)
		arcMM += st.lengthMM
	}
	s.SetSpan(0, s.lengthMM)
	s.unloadedFlex = s.flexibility[len(s.steps)]
	s.Keep()
	return s
}

// response is the last answer of a Point.
type response struct {
	lengthMM float64 // of the step that lies before the hold
	answer
	failed bool
	kept   answer // the one last kept
}

type answer struct {
	load       Stretch // what is answered to
	stretch    Stretch
	compliance [4][4]float64
}

// near is about what the point answers to a load near its own.
func (a *answer) near(load *Stretch) Stretch {
	stretch := a.stretch
	for i := range stretch {
		for j := range load {
			stretch[i] += a.compliance[i][j] * (load[j] - a.load[j])
		}
	}
	return stretch
}

// memoryCrossings is how many crossings of a step without memory take the time of one with it:
// 1.7 was measured on a loop lifted past yield and let back, all work of an evaluation counted.
const memoryCrossings = 2

// shootMemory integrates the rod with the present load, one strain a step. The load at a
// step's middle depends on the strain there, to the second order of the step's length; for
// this the strain by the kept tangent is good enough. So what comes out depends on the load
// and on what was kept alone, and not on the loads tried before.
func (s *Solver) shootMemory() {
	if s.asKept() {
		copy(s.nodes, s.kept.nodes)
		for i := range s.yielding {
			s.yielding[i].answer, s.yielding[i].failed = s.yielding[i].kept, false
		}
		return
	}
	s.crossings += memoryCrossings * len(s.steps)
	p := s.start
	s.nodes[0] = p
	for i := range s.steps {
		st, r := &s.steps[i], &s.yielding[i]
		var load Stretch
		mid := p
		if r.lengthMM > 0 { // else the step hangs free beyond the hold
			strain := s.strainOf(st, &r.kept.stretch, &p)
			for range 2 {
				mid = p.exp(strain.scaled(r.lengthMM / 2))
				n, m := s.localLoad(&mid)
				load = Stretch{n.X, m.X, m.Y, m.Z}
				stretch := r.kept.near(&load)
				strain = s.strainOf(st, &stretch, &mid)
			}
		}
		var ok bool
		r.load = load
		r.stretch, r.compliance, ok = s.points[i].Respond(load)
		r.failed = !ok
		p = p.exp(s.strainOf(st, &r.stretch, &mid).scaled(r.lengthMM))
		s.nodes[i+1] = p
	}
}

// strainOf is the strain of a step by a stretch, shear by the load at p.
func (s *Solver) strainOf(st *step, e *Stretch, p *Pose) twist {
	n, _ := s.localLoad(p)
	return twist{
		ang: r3.Add(st.curvature, r3.Vec{X: e[1], Y: e[2], Z: e[3]}),
		lin: r3.Vec{X: 1 + e[0], Y: s.flex.stretch.Y * n.Y, Z: s.flex.stretch.Z * n.Z},
	}
}

// roughenMemory is roughen with the compliance of the points.
func (s *Solver) roughenMemory() {
	s.rough, s.stale = true, false
	s.flexibility[0] = mat6{}
	for i := range s.steps {
		h := s.yielding[i].lengthMM
		axes, at := s.middleOf(i)
		before, after := &s.flexibility[i], &s.flexibility[i+1]
		felt := s.feltBy(before)
		*after = *before
		c := &s.yielding[i].compliance
		spread := h * h * (1.0 / 12)
		// On the section axes: rows and columns extension, shear 2, shear 3, twist, κ2, κ3.
		local := mat6{
			{c[0][0], 0, 0, c[0][1], c[0][2], c[0][3]},
			{0, s.flex.stretch.Y + spread*c[3][3], -spread * c[3][2], 0, 0, 0},
			{0, -spread * c[2][3], s.flex.stretch.Z + spread*c[2][2], 0, 0, 0},
			{c[1][0], 0, 0, c[1][1], c[1][2], c[1][3]},
			{c[2][0], 0, 0, c[2][1], c[2][2], c[2][3]},
			{c[3][0], 0, 0, c[3][1], c[3][2], c[3][3]},
		}
		var arms [3]r3.Vec
		for k := range axes {
			arms[k] = r3.Cross(at, axes[k])
		}
		for j := range 6 {
			force := r3.Vec{X: felt[0][j], Y: felt[1][j], Z: felt[2][j]}
			moment := r3.Vec{X: felt[3][j], Y: felt[4][j], Z: felt[5][j]}
			var load vec6
			for k := range axes {
				load[k] = r3.Dot(axes[k], force)
				load[3+k] = r3.Dot(arms[k], force) + r3.Dot(axes[k], moment)
			}
			strain := local.mul(&load)
			var turn, shift r3.Vec
			for k := range axes {
				turn = r3.Add(turn, r3.Scale(h*strain[3+k], axes[k]))
				shift = r3.Add(shift, r3.Add(r3.Scale(h*strain[k], axes[k]), r3.Scale(h*strain[3+k], arms[k])))
			}
			after[0][j] += turn.X
			after[1][j] += turn.Y
			after[2][j] += turn.Z
			after[3][j] += shift.X
			after[4][j] += shift.Y
			after[5][j] += shift.Z
		}
	}
}

const (
	memoryMaximum   = 60
	memoryLeastStep = 1.0 / 64
)

// reachWithMemory is reach for a wire that remembers, and keeps what it finds.
func (s *Solver) reachWithMemory(t *target) error {
	if err := s.solveWithMemory(t); err != nil {
		return err
	}
	s.Keep()
	return nil
}

// solveWithMemory solves for one target from what the points last kept. Sections that turn
// from loading to unloading change the tangent at once, so it is taken anew for every step,
// and a step is halved until it brings the end nearer to its target.
func (s *Solver) solveWithMemory(t *target) error {
	res := s.residual(t)
	miss := largest(&res)
	for range memoryMaximum {
		if miss <= s.options.Tolerance {
			s.updateTangent()
			return nil
		}
		s.updateTangent()
		end := s.end()
		jacobian := s.jacobian(t, &end, &s.flexibility[len(s.steps)])
		tangent := factor(&jacobian)
		if tangent.singular {
			return ErrUnstable
		}
		delta := tangent.solve(&res)
		if !(s.largestTurn(&delta, &vec6{}) <= longestTurn) { // also catches NaN
			return ErrNoConvergence
		}
		force, moment := s.force, s.moment
		corner := s.atCorner()
		for share := 1.0; ; share /= 2 {
			if share < memoryLeastStep {
				return ErrNoConvergence
			}
			s.force = r3.Sub(force, r3.Scale(share, r3.Vec{X: delta[0], Y: delta[1], Z: delta[2]}))
			s.moment = r3.Sub(moment, r3.Scale(share, r3.Vec{X: delta[3], Y: delta[4], Z: delta[5]}))
			s.shoot()
			res = s.residual(t)
			if m := largest(&res); (m < miss || corner) && !s.broken() {
				miss = m
				break
			}
		}
	}
	return ErrNoConvergence
}

// broken tells whether a section could not carry the load of the last integration.
func (s *Solver) broken() bool {
	for i := range s.yielding {
		if s.yielding[i].failed {
			return true
		}
	}
	return false
}

// Keep makes the present state the one that the points of a wire with memory start from.
// Follow does so by itself, at every step of its way; FollowSlots does not, so that one
// can come back from a trial with Restore.
func (s *Solver) Keep() {
	if s.asKept() {
		return
	}
	for i, p := range s.points {
		p.Keep()
		s.yielding[i].kept = s.yielding[i].answer
	}
	s.kept.force, s.kept.moment, s.kept.start, s.kept.spanMM = s.force, s.moment, s.start, s.spanMM
	s.kept.nodes = append(s.kept.nodes[:0], s.nodes...)
}

// keptState is a wire when its points were last kept.
type keptState struct {
	force, moment r3.Vec
	start         Pose
	spanMM        [2]float64
	nodes         []Pose
}

// asKept tells whether the wire is to be just as it was last kept.
func (s *Solver) asKept() bool {
	k := &s.kept
	return len(k.nodes) > 0 && s.force == k.force && s.moment == k.moment && s.start == k.start && s.spanMM == k.spanMM
}

// atCorner tells whether the wire is as last kept. Sections there have two tangents, one to
// go on and one to turn back, and the one at hand is that of the way they came. A step that
// it gives may be far too short, and hide from every measure of the error that it leads the
// right way; but behind it each section has taken its side.
func (s *Solver) atCorner() bool { return s.force == s.kept.force && s.moment == s.kept.moment }

// Responses returns the stretch of every point, first step first; empty for a wire without
// memory.
func (s *Solver) Responses() []Stretch {
	out := make([]Stretch, len(s.yielding))
	for i := range s.yielding {
		out[i] = s.yielding[i].stretch
	}
	return out
}
