package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/phrase"
	"springwright/export/sheet"
)

// ShortfallTexts says in English what a spring misses and exceeds, an item each, none where it
// meets its target or was never held against one: in the words of the trade where teeth are
// given, else by the axes of the mechanics.
func ShortfallTexts(teeth tooth.Pair, s spring.Spring) []string {
	return shortfallTexts(phrase.NewBook(phrase.English), teeth, s)
}

func shortfallTexts(words *phrase.Book, teeth tooth.Pair, s spring.Spring) []string {
	if s.Shortfall == nil || s.Shortfall.None() {
		return nil
	}
	var texts []string
	for _, m := range s.Shortfall.Misses {
		texts = append(texts, missText(words, teeth, s.Travel(), m))
	}
	for _, e := range s.Shortfall.Exceeded {
		texts = append(texts, excessText(words, e))
	}
	if s.Shortfall.Untold {
		texts = append(texts, words.Say("not all that it misses is said in its file"))
	}
	return texts
}

// missText is such as "intrusive force at the start: 0.240 N, asked 0.30 to 0.60 N". A value
// is never said with a minus: one of the other sense is named by its own.
func missText(words *phrase.Book, teeth tooth.Pair, way spring.Travel, m target.Miss) string {
	asked, got := m.Sense()
	name := words.Recognised(design.MissName(m, teeth, got))
	unit := m.Quantity.Unit()
	wanted := windowWords(words, m.Window, asked) + " " + unit
	if asked != got {
		wanted = words.Recognised(design.MissName(m, teeth, asked)) + ", " + wanted
	}
	value := missedNumber(m) + " " + unit
	switch {
	case m.AtStart:
		return words.Say("%s at the start: %s, asked %s", name, value, wanted)
	case m.Quantity == target.Rate || way.Turns || way.None():
		return words.Say("%s over the travel: %s, asked %s", name, value, wanted)
	}
	return words.Say("%s with %s of travel left: %s, asked %s", name, sheet.Number(m.TravelLeftMM, 2)+" mm", value, wanted)
}

// missedNumber is the size of a value with as many decimals as it takes to see that it is not
// what was asked.
func missedNumber(m target.Miss) string {
	decimals := 3
	if m.Quantity.Couple() || m.Quantity == target.MomentToForce {
		decimals = 2
	}
	const most = 6
	for ; decimals < most; decimals++ {
		scale := math.Pow(10, float64(decimals))
		if m.Window.Misses(math.Round(m.Value*scale)/scale) > 0 {
			break
		}
	}
	return sheet.Number(math.Abs(m.Value), decimals)
}

// windowWords is a window on the sense that is asked for, without its unit.
func windowWords(words *phrase.Book, w target.Window, sense float64) string {
	if sense < 0 {
		w.Min, w.Max = -w.Max, -w.Min
	}
	number := func(v float64) string { return strings.ReplaceAll(fmt.Sprintf("%.4g", v), "-", "−") }
	switch {
	case math.IsInf(w.Min, -1):
		return words.Say("at most %s", number(w.Max))
	case math.IsInf(w.Max, 1):
		return words.Say("at least %s", number(w.Min))
	case w.Min == -w.Max:
		return "±" + number(w.Max)
	}
	return words.Say("%s to %s", number(w.Min), number(w.Max))
}

// excessPhrases are in the order of design.Limit.
var excessPhrases = [...]string{
	"%s mm beyond the room in the mouth",
	"loop %s mm too wide",
	"loop %s mm too high for the fold of the cheek",
	"%s mm beyond the room mesially",
	"%s mm beyond the room distally",
	"%s mm too near the front of the active slot",
	"%s mm too far out on the biting side",
	"%s mm too far into the cheek",
	"the wire passes itself %s mm too closely",
	"the hook hangs %s mm too far from its place on the tooth",
	"the tooth is not brought along its planned travel: %s mm are left undone, or it is pushed the other way",
	"bends too many: %s",
	"stress %s of the yield stress above its limit",
}

func excessText(words *phrase.Book, e target.Excess) string {
	decimals := 2
	if e.Limit == target.BendsLimit {
		decimals = 0
	}
	for decimals < 6 && math.Round(e.Beyond*math.Pow(10, float64(decimals))) == 0 {
		decimals++
	}
	if e.Limit < 0 || int(e.Limit) >= len(excessPhrases) {
		e.Limit = target.OtherLimit
	}
	return words.Say(excessPhrases[e.Limit], sheet.Number(e.Beyond, decimals))
}

// finiteShortfall tells whether the numbers of what is missed can be printed.
func finiteShortfall(s *target.Shortfall) bool {
	if s == nil {
		return true
	}
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
	return !slices.ContainsFunc(s.Misses, func(m target.Miss) bool {
		return bad(m.Value) || bad(m.TravelLeftMM) || math.IsNaN(m.Window.Min) || math.IsNaN(m.Window.Max)
	}) && !slices.ContainsFunc(s.Exceeded, func(e target.Excess) bool { return bad(e.Beyond) })
}
