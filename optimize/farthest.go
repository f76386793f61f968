package optimize

import (
	"math"
	"slices"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

// spot is a point of the wire: the share of the way to a node from the one before it.
type spot struct {
	node    int
	share   float64
	reachMM float64 // along an axis
}

// rivals is how many spots of a wire are looked at that may reach farthest. With one alone
// a loop's top that tilts to one side and to the other would put a kink into the search's
// landscape, at the very place where it is level and the best designs are; on a kink the
// search would come to rest anywhere. A T has four corners to reach with (its shape; TestLimitsMakeNoKinks fails with one).
const rivals = 4

// farthest returns the spots of a range of steps that reach farthest along an axis, at most
// one of each step, in the order of the steps. Where a straight ends at a bend of the range
// the spot is the bend's.
func (t reachTerm) farthest(nodes []beam.Node, axis r3.Vec) []spot {
	kept := make([]spot, 0, rivals+1)
	top := spot{reachMM: math.Inf(-1)}
	isBend := func(step int) bool { return t.first <= step && step <= t.last && !t.straights[step] }
	for i := 1; i < len(nodes); i++ {
		step := nodes[i].Piece
		if step < t.first || step > t.last {
			continue
		}
		last := i+1 == len(nodes) || nodes[i+1].Piece != step
		spots, count := turningSpots(nodes, i, axis)
		for _, s := range spots[:count] {
			atBend := s.share == 0 && isBend(nodes[i-1].Piece) || s.share == 1 && last && i+1 < len(nodes) && isBend(nodes[i+1].Piece)
			if s.reachMM > top.reachMM && (isBend(step) || !atBend) {
				top = s
			}
		}
		if last {
			kept = keepMost(kept, top, rivals, func(s spot) float64 { return s.reachMM })
			top = spot{reachMM: math.Inf(-1)}
		}
	}
	return kept
}

// keepMost adds a thing to those that are kept, and drops the one with the least size if
// there are more than most then. Their order stays.
func keepMost[T any](kept []T, one T, most int, size func(T) float64) []T {
	if math.IsInf(size(one), -1) {
		return kept
	}
	kept = append(kept, one)
	if len(kept) <= most {
		return kept
	}
	least := 0
	for i := range kept {
		if size(kept[i]) < size(kept[least]) {
			least = i
		}
	}
	return slices.Delete(kept, least, least+1)
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
// one way or the other: both nodes, and where it turns in between. They are the first count
// of the spots.
func turningSpots(nodes []beam.Node, i int, axis r3.Vec) (spots [4]spot, count int) {
	c := curveTo(nodes, i, axis)
	spots[0], spots[1] = spot{i, 0, c.from}, spot{i, 1, c.to}
	// c.at′ = a u² + b u + leaves
	a := 6*(c.from-c.to) + 3*(c.leaves+c.arrives)
	b := -6*(c.from-c.to) - 4*c.leaves - 2*c.arrives
	inside := b*b - 4*a*c.leaves
	if inside <= 0 {
		return spots, 2
	}
	q := -(b + math.Copysign(math.Sqrt(inside), b)) / 2
	count = 2
	for _, u := range [...]float64{q / a, c.leaves / q} {
		if u > 0 && u < 1 {
			spots[count] = spot{i, u, c.at(u)}
			count++
		}
	}
	return spots, count
}
