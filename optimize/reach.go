package optimize

import (
	"math"

	"springwright/design"
	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// reachTerm is a limit on how far a range of steps may reach along an axis, or on how far
// it may extend along it.
type reachTerm struct {
	position    int // −1 for the unloaded wire
	first, last int // steps
	axis        r3.Vec
	extent      bool
	limitMM     float64
	name        string
}

// reachTerms lists the limits on the wire's reach, unloaded and at both ends of the travel.
func reachTerms(c design.Case, pattern design.Pattern, spring design.Spring) []reachTerm {
	const cutEndMM = 1.5 // room to turn in the end of the wire (common practice)
	half, halfAcross := c.Wire.HeightMM()/2, c.Wire.DepthMM()/2
	last := len(pattern.Path) - 1
	towardsMesial := r3.Vec{X: c.Teeth.MesialSign()}
	towardsCheek := r3.Vec{Y: c.Teeth.BuccalSign()}
	var terms []reachTerm
	for _, position := range []int{-1, 0, c.Positions - 1} {
		centre := centreAt(spring, max(position, 0))
		goal := centreAt(spring, c.Positions-1)
		if position < 0 {
			centre = goal
		}
		add := func(name string, first, last int, axis r3.Vec, limitMM float64) {
			terms = append(terms, reachTerm{position, first, last, axis, false, r3.Dot(axis, centre) + limitMM - half, name})
		}
		terms = append(terms, reachTerm{
			position: position, first: pattern.LoopFirst, last: pattern.LoopLast, axis: r3.Vec{X: 1}, extent: true,
			limitMM: c.Limits.LoopWidthMM - 2*half, name: "loop width",
		})
		add("loop height", 0, last, r3.Vec{Z: 1}, c.Limits.LoopHeightMM+goal.Z-centre.Z)
		mesialMM, distalMM := c.Limits.RoomMesialMM, c.Limits.RoomDistalMM
		if pattern.BetweenSlots && towardsMesial.X < 0 {
			mesialMM = centre.X
		} else if pattern.BetweenSlots {
			distalMM = centre.X
		}
		add("room mesially", pattern.LoopFirst, pattern.LoopLast, towardsMesial, mesialMM)
		add("room distally", pattern.LoopFirst, pattern.LoopLast, r3.Scale(-1, towardsMesial), distalMM)
		if pattern.FrontLast > 0 {
			add("room in front of the active slot", pattern.FrontFirst, pattern.FrontLast, r3.Vec{X: 1}, -c.ActiveSlot.LengthMM/2-cutEndMM)
		}
		// These are measured from the slot that is nearer to what is in the way; the anchor
		// slot is at the origin.
		if reachMM := c.Limits.BitingReachMM; reachMM > 0 {
			down := r3.Vec{Z: -1}
			add(bitingName, 0, last, down, max(0, -r3.Dot(down, centre))+reachMM)
		}
		if bulgeMM := c.Limits.CheekBulgeMM; bulgeMM > 0 {
			terms = append(terms, reachTerm{
				position: position, first: 0, last: last, axis: towardsCheek,
				limitMM: max(0, r3.Dot(towardsCheek, centre)) + bulgeMM - halfAcross, name: cheekName,
			})
		}
	}
	return terms
}

const (
	bitingName = "clearance on the biting side"
	cheekName  = "bulge into the cheek"
)

func centreAt(s design.Spring, position int) r3.Vec {
	return s.Centre(s.SeatAt(position).Pose(s.Heading))
}

// spot is a point of the wire: the share of the way to a node from the one before it.
type spot struct {
	node    int
	share   float64
	reachMM float64 // along an axis
}

// reach returns how far the steps of a term reach along its axis, or how far they extend
// along it, and the spots that reach farthest and least far.
func (t reachTerm) reach(nodes []beam.Node) (reachMM float64, far, near spot) {
	far = spot{reachMM: math.Inf(-1)}
	near = spot{reachMM: math.Inf(1)}
	see := func(s spot) {
		if s.reachMM > far.reachMM {
			far = s
		}
		if s.reachMM < near.reachMM {
			near = s
		}
	}
	for i := 1; i < len(nodes); i++ {
		if nodes[i].Piece < t.first || nodes[i].Piece > t.last {
			continue
		}
		for _, s := range turningSpots(nodes, i, t.axis) {
			see(s)
		}
	}
	if t.extent {
		return far.reachMM - near.reachMM, far, near
	}
	return far.reachMM, far, near
}

// curve is the wire between two nodes, seen along an axis: the cubic through both with the
// wire's own tangents. Over an eighth of a circle it is 0.001 radii from the arc at most;
// the chord would be 0.08 radii away.
type curve struct{ from, leaves, to, arrives float64 }

func curveTo(nodes []beam.Node, i int, axis r3.Vec) curve {
	arcMM := nodes[i].ArcMM - nodes[i-1].ArcMM
	return curve{
		r3.Dot(axis, nodes[i-1].Pose.At), arcMM * r3.Dot(axis, nodes[i-1].Pose.D1),
		r3.Dot(axis, nodes[i].Pose.At), arcMM * r3.Dot(axis, nodes[i].Pose.D1),
	}
}

// at is the cubic Hermite interpolation.
func (c curve) at(u float64) float64 {
	v := 1 - u
	return v*v*(1+2*u)*c.from + v*v*u*c.leaves + u*u*(3-2*u)*c.to - u*u*v*c.arrives
}

// turningSpots lists where the wire between two nodes may reach farthest along an axis,
// one way or the other: both nodes, and where it turns in between.
func turningSpots(nodes []beam.Node, i int, axis r3.Vec) []spot {
	c := curveTo(nodes, i, axis)
	spots := make([]spot, 2, 4)
	spots[0], spots[1] = spot{i, 0, c.from}, spot{i, 1, c.to}
	// c.at′ = a u² + b u + leaves
	a := 6*(c.from-c.to) + 3*(c.leaves+c.arrives)
	b := -6*(c.from-c.to) - 4*c.leaves - 2*c.arrives
	inside := b*b - 4*a*c.leaves
	if inside <= 0 {
		return spots
	}
	q := -(b + math.Copysign(math.Sqrt(inside), b)) / 2
	for _, u := range [...]float64{q / a, c.leaves / q} {
		if u > 0 && u < 1 {
			spots = append(spots, spot{i, u, c.at(u)})
		}
	}
	return spots
}

// reachSlope is the change of a spot's reach by a unit of freedom j. Where the wire turns
// the spot's own move along the wire does not count, and at a node it does not move.
func (o *objective) reachSlope(s spot, axis r3.Vec, j int) float64 {
	before := o.solver.NodeSlope(s.node-1, j, &o.slopes[j])
	after := o.solver.NodeSlope(s.node, j, &o.slopes[j])
	from, to := &o.nodes[s.node-1], &o.nodes[s.node]
	arcMM := to.ArcMM - from.ArcMM
	longerMM := 0.0
	if o.parameters[j].Piece == to.Piece {
		longerMM = o.parameters[j].LengthMM / float64(partsOf(o.nodes, to.Piece))
	}
	tangent := func(n *beam.Node, turnRad r3.Vec) float64 {
		return r3.Dot(axis, r3.Add(r3.Scale(longerMM, n.Pose.D1), r3.Scale(arcMM, r3.Cross(turnRad, n.Pose.D1))))
	}
	return curve{
		r3.Dot(axis, before.ShiftMM), tangent(from, before.TurnRad),
		r3.Dot(axis, after.ShiftMM), tangent(to, after.TurnRad),
	}.at(s.share)
}

// partsOf is how many integration steps a piece is cut into.
func partsOf(nodes []beam.Node, piece int) int {
	parts := 0
	for _, n := range nodes[1:] {
		if n.Piece == piece {
			parts++
		}
	}
	return parts
}

func (o *objective) reachResiduals(w *rows, position int) {
	for _, term := range o.reaches {
		if term.position != position {
			continue
		}
		reachMM, far, near := term.reach(o.nodes)
		if !o.excess(w, reachMM-term.limitMM) {
			continue
		}
		for j := range w.slopes() {
			slope := o.reachSlope(far, term.axis, j)
			if term.extent {
				slope -= o.reachSlope(near, term.axis, j)
			}
			w.setLast(j, slope/slackMM)
		}
	}
}

// excess puts one row for a length beyond its limit, and tells whether it weighs. It begins
// to weigh a little before the limit, so that the search comes to rest on the allowed side.
func (o *objective) excess(w *rows, excessMM float64) bool {
	if math.IsInf(excessMM, -1) { // nothing is there to be limited
		w.put(0)
		return false
	}
	if excessMM > exactMM {
		o.worst = max(o.worst, 1+excessMM/slackMM)
	}
	return w.putLimit((excessMM+marginMM)/slackMM, (exactMM+marginMM)/slackMM, 1)
}

// crowded tells whether any limit on the unloaded wire weighs: if none does, nobody asks
// how its nodes move.
func (o *objective) crowded() bool {
	for _, term := range o.reaches {
		if reachMM, _, _ := term.reach(o.nodes); term.position < 0 && reachMM-term.limitMM > -marginMM {
			return true
		}
	}
	return o.gap.nearest(o.nodes).excessMM > -marginMM
}
