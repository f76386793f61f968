package casefile

import (
	"springwright/design/spring"
	"springwright/design/timeline"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

type (
	visitJSON struct {
		Case    string             `json:"case"`
		Title   string             `json:"title"`
		Teeth   *teethJSON         `json:"teeth"`
		Turns   bool               `json:"turns"`
		Way     figure             `json:"way"`
		Verdict visitVerdictJSON   `json:"verdict"`
		Visits  []visitPointJSON   `json:"visits"`
		Loads   *visitLoadsJSON    `json:"loads,omitempty"`
		Ahead   *visitAheadJSON    `json:"ahead,omitempty"`
		Anchor  visitAnchorJSON    `json:"anchor"`
		Guesses []visitFitJSON     `json:"guesses"`
		Doubts  []visitDoubtJSON   `json:"doubts,omitempty"`
		Planned []visitMarkJSON    `json:"planned"`
		Fitted  []visitMarkJSON    `json:"fitted"`
		Spring  *visitSpringInJSON `json:"spring,omitempty"`
	}
	visitSpringInJSON struct {
		File string    `json:"file"`
		Wire pairsJSON `json:"wire"`
	}
	visitVerdictJSON struct {
		Advice  string            `json:"advice"`
		Reasons []visitReasonJSON `json:"reasons"`
		From    string            `json:"look_again_from,omitempty"`
		To      string            `json:"look_again_to,omitempty"`
		Ways    []visitWayJSON    `json:"ways,omitempty"`
	}
	visitReasonJSON struct {
		Kind  string `json:"kind"`
		Value figure `json:"value"`
		Limit figure `json:"limit"`
	}
	visitWayJSON struct {
		Changes  []adjustedChangeJSON `json:"changes"`
		Chance   figure               `json:"chance"`
		WithLast figure               `json:"with_last_bend"`
	}
	visitPointJSON struct {
		Number     int        `json:"number"`
		Date       string     `json:"date"`
		Days       int        `json:"days"`
		Done       string     `json:"done"`
		Spring     string     `json:"spring,omitempty"`
		PlaceMM    vectorJSON `json:"place_mm"`
		TurnDeg    vectorJSON `json:"turn_deg"`
		Closed     figure     `json:"closed"`
		ClosedSD   figure     `json:"closed_sd"`
		Planned    figure     `json:"planned"`
		Expected   *figure    `json:"expected,omitempty"`
		ExpectedSD *figure    `json:"expected_sd,omitempty"`
		Active     loadJSON   `json:"active"`
		Anchor     loadJSON   `json:"anchor"`
		Push       figure     `json:"push"`
	}
	visitLoadsJSON struct {
		Active      loadJSON           `json:"active"`
		Anchor      loadJSON           `json:"anchor"`
		Bands       *adjustedBandsJSON `json:"from_5_to_95_percent,omitempty"`
		StressRatio figure             `json:"stress_ratio"`
	}
	visitAheadJSON struct {
		Closed   figure `json:"closed"`
		SD       figure `json:"sd"`
		Days     figure `json:"days"`
		Arrives  bool   `json:"arrives"`
		PerMonth figure `json:"per_month"`
		Low      figure `json:"per_month_low"`
		High     figure `json:"per_month_high"`
	}
	visitAnchorJSON struct {
		Moves        bool       `json:"moves"`
		Measured     bool       `json:"measured"`
		SlotMM       vectorJSON `json:"slot_mm"`
		TurnDeg      vectorJSON `json:"turn_deg"`
		SlotSDMM     vectorJSON `json:"slot_sd_mm"`
		TurnSDDeg    vectorJSON `json:"turn_sd_deg"`
		PredictedMM  vectorJSON `json:"predicted_mm"`
		PredictedDeg vectorJSON `json:"predicted_deg"`
	}
	visitFitJSON struct {
		Name    string    `json:"name"`
		Guessed [3]figure `json:"guessed"`
		Now     [3]figure `json:"now"`
	}
	visitDoubtJSON struct {
		Visit  int    `json:"visit"`
		Anchor bool   `json:"anchor"`
		Along  string `json:"along"`
		SDs    figure `json:"sds"`
	}
	visitMarkJSON struct {
		Days   figure `json:"days"`
		Closed figure `json:"closed"`
		Push   figure `json:"push"`
	}
)

// WriteVisit writes what is told at a visit as JSON. A number that is not finite is an error.
//
// In one piece: one document, written from its first key to its last.
func WriteVisit(from Origin, r timeline.Report) ([]byte, error) {
	var w recordWriter
	w.place = "visit"
	degrees := bendSpan.unit.Outside
	size := func(key string, v float64) figure { // a part of the way
		if r.Turns {
			v = degrees(v)
		}
		return w.number(key, v)
	}
	turn := func(key string, v r3.Vec) vectorJSON {
		return w.vector(key, r3.Vec{X: degrees(v.X), Y: degrees(v.Y), Z: degrees(v.Z)})
	}
	out := visitJSON{
		Case: r.Case.Code, Title: r.Case.Title, Teeth: teethOf(r.Case.Teeth), Turns: r.Turns, Way: size("way", r.Way),
		Verdict: w.visitVerdict(r), Visits: []visitPointJSON{}, Guesses: []visitFitJSON{}, Planned: []visitMarkJSON{}, Fitted: []visitMarkJSON{},
	}
	for _, p := range r.Points {
		one := visitPointJSON{
			Number: p.Visit.Number, Date: day(p.Visit.Date), Days: p.Days, Done: p.Visit.Done.String(), Spring: p.Visit.SpringFile,
			PlaceMM: w.vector("place_mm", p.Now.CentreMM), TurnDeg: turn("turn_deg", p.Now.Rotation),
			Closed: size("closed", p.Closed), ClosedSD: size("closed_sd", p.SD), Planned: size("planned", p.Planned),
			Active: w.load("active", p.Active), Anchor: w.load("anchor", p.Anchor), Push: w.number("push", p.Push),
		}
		if p.Told {
			expected, sd := size("expected", p.Expected), size("expected_sd", p.ExpectedSD)
			one.Expected, one.ExpectedSD = &expected, &sd
		}
		out.Visits = append(out.Visits, one)
	}
	if l := r.Loads; l != nil {
		band := func(bands [tooth.Components]spring.Band, low bool) loadJSON {
			var at tooth.Load
			v := [tooth.Components]float64{}
			for k, b := range bands {
				v[k] = b.High
				if low {
					v[k] = b.Low
				}
			}
			at.ForceN, at.CoupleNMM = r3.Vec{X: v[0], Y: v[1], Z: v[2]}, r3.Vec{X: v[3], Y: v[4], Z: v[5]}
			return w.load("band", at)
		}
		out.Loads = &visitLoadsJSON{
			Active: w.load("active", l.Active), Anchor: w.load("anchor", l.Anchor), StressRatio: w.number("stress_ratio", l.StressRatio),
			Bands: &adjustedBandsJSON{band(l.ActiveBand, true), band(l.ActiveBand, false), band(l.AnchorBand, true), band(l.AnchorBand, false)},
		}
	}
	if r.Worn {
		a := r.Ahead
		out.Ahead = &visitAheadJSON{size("closed", a.Closed), size("sd", a.SD), w.number("days", a.Days), a.Arrives, size("per_month", a.PerMonth), size("per_month_low", a.Low), size("per_month_high", a.High)}
		out.Spring = &visitSpringInJSON{File: r.SpringFile, Wire: w.wire(r.Spring.Wire)}
	}
	sd := r.Anchor.SD
	out.Anchor = visitAnchorJSON{
		Moves: r.Anchor.Moves, Measured: r.Anchor.Measured, SlotMM: w.vector("slot_mm", r.Anchor.Lost.SlotMM), TurnDeg: turn("turn_deg", r.Anchor.Lost.Rotation),
		SlotSDMM: w.vector("slot_sd_mm", r3.Vec{X: sd[0], Y: sd[1], Z: sd[2]}), TurnSDDeg: turn("turn_sd_deg", r3.Vec{X: sd[3], Y: sd[4], Z: sd[5]}),
		PredictedMM: w.vector("predicted_mm", r.Anchor.Predicted.SlotMM), PredictedDeg: turn("predicted_deg", r.Anchor.Predicted.Rotation),
	}
	for _, f := range r.Fits {
		number := func(v float64) figure { return w.number(f.Kind.String(), v) }
		if f.Kind == timeline.RateFit {
			number = func(v float64) figure { return size("rate", v) }
		}
		out.Guesses = append(out.Guesses, visitFitJSON{
			f.Kind.String(), [3]figure{number(f.PriorLow), number(f.Prior), number(f.PriorHigh)}, [3]figure{number(f.Low), number(f.Value), number(f.High)},
		})
	}
	for _, d := range r.Doubts {
		if d.Gauge { // a reason of the verdict
			continue
		}
		out.Doubts = append(out.Doubts, visitDoubtJSON{d.Visit, d.Anchor, componentLetter(d.Along), w.number("sds", d.SDs)})
	}
	marks := func(list []timeline.Mark) []visitMarkJSON {
		all := []visitMarkJSON{}
		for _, m := range list {
			all = append(all, visitMarkJSON{w.number("days", m.Days), size("closed", m.Closed), w.number("push", m.Push)})
		}
		return all
	}
	out.Planned, out.Fitted = marks(r.Planned), marks(r.Fitted)
	return w.written(struct {
		headJSON
		visitJSON
	}{headOfLoads(VisitFormat, from, r.Case.Teeth), out})
}

// componentLetter is the letter of the measuring sheet.
func componentLetter(k tooth.Component) string { return [...]string{"A", "C", "B", "E", "D", "F"}[k] }

func (w *recordWriter) visitVerdict(r timeline.Report) visitVerdictJSON {
	v := r.Verdict
	out := visitVerdictJSON{Advice: v.Advice.String(), Reasons: []visitReasonJSON{}}
	if v.ToDays > 0 {
		out.From, out.To = day(v.From), day(v.To)
	}
	angle := func(k timeline.ReasonKind) bool {
		switch k {
		case timeline.TurnedAside, timeline.AnchorTipped:
			return true
		case timeline.RootFollows, timeline.AnchorGone, timeline.Yielded, timeline.GaugeOff:
			return false
		}
		return r.Turns
	}
	for _, reason := range v.Reasons {
		one := visitReasonJSON{Kind: reason.Kind.String(), Value: w.number("value", reason.Value), Limit: w.number("limit", reason.Limit)}
		if angle(reason.Kind) {
			one.Value = w.number("value", bendSpan.unit.Outside(reason.Value))
			if reason.Kind == timeline.AnchorTipped {
				one.Limit = w.number("limit", bendSpan.unit.Outside(reason.Limit))
			}
		}
		out.Reasons = append(out.Reasons, one)
	}
	names := StepKeys(r.Spring.Path)
	for _, way := range v.Ways {
		one := visitWayJSON{Changes: []adjustedChangeJSON{}, Chance: w.number("chance", way.Chance), WithLast: w.number("with_last_bend", way.WithLast)}
		for _, c := range way.Changes {
			one.Changes = append(one.Changes, adjustedChangeJSON{names[c.Step], c.Fresh, w.number("by_deg", bendSpan.unit.Outside(c.ByRad)), c.Seat, w.number("by_mm", c.ByMM)})
		}
		out.Ways = append(out.Ways, one)
	}
	return out
}
