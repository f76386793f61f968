package optimize

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/target"

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
	limit       target.Limit
	straights   []bool // of every step: whether it is straight
}

// reachTerms lists the limits on the wire's reach, unloaded and at both ends of the travel.
func reachTerms(c design.Case, pattern spring.Pattern, s spring.Spring) []reachTerm {
	const cutEndMM = 1.5 // room to turn in the end of the wire (common practice)
	half, halfAcross := c.Wire.HeightMM()/2, c.Wire.DepthMM()/2
	last := len(pattern.Steps) - 1
	towardsMesial := r3.Vec{X: c.Teeth.MesialSign()}
	towardsCheek := r3.Vec{Y: c.Teeth.BuccalSign()}
	straights := make([]bool, len(pattern.Steps))
	for i, step := range pattern.Steps {
		straights[i] = step.Kind == spring.Straight
	}
	var terms []reachTerm
	for _, position := range []int{-1, 0, c.Positions - 1} {
		centre := centreAt(s, max(position, 0))
		goal := centreAt(s, c.Positions-1)
		if position < 0 {
			centre = goal
		}
		add := func(limit target.Limit, first, last int, axis r3.Vec, limitMM float64) {
			terms = append(terms, reachTerm{position, first, last, axis, false, r3.Dot(axis, centre) + limitMM - half, limit, straights})
		}
		terms = append(terms, reachTerm{
			position: position, first: pattern.LoopFirst, last: pattern.LoopLast, axis: r3.Vec{X: 1}, extent: true,
			limitMM: c.Limits.LoopWidthMM - 2*half, limit: target.LoopWidthLimit, straights: straights,
		})
		add(target.FoldLimit, 0, last, r3.Vec{Z: 1}, c.Limits.LoopHeightMM+goal.Z-centre.Z)
		mesialMM, distalMM := c.Limits.RoomMesialMM, c.Limits.RoomDistalMM
		if pattern.BetweenSlots && towardsMesial.X < 0 {
			mesialMM = min(mesialMM, centre.X)
		} else if pattern.BetweenSlots {
			distalMM = min(distalMM, centre.X)
		}
		add(target.RoomMesialLimit, pattern.LoopFirst, pattern.LoopLast, towardsMesial, mesialMM)
		add(target.RoomDistalLimit, pattern.LoopFirst, pattern.LoopLast, r3.Scale(-1, towardsMesial), distalMM)
		if pattern.FrontLast > 0 {
			add(target.ActiveFrontLimit, pattern.FrontFirst, pattern.FrontLast, r3.Vec{X: 1}, -c.ActiveSlot.LengthMM/2-cutEndMM)
		}
		// These are measured from the slot that is nearer to what is in the way; the anchor
		// slot is at the origin.
		if reachMM := c.Limits.BitingReachMM; reachMM > 0 {
			down := r3.Vec{Z: -1}
			add(target.BitingLimit, 0, last, down, max(0, -r3.Dot(down, centre))+reachMM)
		}
		if bulgeMM := c.Limits.CheekBulgeMM; bulgeMM > 0 {
			terms = append(terms, reachTerm{
				position: position, first: 0, last: last, axis: towardsCheek,
				limitMM: max(0, r3.Dot(towardsCheek, centre)) + bulgeMM - halfAcross, limit: target.CheekLimit, straights: straights,
			})
		}
	}
	// As drawn: a flat loop that is free to roll in its slots may lean to either side when it is seated.
	towardsTongue := r3.Scale(-1, towardsCheek)
	terms = append(terms, reachTerm{
		position: -1, first: 0, last: last, axis: towardsTongue,
		limitMM: max(0, r3.Dot(towardsTongue, centreAt(s, c.Positions-1)), r3.Dot(towardsTongue, centreAt(s, 0))) + c.Limits.ReachToTongueMM() - halfAcross,
		limit:   target.TongueLimit, straights: straights,
	})
	return terms
}

func centreAt(s spring.Spring, position int) r3.Vec {
	return s.Centre(s.SeatAt(position).Pose(s.Heading))
}

// reachSlope is the change of a spot's reach by a unit of freedom j. Where the wire turns
// the spot's own move along the wire does not count, and at a node it does not move.
func (o *objective) reachSlope(s spot, axis r3.Vec, j int) float64 {
	before := o.nodeSlope(s.node-1, j)
	after := o.nodeSlope(s.node, j)
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

// reach is how far the steps of a term reach along its axis, or how far they extend along
// it; −Inf where there are none.
func (t reachTerm) reach(nodes []beam.Node) float64 {
	most := math.Inf(-1)
	t.each(nodes, func(reachMM float64, _, _ spot) { most = max(most, reachMM) })
	return most
}

// each goes through what may be the term's reach: the spots that reach farthest, or, for an
// extent, these with every one of those that reach least far.
func (t reachTerm) each(nodes []beam.Node, see func(reachMM float64, far, near spot)) {
	if !t.extent {
		for _, far := range t.farthest(nodes, t.axis) {
			see(far.reachMM, far, spot{})
		}
		return
	}
	back := t.farthest(nodes, r3.Scale(-1, t.axis))
	for _, far := range t.farthest(nodes, t.axis) {
		for _, near := range back {
			see(far.reachMM+near.reachMM, far, near)
		}
	}
}

// rows is how many residuals a term has at most.
func (t reachTerm) rows() int {
	if t.extent {
		return rivals * rivals
	}
	return rivals
}

// putReaches puts the rows of the limits on the wire's reach at a position.
func (o *objective) putReaches(r *rows, position int) {
	for _, term := range o.reaches {
		if term.position != position {
			continue
		}
		end := r.next + term.rows()
		term.each(o.nodes, func(reachMM float64, far, near spot) {
			if !putExcess(r, reachMM-term.limitMM) {
				return
			}
			r.setSlopes(func(j int) float64 {
				slope := o.reachSlope(far, term.axis, j)
				if term.extent {
					slope -= o.reachSlope(near, term.axis, j)
				}
				return slope / slackMM
			})
		})
		r.skipTo(end)
	}
}

const (
	// A limit passed by slackMM costs as much as an aimed load at the edge of its tolerance, and
	// limits begin to weigh marginMM before they are reached, so that the search comes to rest on
	// the allowed side: a fifth of what a hand can be asked for on a length (choice).
	slackMM  = 0.1
	marginMM = 0.1
	exactMM  = 1e-6 // rounding of the arithmetic
)

// putExcess puts the row of a length beyond its limit, and tells whether its slopes are wanted.
func putExcess(r *rows, excessMM float64) bool {
	return r.put(kind{part: limits, edge: (exactMM + marginMM) / slackMM, scale: 1}, (excessMM+marginMM)/slackMM)
}
