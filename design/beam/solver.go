package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Options sets the accuracy of a Solver. The zero value takes the defaults.
type Options struct {
	// StepMM and StepRad are the largest length and the largest unloaded turn of one
	// integration step; 0 means 2.5 mm and π/6. The error falls with their fourth power.
	StepMM, StepRad float64
	// Tolerance is the largest residual of a solution, as a share of the wire's length
	// (places), in rad (turns), or of EI/L² and EI/L (loads); 0 means 1e-10.
	Tolerance float64
	// RoughTangent integrates the tangent to first order. Solutions stay as accurate and come
	// faster; where components are free, the load at which stability is lost carries an error that
	// falls with the step. Slopes are exact either way.
	RoughTangent bool
	// SmallestStep is the smallest share of a way that Follow divides it into before it
	// gives up; 0 means 2⁻²⁰. A nearly straight wire that is pushed together bulges within
	// about 1e-4 of the way (tried on random springs); steps double again behind that.
	SmallestStep float64
}

func (o Options) withDefaults() Options {
	if o.StepMM <= 0 {
		o.StepMM = 2.5
	}
	if o.StepRad <= 0 {
		o.StepRad = math.Pi / 6
	}
	if o.Tolerance <= 0 {
		o.Tolerance = 1e-10
	}
	if o.SmallestStep <= 0 {
		o.SmallestStep = 1.0 / (1 << 20)
	}
	return o
}

// Solver holds a rod clamped at its first end and moves its far end.
//
// The unknowns are the six components of the internal load, which is constant along the
// wire when its moment is taken about one point (single shooting). It always starts from
// the unloaded wire and arrives by continuation. A Solver reuses its memory and must not
// be shared by goroutines.
type Solver struct {
	options  Options
	base     Pose
	flex     compliance
	steps    []step
	lengthMM float64
	bendEI   float64 // smallest bending stiffness: the scale of the loads

	// All places are relative to the base; the moment is taken about the base.
	force, moment r3.Vec
	start         Pose   // of the wire: the base, turned where a slot lets it turn
	nodes         []Pose // at the steps' ends, the start first
	motions       []mat6 // of the steps: own motion by a change of the load they feel
	flexibility   []mat6 // at the nodes: motion (turn, shift) by a change of the load
	unloaded      Pose   // far end
	unloadedFlex  mat6   // at the far end of the unloaded wire

	lifted   lifted     // how a tight wire is solved
	trusted  bool       // see TrustStability
	rough    bool       // the flexibility is not exact
	stale    bool       // the flexibility is that of another state
	points   []Point    // of the steps, where the wire remembers; else nil
	yielding []response // their last answers
	spanMM   [2]float64 // see SetSpan
	kept     keptState

	columns [][]vec6 // at the nodes: motion by each Parameter with the load held

	inSlots inSlots
	ends    [2][2]int // steps of the pieces next to the base and the far end: from, to
	resting resting
	// straightened is room for withStraights.
	straightened []Parameter
	overdrawn    bool // see overdraw
	crossings    int  // see Crossings
	most         int  // see StopAt
}

// NewSolver returns a solver for the unloaded rod that starts at base.
func NewSolver(rod Rod, base Pose, options Options) *Solver {
	s := &Solver{options: options.withDefaults()}
	s.Reset(rod, base)
	return s
}

// Reset takes up another rod, unloaded and without memory, and reuses the room.
func (s *Solver) Reset(rod Rod, base Pose) {
	s.points, s.yielding = nil, nil
	s.lifted.on, s.overdrawn = false, false
	s.base = base
	s.start = base
	s.start.At = r3.Vec{}
	s.inSlots = inSlots{}
	s.flex = newCompliance(rod.Section)
	s.bendEI = min(rod.Section.EI2, rod.Section.EI3)
	s.lengthMM = rod.LengthMM()
	s.steps = s.steps[:0]
	for i, piece := range rod.Pieces {
		n := piece.divisions(s.options.StepMM, s.options.StepRad)
		for range n {
			s.steps = append(s.steps, step{piece: i, lengthMM: piece.LengthMM / float64(n), curvature: piece.Curvature})
		}
	}
	s.findEnds()
	if n := len(s.steps) + 1; cap(s.nodes) < n {
		s.nodes, s.flexibility, s.motions = make([]Pose, n), make([]mat6, n), make([]mat6, n)
	} else {
		s.nodes, s.flexibility = s.nodes[:n], s.flexibility[:n]
	}
	s.force, s.moment = r3.Vec{}, r3.Vec{}
	s.shoot()
	if s.options.RoughTangent {
		s.roughen()
	} else {
		s.linearise()
	}
	s.unloaded, s.unloadedFlex = s.end(), s.flexibility[len(s.steps)]
}

// SetSmallestStep changes Options.SmallestStep; 0 sets the default.
func (s *Solver) SetSmallestStep(share float64) {
	s.options.SmallestStep = share
	s.options = s.options.withDefaults()
}

// Crossings counts the integration steps that the solver has crossed so far, in all its work:
// a measure of it that is the same on every machine.
func (s *Solver) Crossings() int { return s.crossings }

// StopAt lets FollowSlots give up, as on a way that it cannot go, where Crossings has come to
// so many; 0: never. It is for trials whose failure means no more than that nothing was found.
func (s *Solver) StopAt(crossings int) { s.most = crossings }

// end is the far end, relative to the base.
func (s *Solver) end() Pose { return s.nodes[len(s.steps)] }

// localLoad returns the internal force and moment on a node's own axes.
func (s *Solver) localLoad(p *Pose) (n, m r3.Vec) {
	moment := s.moment
	subCross(&moment, &p.At, &s.force)
	return p.ToLocal(s.force), p.ToLocal(moment)
}

// shoot integrates the rod with the present load.
func (s *Solver) shoot() {
	if s.points != nil {
		s.shootMemory()
		return
	}
	var c crossing
	p := s.start
	s.nodes[0] = p
	if s.lifted.on {
		return // the nodes are unknowns
	}
	s.crossings += len(s.steps)
	for i := range s.steps {
		n, m := s.localLoad(&p)
		c.begin(&s.steps[i], &s.flex, n, m)
		p = p.exp(c.omega)
		s.nodes[i+1] = p
	}
}

// linearise integrates the rod and the motion of every node by a change of the load.
//
// A motion is a turn ω and the shift v of the point at the base. Crossing a step adds to
// it the step's own motion S by the change of the load as the moved section feels it:
//
//	η ← η + S (δ(n, m) + A η),   A η = (−ω × n, −ω × m − v × n)
func (s *Solver) linearise() {
	s.rough, s.stale = false, false
	var c crossing
	p := s.start
	s.crossings += len(s.steps)
	s.nodes[0], s.flexibility[0] = p, mat6{}
	for i := range s.steps {
		st := &s.steps[i]
		n, m := s.localLoad(&p)
		c.begin(st, &s.flex, n, m)
		motion := &s.motions[i]
		s.stepFlexibility(motion, st, &c, &p)
		before, after := &s.flexibility[i], &s.flexibility[i+1]
		for j := range 6 {
			var felt vec6
			felt[j] = 1
			var column vec6
			for k := range 6 {
				column[k] = before[k][j]
			}
			s.addFelt(&felt, &column)
			moved := motion.mul(&felt)
			for k := range 6 {
				after[k][j] = before[k][j] + moved[k]
			}
		}
		if s.lifted.on {
			p = s.nodes[i+1]
			continue
		}
		p = p.exp(c.omega)
		s.nodes[i+1] = p
	}
}

// addFelt adds to a change of the load what a section feels because it has moved by η.
func (s *Solver) addFelt(felt, motion *vec6) {
	turn := r3.Vec{X: motion[0], Y: motion[1], Z: motion[2]}
	shift := r3.Vec{X: motion[3], Y: motion[4], Z: motion[5]}
	var df, dm r3.Vec
	subCross(&df, &turn, &s.force)
	subCross(&dm, &turn, &s.moment)
	subCross(&dm, &shift, &s.force)
	felt[0] += df.X
	felt[1] += df.Y
	felt[2] += df.Z
	felt[3] += dm.X
	felt[4] += dm.Y
	felt[5] += dm.Z
}

// stepFlexibility fills in the motion that crossing a step from p adds by a unit of each
// component of the load (global axes, moment about the base).
func (s *Solver) stepFlexibility(motion *mat6, st *step, c *crossing, p *Pose) {
	slope := newExpSlope(c.omega)
	axes := [3]r3.Vec{
		{X: p.D1.X, Y: p.D2.X, Z: p.D3.X},
		{X: p.D1.Y, Y: p.D2.Y, Z: p.D3.Y},
		{X: p.D1.Z, Y: p.D2.Z, Z: p.D3.Z},
	}
	unit := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	for j := range 3 {
		var arm r3.Vec
		subCross(&arm, &p.At, &unit[j])
		byForce := c.slope(st, &s.flex, axes[j], p.ToLocal(arm), r3.Vec{})
		motion.setColumn(j, p.motion(slope.apply(c.omega, byForce)))
		byMoment := c.slope(st, &s.flex, r3.Vec{}, axes[j], r3.Vec{})
		motion.setColumn(3+j, p.motion(slope.apply(c.omega, byMoment)))
	}
}

// motion turns a motion on the pose's own axes and place into one on global axes, its
// shift that of the point at the base.
func (p *Pose) motion(t twist) vec6 {
	turn := p.ToGlobal(t.ang)
	shift := r3.Add(p.ToGlobal(t.lin), r3.Cross(p.At, turn))
	return vec6{turn.X, turn.Y, turn.Z, shift.X, shift.Y, shift.Z}
}

func (m *mat6) setColumn(j int, v vec6) {
	for i := range m {
		m[i][j] = v[i]
	}
}
