package optimize

import (
	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// A case on the other side of the mouth is to get the mirrored spring. The mechanics sees to
// that, but random numbers, steps of differences and ties have a hand: they would lead a
// search on one side elsewhere than on the other. So the search itself runs in one hand,
// that of design.Case.Hand above 0, and what it finds for the other is mirrored.

// onOtherSide tells whether a case is searched in the mirror.
func onOtherSide(c design.Case) bool { return c.Hand() < 0 }

// findInOneHand is find in the hand of all searches, in the numbers of the searcher's own
// pattern.
func (s *searcher) findInOneHand(o Options) (found, error) {
	if !onOtherSide(s.c) {
		return s.find()
	}
	twin := newSearcher(s.ctx, s.c.Mirrored(), s.pattern.Mirrored(), o)
	f, err := twin.find()
	if err != nil {
		return found{}, err
	}
	for i := range s.workers {
		s.workers[i].count, s.sketch[i].count = twin.workers[i].count, twin.sketch[i].count
	}
	for _, c := range []*candidate{&f.free, &f.chosen} {
		c.x = s.pattern.MirroredValues(c.x)
	}
	for i := range f.settled {
		f.settled[i].x = s.pattern.MirroredValues(f.settled[i].x)
	}
	return f, nil
}

// mirrorSources turns the errors round that change their sign in the mirror, so that the
// same random numbers bend a spring and its twin with errors that mirror each other.
func (h *hand) mirrorSources() {
	for i := range h.sources {
		s := &h.sources[i]
		var turned bool
		switch s.kind {
		case stiffnessSource:
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
	k, _, ok := t.h.terms[term].quantity.Component()
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
