package hand

import (
	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
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
	drawn        *drawn
}

// NewPropagation begins the model of a hand's design.
func (h *Hand) NewPropagation() *Propagation {
	return &Propagation{
		h: h, linear: Linear{Terms: h.terms, sources: h.sources},
		firstChanges: make([]loads, len(h.sources)), changes: make([]loads, len(h.sources)),
		drawn: h.drawnMore(),
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
	byPull, ok := g.drawn.slope(now, h.seats[i])
	if !ok {
		return false
	}
	for j, s := range h.sources {
		switch s.kind {
		case stiffnessSource:
			// Loads in prescribed seats are proportional to the moduli, but for what is drawn to a force.
			g.changes[j] = now.plus(-h.spring.DrawnToN, byPull)
		case gaugeSource:
			g.changes[j] = byPull
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

func (l loads) times(by float64) loads { return loads{scaled(l.active, by), scaled(l.anchor, by)} }

// plus is l with a share of another one added.
func (l loads) plus(share float64, other loads) loads {
	sum := func(a, b tooth.Load) tooth.Load {
		return tooth.Load{ForceN: r3.Add(a.ForceN, r3.Scale(share, b.ForceN)), CoupleNMM: r3.Add(a.CoupleNMM, r3.Scale(share, b.CoupleNMM))}
	}
	return loads{sum(l.active, other.active), sum(l.anchor, other.anchor)}
}

// drawn is the same wire drawn to a little more force; nil where it is not drawn.
type drawn struct {
	path  *solve.SeatedPath
	moreN float64
}

// drawnStep is by how much more, as a share: loads change nearly in proportion to it, so that their
// slopes are good to about as much.
const drawnStep = 1e-3

func (h *Hand) drawnMore() *drawn {
	if h.spring.DrawnToN == 0 {
		return nil
	}
	d := &drawn{moreN: drawnStep * h.spring.DrawnToN}
	var err error
	if d.path, err = solve.NewSeatedPath(h.spring, Accuracy); err != nil {
		return &drawn{} // as for the path beside it, which tells
	}
	d.path.Wary = true
	d.path.DrawTo(h.spring.DrawnToN + d.moreN)
	return d
}

// slope is how the loads at a seat change by a N more, which are now those of the wire as it is drawn.
func (d *drawn) slope(now loads, seat beam.Pose) (loads, bool) {
	if d == nil {
		return loads{}, true
	}
	if d.path == nil || d.path.FollowPose(seat) != nil {
		return loads{}, false
	}
	return loadsAfter(d.path.Loads()).plus(-1, now).times(1 / d.moreN), true
}
