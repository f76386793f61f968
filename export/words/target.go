package words

import (
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
)

// Shortfall says what a spring misses and exceeds, an item each, none where it meets its target or
// was never held against one: in the words of the trade where teeth are given, else by the axes of
// the mechanics.
func (b *Book) Shortfall(teeth tooth.Pair, s spring.Spring) []string {
	if s.Shortfall == nil || s.Shortfall.None() {
		return nil
	}
	var texts []string
	for _, m := range s.Shortfall.Misses {
		texts = append(texts, b.miss(teeth, s.Travel(), m))
	}
	for _, e := range s.Shortfall.Exceeded {
		texts = append(texts, b.Excess(e))
	}
	if s.Shortfall.Untold {
		texts = append(texts, b.Say("not all that it misses is said in its file"))
	}
	return texts
}

// miss is such as "intrusive force at the start: 0.240 N, asked 0.30 to 0.60 N". A value is never
// said with a minus: one of the other sense is named by its own.
func (b *Book) miss(teeth tooth.Pair, way spring.Travel, m target.Miss) string {
	asked, got := m.Sense()
	name := b.missed(teeth, m, got)
	unit := m.Quantity.Unit()
	wanted := b.Window(m.Window, asked) + " " + unit
	if asked != got {
		wanted = b.missed(teeth, m, asked) + ", " + wanted
	}
	value := b.missedNumber(m) + " " + unit
	switch {
	case m.AtStart:
		return b.Say("%s at the start: %s, asked %s", name, value, wanted)
	case m.Quantity == target.Rate || way.Turns || way.None():
		return b.Say("%s over the travel: %s, asked %s", name, value, wanted)
	}
	return b.Say("%s with %s of travel left: %s, asked %s", name, b.Number(m.TravelLeftMM, 2)+" mm", value, wanted)
}

// missed names the quantity of a miss with a value of that sign.
func (b *Book) missed(teeth tooth.Pair, m target.Miss, sign float64) string {
	k, anchor, ok := m.Quantity.Component()
	if !ok || teeth != (tooth.Pair{}) {
		c := design.Case{Teeth: teeth}
		c.Target.AtResistance = m.AtResistance
		return b.Quantity(c, m.Quantity, sign)
	}
	axis := [...]string{"x", "y", "z"}[k%3]
	if sign < 0 {
		axis = "−" + axis
	}
	switch {
	case k.Couple() && anchor:
		return b.Say("couple about %s on the anchor tooth", axis)
	case k.Couple():
		return b.Say("couple about %s on the active tooth", axis)
	case anchor:
		return b.Say("force along %s on the anchor tooth", axis)
	}
	return b.Say("force along %s on the active tooth", axis)
}

// missedNumber is the size of a value with as many decimals as it takes to see that it is not
// what was asked.
func (b *Book) missedNumber(m target.Miss) string {
	decimals := QuantityDecimals(m.Quantity)
	const most = 6
	for ; decimals < most; decimals++ {
		scale := math.Pow10(decimals)
		if m.Window.Misses(math.Round(m.Value*scale)/scale) > 0 {
			break
		}
	}
	return b.Number(math.Abs(m.Value), decimals)
}

// Window is a window on the sense that is asked for, without its unit.
func (b *Book) Window(w target.Window, sense float64) string {
	if sense < 0 {
		w.Min, w.Max = -w.Max, -w.Min
	}
	switch {
	case math.IsInf(w.Min, -1):
		return b.Say("at most %s", b.Figures(w.Max, 4))
	case math.IsInf(w.Max, 1):
		return b.Say("at least %s", b.Figures(w.Min, 4))
	case w.Min == -w.Max:
		return "±" + b.Figures(w.Max, 4)
	}
	return b.Say("%s to %s", b.Figures(w.Min, 4), b.Figures(w.Max, 4))
}

// excessPhrases are in the order of notice.Limit.
var excessPhrases = [notice.Limits]Phrase{
	"%s mm beyond the room in the mouth",
	"loop %s mm too wide",
	"loop %s mm too high for the fold of the cheek",
	"%s mm beyond the room mesially",
	"%s mm beyond the room distally",
	"%s mm too near the front of the active slot",
	"%s mm too far out on the biting side",
	"%s mm too far into the cheek",
	"%s mm too far towards the tongue, where the teeth are",
	"the wire passes itself %s mm too closely",
	"the hook hangs %s mm too far from its place on the tooth",
	"the tooth is not brought along its planned travel: %s mm are left undone, or it is pushed the other way",
	"the anchor moves %s mm more than is allowed",
	"the anchor tips %s° more than is allowed",
	"bends too many: %s",
	"stress %s of the yield stress above its limit",
}

// Excess says how far a limit is passed.
func (b *Book) Excess(e target.Excess) string {
	decimals := 2
	switch e.Limit {
	case notice.BendsLimit:
		decimals = 0
	case notice.AnchorTipLimit:
		e.Beyond, decimals = e.Beyond*180/math.Pi, 1
	}
	if e.Limit < 0 || e.Limit >= notice.Limits {
		e.Limit = notice.OtherLimit
	}
	return b.Say(excessPhrases[e.Limit], b.Number(e.Beyond, sizedDecimals(e.Beyond, decimals)))
}

// Verdict is what a verdict is about, what came out and what was asked, no number below 0: a value
// of the other sense is said by its own word.
//
// In one piece: a switch over what can be asked of a load.
func (b *Book) Verdict(c design.Case, v target.Verdict) (name, value, limit string) {
	const limitDecimals = 2
	decimals := QuantityDecimals(v.Quantity)
	unit := v.Quantity.Unit()
	k, anchor, ok := v.Quantity.Component()
	if !ok {
		name = b.Quantity(c, v.Quantity, 1)
		limit = b.Window(v.Window, 1) + " " + unit
		value = b.Number(v.High, decimals) + " " + unit
		if v.Quantity != target.Rate {
			name = b.Say("%s, over the travel", name)
			value = b.Say("%s to %s", b.Number(v.Low, decimals), value)
		}
		return name, value, limit
	}
	member := c.Teeth.ActiveMember()
	if anchor {
		member = c.Teeth.AnchorMember()
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
		size := func(v float64) string { return b.Number(v, decimals) }
		switch {
		case math.IsInf(high, 1):
			return b.Say("at least %s", size(low)+" "+unit), true
		case size(low) == size(high):
			return size(low) + " " + unit, true
		}
		return b.Say("%s to %s", size(low), size(high)+" "+unit), true
	}
	if oneWay {
		name = b.Quantity(c, v.Quantity, asked)
	} else {
		name = c.EitherName(v.Quantity, b.hook)
	}
	if v.AtStart {
		name = b.Say("%s, at the start", name)
	} else {
		name = b.Say("%s, over the travel", name)
	}
	var said bool
	if value, said = bare(v.Low, v.High, decimals); !said {
		value = b.Range(member, k, v.Low, v.High, decimals, unit)
	}
	switch limit, said = bare(v.Window.Min, v.Window.Max, limitDecimals); {
	case said:
	case v.Window.Min == -v.Window.Max:
		limit = "±" + b.Number(v.Window.Max, limitDecimals) + " " + unit
	default:
		limit = b.Range(member, k, v.Window.Min, v.Window.Max, limitDecimals, unit)
	}
	if v.Window.Usual {
		limit = b.Say("%s, as is usual for the tooth", limit)
	}
	return name, value, limit
}

// InHundred is a share as so many of a hundred, in whole numbers; few or nearly all are never none
// or all.
func InHundred(share float64) string {
	whole := math.Round(100 * share)
	switch {
	case share > 0 && whole == 0:
		return "< 1"
	case share < 1 && whole == 100:
		return "> 99"
	}
	return fmt.Sprintf("%.0f", whole)
}
