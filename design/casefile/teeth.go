package casefile

import (
	"fmt"
	"math"

	"springwright/design/tooth"
)

// pair reads the table [teeth]: the tooth to move and the one that the spring is held at. known
// is false where they cannot be told or do not stand in one quadrant.
func (s *section) pair() (pair tooth.Pair, known bool) {
	t := s.required("teeth", "add [teeth] with active and anchor, two-digit numbers of ISO 3950")
	defer t.close()
	active, activeKnown := t.tooth("active")
	anchor, anchorKnown := t.tooth("anchor")
	if !activeKnown || !anchorKnown {
		return tooth.Pair{}, false
	}
	pair = tooth.Pair{Anchor: anchor, Active: active}
	switch {
	case anchor == active:
		t.blame("anchor", fmt.Sprintf("%d is the active tooth, too", anchor), "name the tooth that the spring is held at")
	case !pair.SameQuadrant():
		t.blame("anchor", fmt.Sprintf("%d is %s and the active tooth %d %s", anchor, anchor.QuadrantName(), active, active.QuadrantName()),
			"both teeth must stand in one quadrant")
	default:
		return pair, true
	}
	return pair, false
}

func (s *section) tooth(key string) (n tooth.Number, known bool) {
	const allowed = "allowed are 11–18, 21–28, 31–38 and 41–48"
	e := s.ask(key)
	switch {
	case e == nil:
		s.missing(key, "give the tooth's two-digit number of ISO 3950; "+allowed)
	case e.value.kind != number:
		s.wrongKind(e.value, join(s.path, key), "a tooth number", "write it without quotes; "+allowed)
	case math.IsNaN(e.value.value): // the document has already said so
	case !e.value.whole || math.Abs(e.value.value) > 99 || !tooth.Number(e.value.value).Valid():
		s.blame(key, shorten(e.value.text)+" is no permanent tooth, "+allowed, "use the two-digit numbers of ISO 3950: quadrant, then place from the midline")
	default:
		return tooth.Number(e.value.value), true
	}
	return 0, false
}
