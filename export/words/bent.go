package words

import (
	"math"
	"strings"

	"springwright/design"
	"springwright/design/bent"
	"springwright/design/quantity"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// BentTold is what is told of a spring as it was bent, what to do about it first. Tables have their headings
// as the first row; an empty one is left out.
type BentTold struct {
	Wire    string      `json:"wire"`
	Usable  string      `json:"usable"` // whether it is, or that nobody knows what it is for
	Misses  []string    `json:"misses"`
	Chances []string    `json:"chances"`
	Ways    []ToldWay   `json:"ways"`
	After   string      `json:"after"` // what holds of every correction, or that none is worth making
	Asked   [][]string  `json:"asked"` // what the target asks for, as bent and as corrected
	Steps   [][]string  `json:"steps"` // what most likely came out
	Notes   []string    `json:"notes"` // on the steps
	Loads   []ToldLoads `json:"loads"`
	Caution string      `json:"caution"`
}

// ToldWay is a correction, or two.
type ToldWay struct {
	Title string   `json:"title"`
	Text  string   `json:"text"` // what is to be done
	Lines []string `json:"lines"`
}

// ToldLoads are the loads on a tooth over the travel. The row below each has its bands, behind an empty first
// cell.
type ToldLoads struct {
	Title string     `json:"title"`
	Rows  [][]string `json:"rows"`
}

// Bent tells of a spring that was bent and measured; drawn is the spring as drawn.
func (b *Book) Bent(c design.Case, drawn spring.Spring, r bent.Report) BentTold {
	t := BentTold{
		Wire: b.Say("%s, as bent", b.Wire(drawn.Wire)), Misses: []string{}, Chances: []string{}, Ways: []ToldWay{},
		Caution: b.Say("An estimate for licensed dental professionals, not a prescription: check the force with a gauge before tying."),
	}
	b.bentVerdict(&t, r)
	if r.Lost != nil {
		t.Chances = append(t.Chances, b.bentLost(drawn, *r.Lost)...)
	}
	if r.HasTarget {
		b.bentWays(&t, drawn, r)
		t.Asked = b.bentAsked(c, r)
	}
	t.Steps, t.Notes = b.bentSteps(drawn, r)
	if r.Activation != nil {
		t.Notes = append(t.Notes, b.Activation(c, drawn, *r.Activation)...)
	}
	t.Loads = b.bentLoads(b.Say("as bent"), r.AsBent)
	if r.One != nil {
		t.Loads = append(t.Loads, b.bentLoads(b.Say("after the best correction"), r.One.Outcome)...)
	}
	if r.Two != nil {
		t.Loads = append(t.Loads, b.bentLoads(b.Say("after the best two corrections"), r.Two.Outcome)...)
	}
	return t
}

// bentVerdict says whether the spring is usable, and why.
func (b *Book) bentVerdict(t *BentTold, r bent.Report) {
	chance := r.AsBent.Trial.Chance()
	asBent, corrected := r.Usable()
	switch {
	case !r.HasTarget:
		t.Usable = b.Say("no target is known: give the case by --case for the chance and the correction")
	case asBent && r.AsBent.NoRest == nil:
		t.Usable = b.Say("usable: the most likely spring meets the target")
	case asBent:
		t.Usable = b.Say("usable: most of the springs that it may be meet the target")
	case corrected:
		t.Usable = b.Say("not usable as bent, but after correction")
	case r.AsBent.Met():
		t.Usable = b.Say("not usable: the most likely spring meets the target, but fewer than half of those that it may be do")
	default:
		t.Usable = b.Say("not usable: it misses the target, and no one or two corrections bring it there")
	}
	if r.HasTarget {
		t.Misses = append(t.Misses, b.BentMisses(r.AsBent)...)
		t.Chances = append(t.Chances, b.Say("of 100 springs that it may be %s meet the target; bent exactly as drawn it would be %s", b.hundred(chance), b.hundred(r.Allowed)))
	}
	if trial := r.AsBent.Trial; trial.Unseated > 0 {
		t.Chances = append(t.Chances, b.Say("%s of 100 cannot be seated: their bends do not leave the wire where the slot is; where the free end lies tells more", b.hundred(float64(trial.Unseated)/float64(trial.Springs))))
	}
	measured := 0
	for _, s := range r.Steps {
		if s.Measured {
			measured++
		}
	}
	// A tenth of the springs is worth another look with the protractor (choice).
	if r.HasTarget && (asBent || r.AsBent.Met()) && r.Allowed-chance >= 0.1 && measured < len(r.Steps) {
		t.Chances = append(t.Chances, b.Say("what was not measured makes most of the difference: measure more of it"))
	}
}

// BentMisses says what the most likely spring misses.
func (b *Book) BentMisses(o bent.Outcome) []string {
	if bent.Unfound(o.NoRest) {
		return []string{b.Say("its loads as it most likely is were not found; go by the springs about it")}
	}
	if o.NoRest != nil {
		reason, _, _ := strings.Cut(b.Reason(o.NoRest), "\n")
		return []string{b.Say("as it most likely is it cannot be seated: %s", reason)}
	}
	texts := b.Shortfall(o.Spring.Teeth, o.Judged())
	if o.Overstressed {
		texts = append(texts, b.Say("the wire is stressed beyond what is allowed: it takes a set, or breaks"))
	}
	return texts
}

// bentWays says what to correct.
func (b *Book) bentWays(t *BentTold, drawn spring.Spring, r bent.Report) {
	if len(r.Ways()) == 0 {
		t.After = b.Say("no correction gains enough to be worth a bend")
		return
	}
	t.Ways = append(t.Ways, b.bentWay(b.Say("best correction"), drawn, r.One), b.bentWay(b.Say("best two corrections"), drawn, r.Two))
	t.After = b.Say("each correction is reckoned to be off by %s, one standard deviation; measure again afterwards", b.tenths(r.CorrectionSDRad))
}

func (b *Book) bentWay(title string, drawn spring.Spring, made *bent.Corrected) ToldWay {
	way := ToldWay{Title: title, Lines: []string{}}
	if made == nil {
		way.Text = b.Say("none that gains enough")
		return way
	}
	way.Text = strings.Join(b.Corrections(drawn, *made), "; ")
	opens, again := false, false
	for _, c := range made.Corrections {
		opens = opens || c.Opens()
		again = again || !c.Fresh && !c.Seat
	}
	way.Lines = append(way.Lines,
		b.Say("of 100 springs that it may be then %s meet the target", b.hundred(made.Trial.Chance())))
	if again { // a fresh bend or a seat has no last bend
		way.Lines = append(way.Lines, b.Say("%s %% of it lies in the direction of each place's last bend", b.hundred(made.WithLast)))
	}
	for _, text := range b.BentMisses(made.Outcome) {
		way.Lines = append(way.Lines, b.Say("still: %s", text))
	}
	if opens && drawn.Wire.BreaksBentBack() {
		way.Lines = append(way.Lines, b.Say("nothing else comes near; this wire breaks where it is straightened and bent again: open the bend once, never past what is said, and never close it again there"))
	}
	return way
}

// bentAsked holds what the target asks for against the spring as bent and as corrected.
func (b *Book) bentAsked(c design.Case, r bent.Report) [][]string {
	header := []string{b.Say("worst of each load over the travel"), b.Say("asked")}
	var outcomes []bent.Outcome
	add := func(title string, o bent.Outcome) { header, outcomes = append(header, title), append(outcomes, o) }
	if r.AsBent.NoRest == nil {
		add(b.Say("as bent"), r.AsBent)
	}
	if r.One != nil {
		add(b.Say("one"), r.One.Outcome)
	}
	if r.Two != nil {
		add(b.Say("two"), r.Two.Outcome)
	}
	if len(outcomes) == 0 {
		return nil
	}
	rows := [][]string{header}
	for k, o := range outcomes {
		for i, v := range c.Verdicts(o.Evaluation.Record) {
			name, value, limit := b.Verdict(c, v)
			if k == 0 {
				rows = append(rows, []string{name, limit, value})
			} else if i+1 < len(rows) {
				rows[i+1] = append(rows[i+1], value)
			}
		}
	}
	return rows
}

// bentSteps tells what most likely came out.
func (b *Book) bentSteps(drawn spring.Spring, r bent.Report) (rows [][]string, notes []string) {
	rows = [][]string{{b.Say("most likely bent"), b.Say("drawn"), b.Say("as bent"), "±", ""}}
	names := b.StepNames(drawn)
	for i, e := range r.Steps {
		read := ""
		if e.Measured {
			read = b.Say("measured")
		}
		if e.Step.Kind == spring.Straight {
			rows = append(rows, []string{b.Say("straight %s", names[i]), b.Number(e.Drawn, 2) + " mm", b.Number(e.Value, 2) + " mm", b.Number(e.SD, 2), read})
			continue
		}
		sign := math.Copysign(1, e.Drawn)
		rows = append(rows, []string{names[i], b.tenths(sign * e.Drawn), b.tenths(sign * e.Value), b.Number(quantity.Degree.Outside(e.SD), 1), read})
	}
	notes = append(notes, b.Say("±: one standard deviation; straights without a reading are as likely as the hand leaves them"))
	var parts []string
	for k := tooth.ForceX; k <= tooth.ForceZ; k++ {
		if mm := r.EndOff[k]; math.Abs(mm) >= 0.05 && drawn.Teeth != (tooth.Pair{}) {
			parts = append(parts, b.Number(math.Abs(mm), 1)+" mm "+b.Way(drawn.Teeth.ActiveMember(), k, mm))
		}
	}
	if len(parts) > 0 {
		notes = append(notes, b.Say("the free end then lies %s of where it is drawn", strings.Join(parts, ", ")))
	}
	notes = append(notes, b.Say("stiffness of the wire: %s of the nominal, ± %s", b.Number(r.Stiffness.Value, 2), b.Number(r.Stiffness.SD, 2)))
	if r.AsBent.NoRest == nil {
		if relaxed := b.FirstDay(r.AsBent.Evaluation.Record, drawn.Travel()); relaxed != "" {
			notes = append(notes, relaxed)
		}
	}
	return rows, notes
}

// bentLoads are the loads of the most likely spring, and from where to where they may be.
func (b *Book) bentLoads(title string, o bent.Outcome) []ToldLoads {
	if o.NoRest != nil {
		return nil
	}
	travel := o.Spring.Travel()
	left, unit := b.Say("left mm"), 1.0
	if travel.Turns {
		left, unit = b.Say("left °"), quantity.Degree.Outside(1)
	}
	tell := func(title string, load func(spring.Position) tooth.Load, bands [][tooth.Components]spring.Band) ToldLoads {
		rows := [][]string{{left, "Fx N", "Fy N", "Fz N", "Cx N·mm", "Cy N·mm", "Cz N·mm"}}
		decimals := func(k tooth.Component) int {
			if k.Couple() {
				return 1
			}
			return 2
		}
		for i, p := range o.Evaluation.Record.Positions {
			row, band := []string{b.Number(unit*travel.Left(p), 2)}, []string{""}
			for k := range tooth.Components {
				row = append(row, b.Number(load(p).Component(k), decimals(k)))
				if i < len(bands) {
					band = append(band, b.Number(bands[i][k].Low, decimals(k))+"…"+b.Number(bands[i][k].High, decimals(k)))
				}
			}
			rows = append(rows, row)
			if len(band) > 1 {
				rows = append(rows, band)
			}
		}
		return ToldLoads{title, rows}
	}
	return []ToldLoads{
		tell(b.Say("loads on the active tooth, %s; below each, from 5 %% to 95 %% of the springs that it may be", title), func(p spring.Position) tooth.Load { return p.Active }, o.Trial.Active),
		tell(b.Say("loads on the anchor tooth, %s; below each, from 5 %% to 95 %% of the springs that it may be", title), func(p spring.Position) tooth.Load { return p.Anchor }, o.Trial.Anchor),
	}
}

// GaugeReading says how the bench check pulls the free end, and what the gauge reads of the spring as drawn;
// "" where there is no such check.
func (b *Book) GaugeReading(s spring.Spring, g solve.GaugeCheck) string {
	if !g.Solved {
		return ""
	}
	way := ""
	switch {
	case s.Teeth != (tooth.Pair{}):
		way = b.Towards(s.Teeth.ActiveMember(), g.Axis, g.TravelMM)
	case g.TravelMM < 0:
		way = b.Say("towards −%s", [...]string{"x", "y", "z"}[g.Axis])
	default:
		way = b.Say("towards +%s", [...]string{"x", "y", "z"}[g.Axis])
	}
	return b.Say("the anchor end clamped, E pulled %s mm %s, free to turn; as drawn the gauge reads %s N", b.Number(math.Abs(g.TravelMM), 1), way, b.Number(g.ForceN, 2))
}

// hundred is a share as a number of 100.
func (b *Book) hundred(share float64) string { return b.Number(100*share, 0) }

// tenths is an angle to a tenth of a degree.
func (b *Book) tenths(rad float64) string { return b.Number(rad/degree, 1) + "°" }
