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
	l := Linear{Terms: h.terms, sources: h.sources}
	path := h.spring.Path
	parameters := pathParameters(path)
	slopes := make([]beam.Slope, len(parameters))
	p.SetPath(path)
	next := 0
	var first loads
	firstChanges := make([]loads, len(h.sources))
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
		changes := make([]loads, len(h.sources))
		for j, s := range h.sources {
			switch s.kind {
			case stiffnessSource:
				changes[j] = now // loads in prescribed seats are proportional to the moduli
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
