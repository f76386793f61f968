package casefile

import (
	"fmt"
	"math"

	"springwright/design/bent"
	"springwright/design/report"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
)

type (
	adjustmentJSON struct {
		Title       string                   `json:"title"`
		Teeth       *teethJSON               `json:"teeth,omitempty"`
		Wire        pairsJSON                `json:"wire"`
		Steps       []adjustedStepJSON       `json:"steps"`
		EndOffMM    vectorJSON               `json:"end_off_mm"`
		EndOffDeg   vectorJSON               `json:"end_off_deg"`
		Stiffness   figure                   `json:"stiffness"`
		StiffnessSD figure                   `json:"stiffness_sd"`
		Allowed     *figure                  `json:"chance_as_drawn,omitempty"`
		AsBent      adjustedOutcomeJSON      `json:"as_bent"`
		Corrections *[]adjustedCorrectedJSON `json:"corrections,omitempty"`
		Activation  *activationJSON          `json:"trial_activation,omitempty"`
		Lost        *lostJSON                `json:"lost_by_it,omitempty"`
	}
	activationJSON struct {
		ShiftMM        vectorJSON `json:"shift_mm"`
		TurnDeg        vectorJSON `json:"turn_deg"`
		Times          int        `json:"times"`
		AllowedMM      figure     `json:"allowed_mm"`
		AllowedDeg     figure     `json:"allowed_deg"`
		Sets           bool       `json:"sets"`
		FirstDayLow    figure     `json:"first_day_low"`
		FirstDayHigh   figure     `json:"first_day_high"`
		FirstDaySource string     `json:"first_day_source"`
		BeforehandLow  figure     `json:"beforehand_low"`
		BeforehandHigh figure     `json:"beforehand_high"`
	}
	lostJSON struct {
		Moved  []movedJSON          `json:"moved"`
		Share  figure               `json:"share"`
		Within bool                 `json:"within"`
		Back   []adjustedChangeJSON `json:"back"`
	}
	movedJSON struct {
		Along string `json:"along"`
		Off   figure `json:"off"`
		Left  figure `json:"left"`
	}
	adjustedStepJSON struct {
		Name     string `json:"name"`
		Drawn    figure `json:"drawn"`
		Value    figure `json:"value"`
		SD       figure `json:"sd"`
		Measured bool   `json:"measured"`
	}
	adjustedOutcomeJSON struct {
		verdictJSON
		Overstressed bool                   `json:"overstressed"`
		Chance       *figure                `json:"chance,omitempty"`
		Springs      int                    `json:"springs"`
		Unseated     int                    `json:"unseated"`
		Positions    []adjustedPositionJSON `json:"positions"`
	}
	adjustedPositionJSON struct {
		TravelLeftMM figure             `json:"travel_left_mm"`
		Active       loadJSON           `json:"active"`
		Anchor       loadJSON           `json:"anchor"`
		StressRatio  figure             `json:"stress_ratio"`
		Bands        *adjustedBandsJSON `json:"from_5_to_95_percent,omitempty"`
	}
	adjustedBandsJSON struct {
		ActiveLow  loadJSON `json:"active_low"`
		ActiveHigh loadJSON `json:"active_high"`
		AnchorLow  loadJSON `json:"anchor_low"`
		AnchorHigh loadJSON `json:"anchor_high"`
	}
	adjustedCorrectedJSON struct {
		Changes  []adjustedChangeJSON `json:"changes"`
		WithLast figure               `json:"with_last_bend"`
		Outcome  adjustedOutcomeJSON  `json:"outcome"`
	}
	adjustedChangeJSON struct {
		Name  string `json:"name"`
		Fresh bool   `json:"fresh"`
		ByDeg figure `json:"by_deg"`
		Seat  bool   `json:"seat"`
		ByMM  figure `json:"by_mm"`
	}
)

// WriteAdjustment writes what is told of a spring that was bent and measured, as JSON; drawn is the spring as
// drawn. A number that is not finite is an error.
func WriteAdjustment(from Origin, drawn spring.Spring, a bent.Report) ([]byte, error) {
	var w recordWriter
	names := StepKeys(drawn.Path)
	out := adjustmentJSON{Title: drawn.Title, Teeth: teethOf(drawn.Teeth), Wire: w.wire(drawn.Wire), Steps: []adjustedStepJSON{}}
	steps := drawn.Path.Steps()
	outside := func(step int, v float64) float64 {
		if steps[step].Kind == spring.Straight {
			return v
		}
		return bendSpan.unit.Outside(v)
	}
	for i, s := range a.Steps {
		w.place = names[i]
		out.Steps = append(out.Steps, adjustedStepJSON{
			names[i], w.number("drawn", outside(i, s.Drawn)), w.number("value", outside(i, s.Value)), w.number("sd", outside(i, s.SD)), s.Measured,
		})
	}
	w.place = "free end"
	for k := range 3 {
		out.EndOffMM[k] = w.number("end_off_mm", a.EndOff[k])
		out.EndOffDeg[k] = w.number("end_off_deg", bendSpan.unit.Outside(a.EndOff[3+k]))
	}
	w.place = "wire"
	out.Stiffness, out.StiffnessSD = w.number("stiffness", a.Stiffness.Value), w.number("stiffness_sd", a.Stiffness.SD)
	out.AsBent = w.adjusted("as bent", a.AsBent, a.HasTarget)
	if a.HasTarget {
		allowed := w.number("chance_as_drawn", a.Allowed)
		out.Allowed = &allowed
		all := []adjustedCorrectedJSON{}
		for i, c := range a.Ways() {
			one := adjustedCorrectedJSON{WithLast: w.number("with_last_bend", c.WithLast), Outcome: w.adjusted(fmt.Sprintf("corrections %d", i+1), c.Outcome, true)}
			one.Changes = w.changes(names, c.Corrections)
			all = append(all, one)
		}
		out.Corrections = &all
	}
	if t := a.Activation; t != nil {
		out.Activation = w.activation(*t)
	}
	if l := a.Lost; l != nil {
		out.Lost = w.lost(names, *l)
	}
	return w.written(struct {
		headJSON
		adjustmentJSON
	}{headOfLoads(AdjustmentFormat, from, drawn.Teeth), out})
}

// adjusted is an outcome.
func (w *recordWriter) adjusted(place string, o bent.Outcome, judged bool) adjustedOutcomeJSON {
	w.place = place
	out := adjustedOutcomeJSON{Overstressed: o.Overstressed, Springs: o.Trial.Springs, Unseated: o.Trial.Unseated, Positions: []adjustedPositionJSON{}}
	if judged {
		short := o.Shortfall()
		if short == nil {
			short = &target.Shortfall{}
		}
		out.verdictJSON = w.verdict(short)
		chance := w.number("chance", o.Trial.Chance())
		out.Chance = &chance
	}
	band := func(bands [tooth.Components]spring.Band, of func(spring.Band) float64) loadJSON {
		var l loadJSON
		for k := range 3 {
			l.ForceN[k] = w.number("force_n", of(bands[k]))
			l.CoupleNMM[k] = w.number("couple_nmm", of(bands[3+k]))
		}
		return l
	}
	low, high := func(b spring.Band) float64 { return b.Low }, func(b spring.Band) float64 { return b.High }
	for i, p := range o.Evaluation.Record.Positions {
		w.place = fmt.Sprintf("%s, position %d", place, i+1)
		at := adjustedPositionJSON{
			TravelLeftMM: w.number("travel_left_mm", p.TravelLeftMM), Active: w.load("active", p.Active), Anchor: w.load("anchor", p.Anchor),
			StressRatio: w.number("stress_ratio", p.StressRatio),
		}
		if i < len(o.Trial.Active) && i < len(o.Trial.Anchor) {
			at.Bands = &adjustedBandsJSON{band(o.Trial.Active[i], low), band(o.Trial.Active[i], high), band(o.Trial.Anchor[i], low), band(o.Trial.Anchor[i], high)}
		}
		out.Positions = append(out.Positions, at)
	}
	return out
}

// changes are corrections; names are those of the steps.
func (w *recordWriter) changes(names []string, made []bent.Correction) []adjustedChangeJSON {
	all := []adjustedChangeJSON{}
	for _, c := range made {
		all = append(all, adjustedChangeJSON{names[c.Step], c.Fresh, w.number("by_deg", bendSpan.unit.Outside(c.ByRad)), c.Seat, w.number("by_mm", c.ByMM)})
	}
	return all
}

// activation is a trial activation.
func (w *recordWriter) activation(a report.Activation) *activationJSON {
	w.place = "trial activation"
	out := activationJSON{
		Times: a.Times, AllowedMM: w.number("allowed_mm", a.AllowedMM), AllowedDeg: w.number("allowed_deg", bendSpan.unit.Outside(a.AllowedRad)), Sets: a.Sets,
		FirstDayLow: w.number("first_day_low", a.Loss.Low), FirstDayHigh: w.number("first_day_high", a.Loss.High), FirstDaySource: a.Loss.Source,
		BeforehandLow: w.number("beforehand_low", a.Beforehand.Low), BeforehandHigh: w.number("beforehand_high", a.Beforehand.High),
	}
	for k := range 3 {
		out.ShiftMM[k] = w.number("shift_mm", a.Off[k])
		out.TurnDeg[k] = w.number("turn_deg", bendSpan.unit.Outside(a.Off[3+k]))
	}
	return &out
}

// lost is what a trial activation took.
func (w *recordWriter) lost(names []string, l bent.Lost) *lostJSON {
	w.place = "trial activation"
	out := lostJSON{Moved: []movedJSON{}, Share: w.number("share", l.Share), Within: l.Within, Back: []adjustedChangeJSON{}}
	for k, off := range l.Off {
		if math.IsNaN(off) {
			continue
		}
		left, along := l.Left[k], "xyz"[k%3:k%3+1]+"_mm"
		if l.Back == nil {
			left = off
		}
		if k >= 3 {
			off, left, along = bendSpan.unit.Outside(off), bendSpan.unit.Outside(left), along[:1]+"_deg"
		}
		out.Moved = append(out.Moved, movedJSON{along, w.number("off", off), w.number("left", left)})
	}
	if l.Back != nil {
		out.Back = w.changes(names, l.Back.Corrections)
	}
	return &out
}
