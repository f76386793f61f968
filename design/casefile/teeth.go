package casefile

import (
	"fmt"
	"math"

	"springwright/design"
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
	e := s.ask(key)
	if e == nil {
		s.missing(key, "give the tooth's two-digit number of ISO 3950; "+design.AllowedTeeth)
		return 0, false
	}
	return s.toothAt(e.value, join(s.path, key))
}

// toothAt reads a tooth's number.
func (r *reader) toothAt(n *node, path string) (tooth.Number, bool) {
	switch {
	case n.kind != number:
		r.wrongKind(n, path, "a tooth number", "write it without quotes; "+design.AllowedTeeth)
	case math.IsNaN(n.value): // the document has already said so
	case !n.whole || math.Abs(n.value) > 99 || !tooth.Number(n.value).Valid():
		r.report(n.at, path, shorten(n.text)+" is no permanent tooth, "+design.AllowedTeeth, design.TeethHint)
	default:
		return tooth.Number(n.value), true
	}
	return 0, false
}
