package casefile

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design/notice"
	"springwright/design/quantity"
	"springwright/design/target"
	"springwright/design/tooth"
)

// The keys by which a file says that a spring does not meet the target it was designed for:
// met = false, misses with a window each, exceeded with a limit each.

const (
	mostShortfalls    = 100
	resistanceName    = "centre of resistance"
	ratioName         = "moment-to-force ratio"
	rateName          = "load-deflection rate"
	largestMiss       = 1e6  // of any unit: what a wire of a mouth can come to and far more
	largestTravelMM   = 1000 // longer than any that a file can hold
	metFromFile       = "is not taken from a file: whether a spring meets a target only a design can tell"
	metFromFileHint   = "leave met out; false, with misses and exceeded, keeps the warning with the spring"
	shortfallNeedsMet = "is given without met = false"
)

// quantityName is what a quantity is called in a file, such as "active force z".
func quantityName(q target.Quantity) string {
	k, anchor, ok := q.Component()
	switch {
	case q == target.MomentToForce:
		return ratioName
	case !ok:
		return rateName
	}
	if anchor {
		return "anchor " + k.String()
	}
	return "active " + k.String()
}

// quantityNames lists the names of all quantities, in their order.
func quantityNames() []string {
	var names []string
	for q := range target.Quantities {
		names = append(names, quantityName(q))
	}
	return names
}

// unitOf is the unit of a quantity's values and how it ends a key.
func unitOf(q target.Quantity) (u quantity.Unit, suffix string) {
	switch k, _, ok := q.Component(); {
	case q == target.MomentToForce:
		return quantity.Millimetre, "_mm"
	case !ok:
		return plain, "_n_per_mm"
	case k >= tooth.CoupleX:
		return quantity.NewtonMillimetre, "_nmm"
	}
	return quantity.Newton, "_n"
}

// beyondOf is how far a limit is passed: the key, and the unit of its value.
func beyondOf(l target.Limit) (key string, u quantity.Unit) {
	switch l {
	case target.BendsLimit:
		return "beyond_bends", plain
	case target.StressLimit:
		return "beyond_share", plain
	case target.AnchorTipLimit:
		return "beyond_deg", quantity.Degree
	}
	return "beyond_mm", quantity.Millimetre
}

// pair is a key with its value as TOML and JSON both write it.
type pair struct{ key, value string }

// missPairs are the keys of a miss; an end of a window that is open is left out.
func missPairs(m target.Miss, format func(float64) string) []pair {
	_, suffix := unitOf(m.Quantity)
	pairs := []pair{{"quantity", fmt.Sprintf("%q", quantityName(m.Quantity))}, {"value" + suffix, format(m.Value)}}
	if !math.IsInf(m.Window.Min, 0) {
		pairs = append(pairs, pair{"min" + suffix, format(m.Window.Min)})
	}
	if !math.IsInf(m.Window.Max, 0) {
		pairs = append(pairs, pair{"max" + suffix, format(m.Window.Max)})
	}
	if m.AtStart {
		pairs = append(pairs, pair{"at_start", "true"})
	}
	pairs = append(pairs, pair{"travel_left_mm", format(m.TravelLeftMM)})
	if m.AtResistance {
		pairs = append(pairs, pair{"about", fmt.Sprintf("%q", resistanceName)})
	}
	return pairs
}

func excessPairs(e target.Excess, format func(float64) string) []pair {
	key, unit := beyondOf(e.Limit)
	return []pair{{"limit", fmt.Sprintf("%q", e.Limit)}, {key, format(unit.Outside(e.Beyond))}}
}

// writeShortfall writes the keys into a spring file; nothing where nothing is missed.
func writeShortfall(b *bytes.Buffer, s *target.Shortfall) {
	if s == nil || s.None() {
		return
	}
	b.WriteString("\n# As drawn, this spring does not meet the target it was designed for. Values are those on the\n" +
		"# teeth, on the axes of this file. Where the wire is changed, these keys are out of date.\nmet = false\n")
	list := func(key string, count int, pairs func(i int) []pair) {
		if count == 0 {
			return
		}
		fmt.Fprintf(b, "%s = [\n", key)
		for i := range count {
			var parts []string
			for _, p := range pairs(i) {
				parts = append(parts, p.key+" = "+p.value)
			}
			fmt.Fprintf(b, "  { %s },\n", strings.Join(parts, ", "))
		}
		b.WriteString("]\n")
	}
	list("misses", len(s.Misses), func(i int) []pair { return missPairs(s.Misses[i], quantity.Format) })
	list("exceeded", len(s.Exceeded), func(i int) []pair { return excessPairs(s.Exceeded[i], quantity.Format) })
}

// verdictJSON is the same keys in a record; none where nobody has held the spring against a target.
type verdictJSON struct {
	Met      *bool    `json:"met,omitempty"`
	Misses   []object `json:"misses,omitempty"`
	Exceeded []object `json:"exceeded,omitempty"`
}

// object is a JSON object of keys that depend on what it is about.
type object []pair

// MarshalJSON writes the keys in their order.
func (o object) MarshalJSON() ([]byte, error) {
	var parts []string
	for _, p := range o {
		parts = append(parts, fmt.Sprintf("%q:%s", p.key, p.value))
	}
	return []byte("{" + strings.Join(parts, ",") + "}"), nil
}

func (w *recordWriter) verdict(s *target.Shortfall) (out verdictJSON) {
	if s == nil {
		return out
	}
	met := s.None()
	out.Met = &met
	w.place = "verdict"
	format := func(v float64) string {
		text, _ := w.number("what is missed", v).MarshalJSON()
		return string(text)
	}
	for _, m := range s.Misses {
		out.Misses = append(out.Misses, missPairs(m, format))
	}
	for _, e := range s.Exceeded {
		out.Exceeded = append(out.Exceeded, excessPairs(e, format))
	}
	return out
}

// shortfall reads the keys of a spring file; nil where they are left out.
func (s *section) shortfall() *target.Shortfall {
	met := s.ask("met")
	misses := s.items("misses", `write misses = [ { quantity = "active force z", value_n = 0.2, min_n = 0.3 } ]`)
	exceeded := s.items("exceeded", `write exceeded = [ { limit = "loop width", beyond_mm = 0.4 } ]`)
	var short target.Shortfall
	for _, item := range misses {
		short.Misses = append(short.Misses, item.miss())
	}
	for _, item := range exceeded {
		short.Exceeded = append(short.Exceeded, item.excess())
	}
	switch {
	case met == nil:
		for _, key := range [...]string{"misses", "exceeded"} {
			if s.has(key) {
				s.blame(key, shortfallNeedsMet, "write met = false, or leave it out")
			}
		}
		return nil
	case met.value.kind != boolean:
		s.wrongKind(met.value, "met", "false", metFromFileHint)
		return nil
	case met.value.text == "true":
		s.blame("met", metFromFile, metFromFileHint)
		return nil
	}
	short.Untold = short.None()
	return &short
}

// items opens the tables of an array; none where it is left out or faulty.
func (s *section) items(key, hint string) []*section {
	e := s.ask(key)
	switch {
	case e == nil:
		return nil
	case e.value.kind != array:
		s.wrongKind(e.value, join(s.path, key), "an array", hint)
		return nil
	case len(e.value.items) > mostShortfalls:
		s.blame(key, fmt.Sprintf("has %d entries, more than the allowed %d", len(e.value.items), mostShortfalls), "keep the largest")
		return nil
	}
	var items []*section
	for i, n := range e.value.items {
		item := &section{reader: s.reader, path: fmt.Sprintf("%s[%d]", join(s.path, key), i+1), at: n.at, node: n}
		if n.kind != table {
			s.wrongKind(n, item.path, "a table in braces", hint)
			continue
		}
		items = append(items, item)
	}
	return items
}

// miss reads a window that is missed. Left out: an end of the window is open, at_start
// false, travel_left_mm 0, couples are about the slot's centre.
func (s *section) miss() target.Miss {
	m := target.Miss{Window: target.FreeWindow()}
	word, ok := s.word("quantity", quantityNames()...)
	if !ok {
		s.asked = append(s.asked, s.keys()...) // which keys belong here the quantity says
		return m
	}
	defer s.close()
	m.Quantity = target.Quantity(slices.Index(quantityNames(), word))
	unit, suffix := unitOf(m.Quantity)
	any := span{unit: unit, low: -largestMiss, high: largestMiss}
	m.Value = s.needed("value"+suffix, any, "say what came out, in "+strings.TrimSpace(m.Quantity.Unit()))
	if s.has("min" + suffix) {
		m.Window.Min = s.optional("min"+suffix, any, 0)
	}
	if s.has("max" + suffix) {
		m.Window.Max = s.optional("max"+suffix, any, 0)
	}
	m.AtStart = s.truth("at_start")
	m.TravelLeftMM = s.optional("travel_left_mm", span{unit: quantity.Millimetre, high: largestTravelMM}, 0)
	if s.has("about") {
		if _, ok := s.word("about", resistanceName); ok && !m.Quantity.Couple() {
			s.blame("about", "does not go with "+word, "only a couple is about a point: leave it out")
		}
		m.AtResistance = true
	}
	if m.Window.Min > m.Window.Max {
		s.blame("min"+suffix, "is above max"+suffix, "exchange the two")
	}
	if m.Window.Misses(m.Value) == 0 { // silent where a number is faulty: NaN
		s.blame("value"+suffix, "lies in its window, which is then not missed", "check value, min and max; leave out what is met")
	}
	return m
}

func (s *section) excess() target.Excess {
	var names []string
	for l := target.OtherLimit; l <= target.StressLimit; l++ {
		names = append(names, l.String())
	}
	word, ok := s.word("limit", names...)
	if !ok {
		s.asked = append(s.asked, s.keys()...)
		return target.Excess{}
	}
	defer s.close()
	var e target.Excess
	e.Limit, _ = notice.ParseLimit(word)
	key, unit := beyondOf(e.Limit)
	e.Beyond = s.needed(key, span{unit: unit, high: largestMiss, above: true}, "say how far beyond the limit it is")
	return e
}

// keys lists the keys of a table.
func (s *section) keys() []string {
	var keys []string
	for _, e := range s.node.entries {
		keys = append(keys, e.key)
	}
	return keys
}

// truth reads true or false; left out it is false.
func (s *section) truth(key string) bool {
	e := s.ask(key)
	if e == nil {
		return false
	}
	if e.value.kind != boolean {
		s.wrongKind(e.value, join(s.path, key), "true or false", "write true without quotes")
	}
	return e.value.text == "true"
}
