package casefile

import (
	"fmt"

	"springwright/design"
	"springwright/design/tooth"
)

var holdRatioSpan = span{unit: plain, low: design.LeastHoldRatio, high: design.MostHoldRatio}

// readAnchorage reads the table [anchor]: what holds the anchor tooth against moving. Left out, it
// stands alone and holds by the surface of its root.
func (c *caseReader) readAnchorage() design.Anchorage {
	t := c.table("anchor")
	defer t.close()
	var a design.Anchorage
	places := map[string]place{}
	a.Joined = t.joined(places)
	if t.has("held") {
		word, _ := t.word("held", design.AnchorHoldWords()...)
		a.Held, _ = design.ParseAnchorHold(word)
	}
	a.HoldRatio = t.optional("hold_ratio", holdRatioSpan, 0)
	for _, key := range [...]string{"held", "hold_ratio"} {
		if e := t.peek(key); e != nil {
			places[join(t.path, key)] = e.value.at
		}
	}
	if c.teethKnown {
		for _, f := range a.Faults(c.teeth) {
			t.report(places[f.Key], f.Key, f.Text, f.Hint)
		}
	}
	return a
}

// joined reads the teeth that are tied to the anchor tooth, and where each of them stands in the
// file. One that is no tooth is 0, and told.
func (s *section) joined(places map[string]place) []tooth.Number {
	const key = "joined"
	e := s.ask(key)
	switch {
	case e == nil:
		return nil
	case e.value.kind != array:
		s.wrongKind(e.value, join(s.path, key), "an array", "write the two-digit numbers of ISO 3950 in brackets, such as [35, 34]")
		return nil
	}
	var list []tooth.Number
	for i, item := range e.value.items {
		path := fmt.Sprintf("%s[%d]", join(s.path, key), i+1)
		places[path] = item.at
		n, _ := s.toothAt(item, path)
		list = append(list, n)
	}
	return list
}
