// Package label finds places for labels beside a drawing, so that no label touches a
// line, another label or another label's leader. It is greedy and deterministic: labels
// get their places in the order in which they are asked for.
package label

import (
	"cmp"
	"math"
	"slices"

	"springwright/export/plane"
)

// Board is the free space that labels may use. The zero value has no room at all.
type Board struct {
	Bounds plane.Box
	// ClearMM is kept between a label and everything else.
	ClearMM float64

	lines   []line
	boxes   []plane.Box
	leaders []plane.Segment
	tries   []try
	far     []try
}

type line struct {
	segment plane.Segment
	halfMM  float64
}

// Label asks for a place.
type Label struct {
	Anchors  []Anchor // at least one; the best first
	WidthMM  float64
	HeightMM float64
	GapMM    float64 // between the anchor and the label, at least
}

// Anchor is a place that a label may point to.
type Anchor struct {
	At     plane.Point
	Away   plane.Point // where the label would best go, as seen from At
	CostMM float64     // how much farther a better anchor's label may be
}

// Place is where a label goes.
type Place struct {
	Box    plane.Box
	Leader plane.Segment // from what is labelled to the label
}

const (
	ringMM      = 0.6  // between the distances that are tried
	rings       = 40   // so up to 24 mm away
	farRings    = 150  // up to 90 mm where there is no place nearer
	rays        = 24   // every 15°
	perRad      = 1.5  // what turning away from Away costs, mm
	perCrossing = 12.0 // what a leader across a line costs, mm
)

// Block keeps labels off a line through points, halfMM wide to each side.
func (b *Board) Block(points []plane.Point, halfMM float64) {
	for _, s := range plane.Segments(points) {
		b.lines = append(b.lines, line{s, halfMM})
	}
}

// try is a way to go from an anchor: rays turned away from the best direction, and rings
// farther out.
type try struct {
	turnRad, offMM, costMM float64
}

// tries returns all ways to go over some rings, cheapest first.
func tries(first, last int) []try {
	all := make([]try, 0, rays*(last-first))
	for ray := range rays {
		// 0, +1, −1, +2, −2 … steps to the left
		turn := float64((ray+1)/2) * 2 * math.Pi / rays
		if ray%2 == 0 {
			turn = -turn
		}
		for ring := first; ring < last; ring++ {
			off := float64(ring) * ringMM
			all = append(all, try{turn, off, off + perRad*math.Abs(turn)})
		}
	}
	slices.SortStableFunc(all, func(p, q try) int { return cmp.Compare(p.costMM, q.costMM) })
	return all
}

// Copy returns a board that is as free as this one.
func (b *Board) Copy() *Board {
	c := *b
	c.boxes, c.leaders = slices.Clone(b.boxes), slices.Clone(b.leaders)
	return &c
}

// Spot takes free space of a size wherever there is some, as low as there is. It is false
// where there is none.
func (b *Board) Spot(widthMM, heightMM float64) (plane.Box, bool) {
	for y := b.Bounds.Min.Y; y+heightMM <= b.Bounds.Max.Y; y += ringMM {
		for x := b.Bounds.Min.X; x+widthMM <= b.Bounds.Max.X; x += ringMM {
			box := plane.Box{Min: plane.Point{X: x, Y: y}, Max: plane.Point{X: x + widthMM, Y: y + heightMM}}
			if b.free(Place{Box: box, Leader: plane.Segment{A: box.Centre(), B: box.Centre()}}) {
				b.boxes = append(b.boxes, box)
				return box, true
			}
		}
	}
	return plane.Box{}, false
}

// Put finds the best place for a label and takes it. It is false where there is none.
func (b *Board) Put(l Label) (Place, bool) {
	if b.tries == nil {
		b.tries = tries(0, rings)
	}
	best, found := b.best(l, b.tries)
	if !found {
		if b.far == nil {
			b.far = tries(rings, farRings)
		}
		if best, found = b.best(l, b.far); !found {
			return Place{}, false
		}
	}
	b.boxes = append(b.boxes, best.Box)
	b.leaders = append(b.leaders, best.Leader)
	return best, true
}

// best is the cheapest free place of those that are tried.
func (b *Board) best(l Label, tries []try) (best Place, found bool) {
	lowest := math.Inf(1)
	for _, anchor := range l.Anchors {
		away := anchor.Away.Unit()
		if away == (plane.Point{}) {
			away = plane.Point{Y: 1}
		}
		for _, t := range tries {
			cost := anchor.CostMM + t.costMM
			if cost >= lowest {
				break
			}
			direction := away.Turned(t.turnRad)
			support := min(
				l.WidthMM/2/max(math.Abs(direction.X), 1e-9),
				l.HeightMM/2/max(math.Abs(direction.Y), 1e-9))
			box := plane.BoxAt(anchor.At.Add(direction.Times(l.GapMM+t.offMM+support)), l.WidthMM, l.HeightMM)
			place := Place{box, plane.Segment{A: anchor.At, B: box.Nearest(anchor.At)}}
			if !b.free(place) {
				continue
			}
			if cost += perCrossing * float64(b.crossings(place.Leader)); cost < lowest {
				best, lowest = place, cost
			}
		}
	}
	return best, !math.IsInf(lowest, 1)
}

func (b *Board) free(p Place) bool {
	if !b.Bounds.Holds(p.Box) {
		return false
	}
	clear := p.Box.Grown(b.ClearMM)
	for _, box := range b.boxes {
		if clear.Overlaps(box) || box.Touches(p.Leader) {
			return false
		}
	}
	for _, leader := range b.leaders {
		if clear.Touches(leader) || leader.Crosses(p.Leader) {
			return false
		}
	}
	for _, l := range b.lines {
		if clear.Grown(l.halfMM).Touches(l.segment) {
			return false
		}
	}
	return true
}

// crossings counts the lines that a leader runs across; its first tenth of a millimetre
// does not count, it leaves the line that it belongs to.
func (b *Board) crossings(leader plane.Segment) int {
	step := leader.B.Sub(leader.A)
	if step.Norm() <= 0.1 {
		return 0
	}
	leader.A = leader.A.Add(step.Unit().Times(0.1))
	count := 0
	for _, l := range b.lines {
		if l.segment.Crosses(leader) {
			count++
		}
	}
	return count
}
