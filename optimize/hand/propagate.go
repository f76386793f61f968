package hand

import (
	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// Linear is the model about the hand's design, from its exact slopes at every position, its contacts in
// the slots kept. It reports false where the spring cannot be seated or has no slopes.
func (h *Hand) Linear() (Linear, bool) {
	path, err := solve.NewSeatedPath(h.spring, Accuracy)
	if err != nil {
		return Linear{}, false
	}
	return h.propagate(path)
}

func (h *Hand) propagate(p *solve.SeatedPath) (Linear, bool) {
	p.Wary = true
	path := h.spring.Path
	parameters := pathParameters(path)
	slopes := make([]beam.Slope, len(parameters))
	p.SetPath(path)
	g := h.NewPropagation()
	for i, seat := range h.seats {
		if p.FollowPose(seat) != nil || !p.Slopes(parameters, slopes) {
			return Linear{}, false
		}
		if !g.At(i, p, func(step int) *beam.Slope { return &slopes[step] }) {
			return Linear{}, false
		}
	}
	return g.Linear(), true
}

// Propagation puts a linear model together, position by position, while somebody solves the hand's
// design over its travel.
type Propagation struct {
	h            *Hand
	linear       Linear
	next         int   // term
	first        loads // at the first position
	firstChanges []loads
	changes      []loads
}

// NewPropagation begins the model of a hand's design.
func (h *Hand) NewPropagation() *Propagation {
	return &Propagation{
		h: h, linear: Linear{Terms: h.terms, sources: h.sources},
		firstChanges: make([]loads, len(h.sources)), changes: make([]loads, len(h.sources)),
	}
}

// At takes up position i, the first one first, from a path that has been followed there and asked
// for its slopes; slope is that by a mm or rad of a step of the design's path. It reports false where
// there are none by the place of the slot.
func (g *Propagation) At(i int, p *solve.SeatedPath, slope func(step int) *beam.Slope) bool {
	h := g.h
	activeBySeat, anchorBySeat, ok := p.SeatSlopes()
	if !ok {
		return false
	}
	bySeat := func(k int) loads { return loads{activeBySeat[k], anchorBySeat[k]} }
	now := loadsAfter(p.Loads())
	for j, s := range h.sources {
		switch s.kind {
		case stiffnessSource:
			g.changes[j] = now // loads in prescribed seats are proportional to the moduli
		case slotPlaceSource:
			g.changes[j] = bySeat(s.index)
		case slotTurnSource:
			g.changes[j] = bySeat(turns + s.index)
		case readingSource: // works through the steps, below
		case stepSource:
			g.changes[j] = loadsAfter(p.LoadSlopes(slope(s.index)))
		}
	}
	if i == 0 {
		g.first = now
		copy(g.firstChanges, g.changes)
	}
	judged := h.judge.At(i, now.active, now.anchor, g.first.active)
	for ; g.next < len(h.terms) && h.terms[g.next].Position == i; g.next++ {
		term := h.terms[g.next]
		change := make([]float64, len(h.sources))
		for j, s := range h.sources {
			by := h.judge.At(i, g.changes[j].active, g.changes[j].anchor, g.firstChanges[j].active)
			change[j] = s.sd * h.target.Slope(term.Quantity, judged, by)
		}
		if h.check != nil {
			for k, slope := range h.check.passOn(change[h.steps:]) {
				at := h.steps - readDirections + k
				change[at] = h.sources[at].sd * slope
			}
		}
		g.linear.Values = append(g.linear.Values, h.target.Value(term.Quantity, judged))
		g.linear.Changes = append(g.linear.Changes, change)
	}
	return true
}

// Linear is the model, once every position has been taken up.
func (g *Propagation) Linear() Linear { return g.linear }

// pathParameters is what a mm of every straight and a rad of every bend and twist does.
func pathParameters(path spring.Path) []beam.Parameter {
	all := spring.Pattern{Steps: path.Steps()}
	for i, step := range all.Steps {
		all.Freedoms = append(all.Freedoms, spring.Freedom{Step: i, Angle: step.Kind != spring.Straight})
	}
	return all.Parameters(all.Steps)
}

// turns is the first of the turns among the moves of a seat.
const turns = 3

// loads are those on both teeth, or their change, couples about the slots' centres.
type loads struct{ active, anchor tooth.Load }

func loadsAfter(active, anchor tooth.Load) loads { return loads{active, anchor} }
