package beam

import "gonum.org/v1/gonum/spatial/r3"

// End is the pose of the far end.
func (s *Solver) End() Pose { return s.toGlobal(s.end()) }

// Start is the pose of the wire's start: the base, turned where a slot lets it turn.
func (s *Solver) Start() Pose { return s.toGlobal(s.start) }

func (s *Solver) toGlobal(p Pose) Pose {
	p.At = r3.Add(p.At, s.base.At)
	return p
}

// EndLoad is what the hold puts on the far end of the rod, about that end, global axes.
func (s *Solver) EndLoad() Wrench {
	end := s.end()
	return Wrench{ForceN: s.force, MomentNMM: s.endMoment(&end)}
}

// BaseLoad is what the clamp puts on the first end of the rod, about that end, global axes.
func (s *Solver) BaseLoad() Wrench {
	return Wrench{ForceN: r3.Scale(-1, s.force), MomentNMM: r3.Scale(-1, s.moment)}
}

// Node is the state of the wire at the end of one integration step.
type Node struct {
	Piece     int // the piece before the node; 0 at the base
	ArcMM     float64
	Pose      Pose
	ForceN    r3.Vec // internal, on the section frame
	MomentNMM r3.Vec // internal, on the section frame
}

// Nodes is the number of nodes: one more than there are integration steps.
func (s *Solver) Nodes() int { return len(s.nodes) }

// AppendNodes appends the state at every node, the base first.
func (s *Solver) AppendNodes(nodes []Node) []Node {
	arcMM, piece := 0.0, 0
	for i := range s.nodes {
		if i > 0 {
			arcMM += s.steps[i-1].lengthMM
			piece = s.steps[i-1].piece
		}
		n, m := s.localLoad(&s.nodes[i])
		nodes = append(nodes, Node{Piece: piece, ArcMM: arcMM, Pose: s.toGlobal(s.nodes[i]), ForceN: n, MomentNMM: m})
	}
	return nodes
}
