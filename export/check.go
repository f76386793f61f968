package export

import (
	"fmt"
	"math"
	"strings"

	"springwright/design/target"
	"springwright/export/sheet"
)

// checkText is a check of the design in words.
type checkText struct {
	text string
	met  bool
}

// checkTexts says what a design was held against: every window of its target, the wire's stress,
// the room in the mouth and what pliers need. None where nobody has held it against a target.
func (f *flow) checkTexts() []checkText {
	verdict := f.job.Evaluation.Record.Verdict
	if verdict == nil {
		return nil
	}
	var list []checkText
	put := func(name, value, limit string, met bool) {
		text := capital(f.say("%s %s (limit %s).", name, value, limit))
		if !met {
			text = f.say("%s: %s %s (limit %s).", f.say("NOT MET"), name, value, limit)
		}
		list = append(list, checkText{text, met})
	}
	for _, v := range f.job.Case.Verdicts(f.job.Evaluation.Record) {
		name, value, limit := f.verdictWords(v)
		put(name, value, limit, v.Met)
	}
	stress, allowed := 0.0, f.job.Case.Limits.StressRatio()
	for _, p := range f.job.Evaluation.Record.Positions {
		stress = max(stress, p.StressRatio)
	}
	put(f.say("stress over yield"), f.say("at most %s", sheet.Number(stress, 2)), f.say("at most %s", sheet.Number(allowed, 2)), stress <= allowed)
	var beyond []string
	for _, e := range verdict.Exceeded {
		switch e.Limit {
		case target.StressLimit, target.TravelLimit, target.AnchorLossLimit, target.AnchorTipLimit: // no room
		default:
			beyond = append(beyond, excessText(f.words, e))
		}
	}
	value := f.say("kept")
	if len(beyond) > 0 {
		value = strings.Join(beyond, ", ")
	}
	put(f.say("room in the mouth"), value, f.say("as measured"), len(beyond) == 0)
	if value, met, ok := f.straightWords(); ok {
		put(f.say("straight between bends"), value, f.say("at least %s", millimetres(f.job.Case.Limits.ShortestStraightMM)+" mm"), met)
	}
	return list
}

// straightWords say the shortest straight between two bends or twists, and where one is
// shorter than pliers need. The search keeps that for the straights of a pattern, but bends
// out of its plane and twists are set as close to the others as they come. It is not ok where
// nothing is asked or there are no two bends.
func (f *flow) straightWords() (words string, met, ok bool) {
	if f.job.Case.Limits.ShortestStraightMM <= 0 || len(f.bends.Rows) < 2 {
		return "", false, false
	}
	shortest := math.Inf(1)
	var short []string
	for _, r := range f.bends.Rows[1:] {
		shortest = min(shortest, r.FeedMM)
		if f.short(r) {
			short = append(short, fmt.Sprint(r.Step))
		}
	}
	words = f.say("at least %s", millimetres(shortest)+" mm")
	if len(short) > 0 {
		words = f.say("down to %s mm; pliers cannot hold between the bends in front of bend %s", millimetres(shortest), strings.Join(short, ", "))
	}
	return words, len(short) == 0, true
}

// verdictWords are what a verdict is about, what came out and what was asked, no number below 0:
// a value of the other sense is said by its own word.
func (f *flow) verdictWords(v target.Verdict) (name, value, limit string) {
	const limitDecimals = 2
	decimals := decimalsOf(v.Quantity)
	unit := v.Quantity.Unit()
	k, anchor, ok := v.Quantity.Component()
	if !ok {
		name, _ = f.job.Case.Naming(v.Quantity)
		name = f.words.Recognised(name)
		limit = windowWords(f.words, v.Window, 1) + " " + unit
		value = sheet.Number(v.High, decimals) + " " + unit
		if v.Quantity != target.Rate {
			name = f.say("%s, over the travel", name)
			value = f.say("%s to %s", sheet.Number(v.Low, decimals), value)
		}
		return name, value, limit
	}
	member := f.job.Case.Teeth.ActiveMember()
	if anchor {
		member = f.job.Case.Teeth.AnchorMember()
	}
	say := func(english string, values ...any) string { return f.say(english, values...) }
	number := func(decimals int) func(float64) string {
		return func(v float64) string { return sheet.Number(v, decimals) }
	}
	asked, _ := target.Miss{Window: v.Window}.Sense()
	oneWay := v.Window.Min >= 0 || v.Window.Max <= 0
	// The size alone, where the name has said the sense of all of it.
	bare := func(low, high float64, decimals int) (string, bool) {
		low, high = asked*low, asked*high
		if low > high {
			low, high = high, low
		}
		if !oneWay || low < -0.5*math.Pow10(-decimals) {
			return "", false
		}
		size := number(decimals)
		switch {
		case math.IsInf(high, 1):
			return f.say("at least %s", size(low)+" "+unit), true
		case size(low) == size(high):
			return size(low) + " " + unit, true
		}
		return f.say("%s to %s", size(low), size(high)+" "+unit), true
	}
	if oneWay {
		name = f.say(member.LoadName(k, asked))
	} else {
		name = member.LoadNames(k, say)
	}
	if anchor {
		name = f.say("%s on anchor tooth %d", name, int(member.Number))
	}
	if k.Couple() && f.job.Case.Target.AtResistance {
		name = f.say("%s at the centre of resistance", name)
	}
	if v.AtStart {
		name = f.say("%s, at the start", name)
	} else {
		name = f.say("%s, over the travel", name)
	}
	var said bool
	if value, said = bare(v.Low, v.High, decimals); !said {
		value = member.Range(k, v.Low, v.High, number(decimals), unit, say)
	}
	switch limit, said = bare(v.Window.Min, v.Window.Max, limitDecimals); {
	case said:
	case v.Window.Min == -v.Window.Max:
		limit = "±" + sheet.Number(v.Window.Max, limitDecimals) + " " + unit
	default:
		limit = member.Range(k, v.Window.Min, v.Window.Max, number(limitDecimals), unit, say)
	}
	if v.Window.Usual {
		limit = f.say("%s, as is usual for the tooth", limit)
	}
	return name, value, limit
}

// decimalsOf is how many decimals a quantity is shown with.
func decimalsOf(q target.Quantity) int {
	if q.Couple() || q == target.MomentToForce {
		return 2
	}
	return 3
}
