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
	l := Linear{Terms: h.terms, sources: h.sources}
	path := h.spring.Path
	parameters := pathParameters(path)
	slopes := make([]beam.Slope, len(parameters))
	p.SetPath(path)
	next := 0
	var first loads
	firstChanges := make([]loads, len(h.sources))
	drawn := h.drawnMore()
	for i, seat := range h.seats {
		if p.FollowPose(seat) != nil || !p.Slopes(parameters, slopes) {
			return Linear{}, false
		}
		activeBySeat, anchorBySeat, ok := p.SeatSlopes()
		if !ok {
			return Linear{}, false
		}
		bySeat := func(k int) loads { return loads{activeBySeat[k], anchorBySeat[k]} }
		now := loadsAfter(p.Loads())
		byPull, ok := drawn.slope(now, seat)
		if !ok {
			return Linear{}, false
		}
		changes := make([]loads, len(h.sources))
		for j, s := range h.sources {
			switch s.kind {
			case stiffnessSource:
				// Loads in prescribed seats are proportional to the moduli, but for what is drawn to a force.
				changes[j] = now.plus(-h.spring.DrawnToN, byPull)
			case gaugeSource:
				changes[j] = byPull
			case slotPlaceSource:
				changes[j] = bySeat(s.index)
			case slotTurnSource:
				changes[j] = bySeat(turns + s.index)
			case readingSource: // works through the steps, below
			case stepSource:
				changes[j] = loadsAfter(p.LoadSlopes(&slopes[s.index]))
			}
		}
		if i == 0 {
			first = now
			copy(firstChanges, changes)
		}
		judged := h.judge.At(i, now.active, now.anchor, first.active)
		for ; next < len(h.terms) && h.terms[next].Position == i; next++ {
			term := h.terms[next]
			change := make([]float64, len(h.sources))
			for j, s := range h.sources {
				by := h.judge.At(i, changes[j].active, changes[j].anchor, firstChanges[j].active)
				change[j] = s.sd * h.target.Slope(term.Quantity, judged, by)
			}
			if h.check != nil {
				for k, slope := range h.check.passOn(change[h.steps:]) {
					at := h.steps - readDirections + k
					change[at] = h.sources[at].sd * slope
				}
			}
			l.Values = append(l.Values, h.target.Value(term.Quantity, judged))
			l.Changes = append(l.Changes, change)
		}
	}
	return l, true
}

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
