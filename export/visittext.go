package export

import (
	"math"
	"strings"
	"time"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/timeline"
	"springwright/design/tooth"
	"springwright/export/words"
)

// VisitText is what is said at a visit, in the order in which it is read. Tables begin with their heads.
type VisitText struct {
	Headline       string   // the one thing to do
	Why, Todo      []string // sentences
	Where          [][]string
	Loads          [][]string
	Anchor, Doubts []string
	Fitted         []string // what has become of the guesses, in words
	Fits           [][]string
	History        [][]string
	LoadsNote      string
	WhereNote      string
	FitsNote       string
}

// visitSpeech makes sentences of a report.
type visitSpeech struct {
	speech
	timeline.Report
}

// VisitTextOf says what there is to say of a report.
func VisitTextOf(r timeline.Report, language words.Language) VisitText {
	v := visitSpeech{speech{words.NewBook(language)}, r}
	t := VisitText{Headline: v.headline(), Why: v.why(), Todo: v.todo(), Where: v.where(), Loads: v.loads(), Anchor: v.anchor(), Doubts: v.doubts(), History: v.history()}
	t.Fits, t.Fitted = v.fits()
	t.WhereNote = v.say("From the centre of the anchor slot to that of the active one. In brackets: not measured, but reckoned.")
	t.LoadsNote = v.say("On the teeth, couples about the centre of each slot; beside, from 5 %% to 95 %% of the springs that it may be.")
	t.FitsNote = v.say("Ranges: one standard deviation each way. The guesses are weighed against what was measured, each by its own uncertainty (generalised least squares).")
	return t
}

func isoDay(at time.Time) string { return at.Format(time.DateOnly) }

func (v visitSpeech) last() timeline.Point { return v.Points[len(v.Points)-1] }

// size writes a part of the way: mm or degrees.
func (v visitSpeech) size(value float64) string {
	if v.Turns {
		return v.words.Degrees(value)
	}
	return v.words.Number(value, 2) + " mm"
}

func (v visitSpeech) has(kind timeline.ReasonKind) bool {
	for _, r := range v.Verdict.Reasons {
		if r.Kind == kind {
			return true
		}
	}
	return false
}

func (v visitSpeech) headline() string {
	switch v.Verdict.Advice {
	case timeline.Wait:
		return v.say("Wait. Look again from %s to %s.", isoDay(v.Verdict.From), isoDay(v.Verdict.To))
	case timeline.Reactivate:
		return v.say("Re-activate the spring.")
	case timeline.Remake:
		return v.say("Make a new spring.")
	}
	if v.has(timeline.GoalReached) && len(v.Verdict.Reasons) == 1 {
		return v.say("Stop: the goal is reached.")
	}
	return v.say("Stop.")
}

// why says what the verdict rests on, and how far things have come.
func (v visitSpeech) why() []string {
	var list []string
	now := v.last()
	done := v.say("Of the way of %s to the goal %s are done (± %s); planned by today: %s.", v.size(v.Way), v.size(now.Closed), v.size(now.SD), v.size(now.Planned))
	if now.Told && len(v.Points) > 2 {
		done += " " + v.say("The visits before let expect %s (± %s).", v.size(now.Expected), v.size(now.ExpectedSD))
	}
	if len(v.Points) > 1 {
		list = append(list, done)
	}
	for _, r := range v.Verdict.Reasons {
		list = append(list, v.reason(r))
	}
	if v.Verdict.Advice != timeline.Stop && v.Worn {
		if text := v.ahead(); text != "" {
			list = append(list, text)
		}
	}
	return list
}

func (v visitSpeech) ahead() string {
	a := v.Ahead
	rate := v.say("The tooth goes about %s a month now, %s to %s.", v.size(a.PerMonth), v.size(a.Low), v.size(a.High))
	least := 0.05
	if v.Turns {
		least = 0.5 * degree
	}
	weeks := v.words.Number(math.Ceil(a.Days/7), 0)
	switch {
	case a.Closed < least && v.has(timeline.RootFollows):
		return ""
	case v.has(timeline.Spent):
		return ""
	case a.Closed < least:
		return v.say("As it is the spring brings the tooth hardly any farther.")
	case a.Arrives:
		return rate + " " + v.say("As it is the spring brings it to the goal, %s more (± %s), in about %s weeks.", v.size(a.Closed), v.size(a.SD), weeks)
	}
	if a.Goes {
		return rate + " " + v.say("As it is the spring brings it %s on (± %s) in %s weeks, and goes on.", v.size(a.Closed), v.size(a.SD), weeks)
	}
	return rate + " " + v.say("As it is the spring brings it %s on (± %s), in about %s weeks, and is then spent.", v.size(a.Closed), v.size(a.SD), weeks)
}

// reason is one of them as a sentence.
func (v visitSpeech) reason(r timeline.Reason) string {
	active := v.Case.Teeth.ActiveMember()
	switch r.Kind {
	case timeline.StillWorks:
		return v.say("The spring works as it should: until the next usual visit, in six weeks (common practice), it brings the tooth %s on.", v.size(r.Value))
	case timeline.RootFollows:
		return v.say("The crown has gone ahead and stands nearly still while the root follows: its centre of resistance comes %s mm on in six weeks.", v.words.Number(r.Value, 2))
	case timeline.Spent:
		return v.say("Where the tooth stands the spring hardly moves the slot on: %s in six weeks.", v.size(max(0, r.Value)))
	case timeline.LoadsOff:
		s := v.Spring
		s.Start, s.End = v.Case.SeatOf(v.last().Now), v.Case.SeatOf(v.Case.Goal)
		s.Shortfall = &target.Shortfall{Misses: v.Loads.Misses}
		misses := v.words.Shortfall(v.Case.Teeth, s)
		return v.say("Its loads are no longer what was asked for: %s.", strings.Join(misses, "; "))
	case timeline.NoCorrection:
		return v.say("No one or two bends bring it to its target from here.")
	case timeline.GoalReached:
		return v.say("Along the planned way the slot is at its goal, within what can be measured; the table says what is left of the rest.")
	case timeline.TooFar:
		return v.say("The slot has gone %s beyond its goal.", v.size(r.Value))
	case timeline.WrongWay:
		return v.say("Since the visit before the slot has gone %s the wrong way, more than a measurement is off.", v.size(r.Value))
	case timeline.TurnedAside:
		return v.say("The tooth has turned %s, %s, beyond what was planned or to be foreseen.", v.words.Degrees(math.Abs(r.Value)), v.turnWord(active, r.Along, r.Value))
	case timeline.AnchorGone:
		return v.say("The anchor has lost %s mm, more than the %s mm that the case allows.", v.words.Number(r.Value, 2), v.words.Number(r.Limit, 2))
	case timeline.AnchorTipped:
		return v.say("The anchor has tipped by %s, more than the %s that the case allows.", v.words.Degrees(r.Value), v.words.Degrees(r.Limit))
	case timeline.Yielded:
		return v.say("The wire is stressed to %s of its yield stress: it has taken a set, and its loads are not known.", v.words.Number(r.Value, 2))
	case timeline.GaugeOff:
		return v.say("The gauge reads what this spring cannot give: it is bent, or another one. Measure it as it is (\"adjust\").")
	case timeline.NoneWorn:
		return v.say("No spring is in the mouth.")
	}
	return v.say("With the teeth where they stand the spring finds no rest in its slots.")
}

func (v visitSpeech) turnWord(of tooth.Member, k tooth.Component, rad float64) string {
	if k == tooth.CoupleX {
		return v.words.Torque(of, rad)
	}
	return v.words.Sense(of, k, rad)
}

func (v visitSpeech) todo() []string {
	switch v.Verdict.Advice {
	case timeline.Reactivate:
		if len(v.Verdict.Ways) == 0 {
			return []string{v.say("No bend is needed: untie it, let it find its rest in the slots anew, and tie it.")}
		}
		list := []string{v.say("Take it out, correct it, check its free end, and seat it anew where the slots stand now.")}
		for i, way := range v.Verdict.Ways {
			list = append(list, v.way(i, way))
		}
		return list
	case timeline.Remake:
		return []string{v.say("Measure the slots again, and design a spring for where they stand now.")}
	case timeline.Stop:
		if v.has(timeline.GoalReached) && len(v.Verdict.Reasons) == 1 {
			return []string{v.say("Take the spring out, and hold the tooth where it stands.")}
		}
		return []string{v.say("Take the spring out of work before anything else is decided.")}
	}
	return nil
}

// way is one way of re-activating, as on the sheet of a spring as bent.
func (v visitSpeech) way(i int, way timeline.Way) string {
	page := asBentPage{AsBent{Case: v.Case, Drawn: v.Spring, Bent: v.Spring}, v.speech}
	f := &flow{speech: v.speech}
	var parts []string
	bends := 0
	for _, c := range way.Changes {
		parts = append(parts, page.changeText(f, nil, BentChange{Step: c.Step, Fresh: c.Fresh, ByRad: c.ByRad, Seat: c.Seat, ByMM: c.ByMM}))
		if !c.Seat {
			bends++
		}
	}
	text := v.say("Best correction: %s.", strings.Join(parts, "; "))
	if i > 0 || bends > 1 {
		text = v.say("Or, at two places: %s.", strings.Join(parts, "; "))
	}
	return text + " " + v.say("Then %d of 100 meet it.", hundred(way.Chance))
}

// letters are the rows of the measuring sheet, and the components that they measure.
var letters = [...]struct {
	letter string
	name   words.Phrase
	k      tooth.Component
}{
	{"A", "along the arch", tooth.ForceX},
	{"B", "height", tooth.ForceZ},
	{"C", "across the arch", tooth.ForceY},
	{"D", "tip", tooth.CoupleY},
	{"E", "torque", tooth.CoupleX},
	{"F", "rotation", tooth.CoupleZ},
}

// place is a number of a placement in words.
func (v visitSpeech) place(k tooth.Component, value float64) string {
	of := v.Case.Teeth.ActiveMember()
	switch {
	case k == tooth.ForceX:
		return v.words.Number(value, 2) + " mm"
	case k.Couple() && math.Abs(value) < 0.05*degree:
		return v.words.Degrees(0)
	case k.Couple():
		return v.words.Degrees(math.Abs(value)) + " " + v.turnWord(of, k, value)
	case math.Abs(value) < 0.005:
		return v.words.Number(0, 2) + " mm"
	}
	return v.words.Number(math.Abs(value), 2) + " mm" + " " + v.words.Way(of, k, value)
}

func (v visitSpeech) where() [][]string {
	first, now := v.Points[0], v.last()
	rows := [][]string{{"", "", v.say("at first"), v.say("today"), v.say("goal"), v.say("still to go")}}
	for _, l := range letters {
		today := v.place(l.k, now.Now.At(l.k))
		if len(v.Points) > 1 && !now.Visit.Known[l.k] {
			today = "(" + today + ")"
		}
		left := v.Case.Goal.At(l.k) - now.Now.At(l.k)
		text := v.words.Number(math.Abs(left), 2) + " mm"
		if l.k.Couple() {
			text = v.words.Degrees(math.Abs(left))
		}
		rows = append(rows, []string{l.letter, v.say(l.name), v.place(l.k, first.Now.At(l.k)), today, v.place(l.k, v.Case.Goal.At(l.k)), text})
	}
	return rows
}

// loads are what the spring gives now, a load and under it its band.
func (v visitSpeech) loads() [][]string {
	if v.Loads == nil {
		return nil
	}
	teeth := v.Case.Teeth
	rows := [][]string{{"", v.say("active tooth %d", int(teeth.Active)), "", v.say("anchor tooth %d", int(teeth.Anchor)), ""}}
	cell := func(of tooth.Member, l tooth.Load, bands [tooth.Components]spring.Band, k tooth.Component) (value, band string) {
		decimals, unit := 2, "N"
		if k.Couple() {
			decimals, unit = 1, "N·mm"
		}
		at := l.Component(k)
		value = v.words.Number(math.Abs(at), decimals) + " " + unit
		if math.Round(math.Abs(at)*math.Pow10(decimals)) > 0 {
			word := v.words.Sense(of, k, at)
			if k == tooth.CoupleX {
				word = v.words.Torque(of, at)
			}
			value += " " + word
		}
		sign := math.Copysign(1, at)
		low, high := sign*bands[k].Low, sign*bands[k].High
		return value, v.say("%s to %s", v.words.Number(min(low, high), decimals), v.words.Number(max(low, high), decimals))
	}
	for _, l := range letters {
		a, aBand := cell(teeth.ActiveMember(), v.Loads.Active, v.Loads.ActiveBand, l.k)
		b, bBand := cell(teeth.AnchorMember(), v.Loads.Anchor, v.Loads.AnchorBand, l.k)
		rows = append(rows, []string{v.say(l.name), a, aBand, b, bBand})
	}
	return rows
}
