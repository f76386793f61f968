package casefile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// recordDecimals is how many decimals a record carries: far more than the model is good
// for, and few enough for the bytes to be the same on every run.
const recordDecimals = 9

// WriteRecord writes the record of a spring of the given wire as JSON, indented by 2, rotation
// vectors in degrees, numbers rounded to 9 decimals. A number that is not finite is an error.
func WriteRecord(from Origin, of wire.Wire, r spring.Record) ([]byte, error) {
	return writeRecord(from, of, r, nil, nil)
}

// WriteCaseRecord is WriteRecord with one more key a position, "at_resistance": the loads
// on both teeth, couples about each one's centre of resistance, one for each position; and, where
// there are any, with "drift": what becomes of both teeth, for each way of holding the anchor.
func WriteCaseRecord(from Origin, of wire.Wire, r spring.Record, atResistance []effect.ResistanceLoads, drifts []effect.AnchorOutcome) ([]byte, error) {
	if len(atResistance) != len(r.Positions) {
		return nil, fmt.Errorf("%d loads at the centres of resistance for %d positions", len(atResistance), len(r.Positions))
	}
	return writeRecord(from, of, r, atResistance, drifts)
}

func writeRecord(from Origin, of wire.Wire, r spring.Record, atResistance []effect.ResistanceLoads, drifts []effect.AnchorOutcome) ([]byte, error) {
	var w recordWriter
	record, err := w.record(of, r, atResistance, drifts)
	if err != nil {
		return nil, err
	}
	return w.written(struct {
		headJSON
		recordJSON
	}{headOfLoads(RecordFormat, from, r.Teeth), record})
}

// record is all that stands behind the head; atResistance is empty or has one for each position.
func (w *recordWriter) record(of wire.Wire, r spring.Record, atResistance []effect.ResistanceLoads, drifts []effect.AnchorOutcome) (recordJSON, error) {
	if len(atResistance) > 0 && len(atResistance) != len(r.Positions) {
		return recordJSON{}, fmt.Errorf("%d loads at the centres of resistance for %d positions", len(atResistance), len(r.Positions))
	}
	out := recordJSON{Title: r.Title, Teeth: teethOf(r.Teeth), Wire: w.wire(of), verdictJSON: w.verdict(r.Verdict), Chosen: r.Chosen, Positions: []positionJSON{}}
	for i, o := range drifts {
		w.place = fmt.Sprintf("drift %d", i+1)
		out.Drift = append(out.Drift, w.drift(o))
	}
	for i, p := range r.Positions {
		w.place = fmt.Sprintf("position %d", i+1)
		position := w.position(p)
		if len(atResistance) > 0 {
			l := atResistance[i]
			position.AtResistance = &loadsJSON{w.load("at_resistance.active", l.Active), w.load("at_resistance.anchor", l.Anchor)}
		}
		out.Positions = append(out.Positions, position)
	}
	if r.Spread != nil {
		out.BentSprings = w.spread(r.Spread)
	}
	if s := r.Shares; s != nil {
		out.HandShares = &sharesJSON{s.Springs, s.AsBent, s.Checked, s.Corrected, s.AsDrawn}
	}
	return out, nil
}

// What a record is made of, in the order of its keys.
type (
	recordJSON struct {
		Title string     `json:"title"`
		Teeth *teethJSON `json:"teeth,omitempty"`
		Wire  pairsJSON  `json:"wire"`
		verdictJSON
		Chosen      notice.List    `json:"chosen,omitempty"`
		Drift       []driftJSON    `json:"drift,omitempty"`
		Positions   []positionJSON `json:"positions"`
		BentSprings *spreadJSON    `json:"bent_springs,omitempty"`
		HandShares  *sharesJSON    `json:"hand_shares,omitempty"`
	}
	teethJSON struct {
		Active tooth.Number `json:"active"`
		Anchor tooth.Number `json:"anchor"`
	}
	positionJSON struct {
		AtMM          vectorJSON  `json:"at_mm"`
		RotationDeg   vectorJSON  `json:"rotation_vector_deg"`
		TravelLeftMM  figure      `json:"travel_left_mm"`
		Active        loadJSON    `json:"active"`
		Anchor        loadJSON    `json:"anchor"`
		AtResistance  *loadsJSON  `json:"at_resistance,omitempty"`
		HookAtMM      *vectorJSON `json:"hook_at_mm,omitempty"`
		GeometryClass *string     `json:"geometry_class,omitempty"`
		StressRatio   figure      `json:"stress_ratio"`
		Play          *playJSON   `json:"play,omitempty"`
		OtherRest     *restJSON   `json:"other_rest,omitempty"`
	}
	loadsJSON struct {
		Active loadJSON `json:"active"`
		Anchor loadJSON `json:"anchor"`
	}
	loadJSON struct {
		ForceN    vectorJSON `json:"force_n"`
		CoupleNMM vectorJSON `json:"couple_nmm"`
	}
	playJSON struct {
		Active slotJSON `json:"active"`
		Anchor slotJSON `json:"anchor"`
		SlidMM figure   `json:"slid_mm"`
	}
	slotJSON struct {
		ThirdOrder  string `json:"third_order"`
		SecondOrder string `json:"second_order"`
		FirstOrder  string `json:"first_order"`
	}
	restJSON struct {
		loadsJSON
		StressRatio figure   `json:"stress_ratio"`
		Play        playJSON `json:"play"`
	}
	vectorJSON [3]figure
	figure     float64
)

// MarshalJSON writes a finite number rounded to recordDecimals.
func (n figure) MarshalJSON() ([]byte, error) {
	text := strconv.FormatFloat(float64(n), 'f', recordDecimals, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" || text == "" {
		text = "0"
	}
	return []byte(text), nil
}

// recordWriter keeps the first number that is not finite, and where it is, so that the parts of a
// record can be put together one after the other.
type recordWriter struct {
	place string
	err   error
}

// written is a record, or another value put together by w, as JSON.
func (w *recordWriter) written(record any) ([]byte, error) {
	if w.err != nil {
		return nil, w.err
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // signs such as < stay as they are
	if err := e.Encode(record); err != nil {
		return nil, err
	}
	return layOut(bytes.TrimSuffix(b.Bytes(), []byte("\n"))), nil
}

func (w *recordWriter) position(p spring.Position) positionJSON {
	out := positionJSON{
		AtMM:         w.vector("at_mm", p.Seat.AtMM),
		RotationDeg:  w.vector("rotation_vector_deg", r3.Scale(quantity.Degree.Outside(1), p.Seat.Rotation)),
		TravelLeftMM: w.number("travel_left_mm", p.TravelLeftMM),
		Active:       w.load("active", p.Active), Anchor: w.load("anchor", p.Anchor),
		StressRatio: w.number("stress_ratio", p.StressRatio),
	}
	if p.HookMM != nil {
		hook := w.vector("hook_at_mm", *p.HookMM)
		out.HookAtMM = &hook
	}
	if p.Play != nil {
		play := w.play("play", *p.Play)
		out.Play = &play
	}
	if o := p.OtherRest; o != nil {
		out.OtherRest = &restJSON{
			loadsJSON{w.load("other_rest.active", o.Active), w.load("other_rest.anchor", o.Anchor)},
			w.number("other_rest.stress_ratio", o.StressRatio), w.play("other_rest.play", o.Play),
		}
	}
	return out
}

// teethOf are the teeth that a spring is made for; nil where they are not known.
func teethOf(p tooth.Pair) *teethJSON {
	if p == (tooth.Pair{}) {
		return nil
	}
	return &teethJSON{p.Active, p.Anchor}
}

func (w *recordWriter) play(key string, p spring.PlayState) playJSON {
	slot := func(s spring.SlotState) slotJSON {
		return slotJSON{fmt.Sprint(s.ThirdOrder), fmt.Sprint(s.SecondOrder), fmt.Sprint(s.FirstOrder)}
	}
	return playJSON{slot(p.Active), slot(p.Anchor), w.number(key+".slid_mm", p.SlidMM)}
}

func (w *recordWriter) load(key string, l tooth.Load) loadJSON {
	return loadJSON{w.vector(key+".force_n", l.ForceN), w.vector(key+".couple_nmm", l.CoupleNMM)}
}

func (w *recordWriter) vector(key string, v r3.Vec) vectorJSON {
	return vectorJSON{w.number(key, v.X), w.number(key, v.Y), w.number(key, v.Z)}
}

func (w *recordWriter) number(key string, value float64) figure {
	if bad := math.IsNaN(value) || math.IsInf(value, 0); bad && w.err == nil {
		w.err = fmt.Errorf("%s of the record: %s is %v, not a finite number", w.place, key, value)
	}
	return figure(value)
}
