package hand

import (
	"springwright/design/spring"
	"springwright/design/tooth"
)

// mirrorSources turns the errors round that change their sign in the mirror, so that the
// same random numbers bend a spring and its twin with errors that mirror each other.
func (h *Hand) mirrorSources() {
	for i := range h.sources {
		s := &h.sources[i]
		var turned bool
		switch s.kind {
		case stiffnessSource, gaugeSource:
		case slotPlaceSource, slotTurnSource, readingSource:
			turned = s.along().Chiral()
		case stepSource:
			turned = h.path[s.index].Chiral()
		}
		if turned {
			s.sd = -s.sd
		}
	}
}

// along is the direction of an error of a place or a turn: a force along x stands for x, a
// couple about x for a turn about it.
func (s source) along() tooth.Component {
	if s.kind == slotTurnSource {
		return tooth.CoupleX + tooth.Component(s.index)
	}
	return tooth.Component(s.index)
}

// judgedBand is the band of a term. A quantile between two springs leans to one of them, so
// that it is taken in the hand of all searches too.
func (t *trials) judgedBand(term int) spring.Band {
	values := t.judged[term]
	k, _, ok := t.h.terms[term].Quantity.Component()
	if !t.h.mirrored || !ok || !k.Chiral() {
		return t.band(values)
	}
	negative := make([]float64, len(values))
	for i, v := range values {
		negative[i] = 0 - v
	}
	b := t.band(negative)
	return spring.Band{Low: 0 - b.High, Median: 0 - b.Median, High: 0 - b.Low}
}
