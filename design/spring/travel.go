package spring

import (
	"math"

	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Travel is the planned way of the active slot: a shift, or a turn where it only turns.
type Travel struct {
	Turns bool
	Way   r3.Vec // of the slot's centre from start to end, mm, or a rotation vector, rad
	end   Seat
}

// Travel is the way on which the active slot is carried from Start to End.
func (s Spring) Travel() Travel {
	centre := func(seat Seat) r3.Vec { return s.Centre(seat.Pose(s.Heading)) }
	t := Travel{Way: r3.Sub(centre(s.End), centre(s.Start)), end: s.End}
	const leastMM = 1e-6 // rounding
	if turn := r3.Sub(s.End.Rotation, s.Start.Rotation); r3.Norm(t.Way) < leastMM {
		t.Turns, t.Way = r3.Norm(turn) > 0, turn
	}
	return t
}

// None tells that nothing moves.
func (t Travel) None() bool { return !(r3.Norm(t.Way) > 0) }

// Left is the travel left at a position: mm, or rad where the slot only turns.
func (t Travel) Left(p Position) float64 {
	if t.Turns {
		return r3.Norm(r3.Sub(t.end.Rotation, p.Seat.Rotation))
	}
	return p.TravelLeftMM
}

// Along is what a load does along the travel: N, or N·mm where the slot only turns.
func (t Travel) Along(l tooth.Load) float64 {
	if t.Turns {
		return r3.Dot(r3.Unit(t.Way), l.CoupleNMM)
	}
	return r3.Dot(r3.Unit(t.Way), l.ForceN)
}

// Component is that component of a load on the tooth which drives most of the travel, and
// the sign that it has where it pushes or turns the tooth the way of the travel.
func (t Travel) Component() (k tooth.Component, sign float64) {
	along := [3]float64{t.Way.X, t.Way.Y, t.Way.Z}
	most := 0
	for i, part := range along {
		if math.Abs(part) > math.Abs(along[most]) {
			most = i
		}
	}
	k = tooth.ForceX + tooth.Component(most)
	if t.Turns {
		k = tooth.CoupleX + tooth.Component(most)
	}
	return k, math.Copysign(1, along[most])
}
