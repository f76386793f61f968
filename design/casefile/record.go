package casefile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"springwright/design/effect"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// recordDecimals is how many decimals a record carries: far more than the model is good
// for, and few enough for the bytes to be the same on every run.
const recordDecimals = 9

// WriteRecord writes a record as JSON, indented by 2, rotation vectors in degrees, numbers
// rounded to 9 decimals. A number that is not finite is an error.
func WriteRecord(r spring.Record) ([]byte, error) { return writeRecord(r, nil, nil) }

// WriteCaseRecord is WriteRecord with one more key a position, "at_resistance": the loads
// on both teeth, couples about each one's centre of resistance, one for each position; and, where
// there are any, with "drift": what becomes of both teeth, for each way of holding the anchor.
func WriteCaseRecord(r spring.Record, atResistance []effect.ResistanceLoads, drifts []effect.AnchorOutcome) ([]byte, error) {
	if len(atResistance) != len(r.Positions) {
		return nil, fmt.Errorf("%d loads at the centres of resistance for %d positions", len(atResistance), len(r.Positions))
	}
	return writeRecord(r, atResistance, drifts)
}

func writeRecord(r spring.Record, atResistance []effect.ResistanceLoads, drifts []effect.AnchorOutcome) ([]byte, error) {
	w := recordWriter{}
	title, err := jsonText(r.Title)
	if err != nil {
		return nil, fmt.Errorf("title of the record: %w", err)
	}
	fmt.Fprintf(&w.out, "{\n  \"title\": %s,\n", title)
	w.teeth(r.Teeth, "  ")
	w.verdict(r.Verdict, "  ")
	if len(drifts) > 0 {
		list := make([]string, len(drifts))
		for i, o := range drifts {
			w.place = fmt.Sprintf("drift %d", i+1)
			list[i] = w.drift(o)
		}
		fmt.Fprintf(&w.out, "  \"drift\": [%s],\n", strings.Join(list, ", "))
	}
	w.out.WriteString("  \"positions\": [")
	for i, p := range r.Positions {
		if i > 0 {
			w.out.WriteByte(',')
		}
		w.place = fmt.Sprintf("position %d", i+1)
		if atResistance != nil {
			w.atResistance = &atResistance[i]
		}
		w.position(p)
	}
	if len(r.Positions) > 0 {
		w.out.WriteString("\n  ")
	}
	w.out.WriteString("]")
	if r.Spread != nil {
		w.spread(r.Spread)
	}
	w.out.WriteString("\n}\n")
	if w.err != nil {
		return nil, w.err
	}
	return w.out.Bytes(), nil
}

// recordWriter keeps the first error, so that the keys can be written one after the other.
type recordWriter struct {
	out   bytes.Buffer
	place string
	err   error

	atResistance *effect.ResistanceLoads // of the next position; nil: not written
	classes      bool                    // the geometry class is written, too
}

func (w *recordWriter) position(p spring.Position) {
	fmt.Fprintf(&w.out, "\n    {\n      \"at_mm\": %s,\n", w.vector("at_mm", p.Seat.AtMM))
	degrees := r3.Scale(quantity.Degree.Outside(1), p.Seat.Rotation)
	fmt.Fprintf(&w.out, "      \"rotation_vector_deg\": %s,\n", w.vector("rotation_vector_deg", degrees))
	fmt.Fprintf(&w.out, "      \"travel_left_mm\": %s,\n", w.number("travel_left_mm", p.TravelLeftMM))
	fmt.Fprintf(&w.out, "      \"active\": %s,\n", w.load("active", p.Active))
	fmt.Fprintf(&w.out, "      \"anchor\": %s,\n", w.load("anchor", p.Anchor))
	if l := w.atResistance; l != nil {
		fmt.Fprintf(&w.out, "      \"at_resistance\": { \"active\": %s, \"anchor\": %s },\n",
			w.load("at_resistance.active", l.Active), w.load("at_resistance.anchor", l.Anchor))
	}
	if p.HookMM != nil {
		fmt.Fprintf(&w.out, "      \"hook_at_mm\": %s,\n", w.vector("hook_at_mm", *p.HookMM))
	}
	if w.classes {
		fmt.Fprintf(&w.out, "      \"geometry_class\": %q,\n", effect.ClassOf(p))
	}
	fmt.Fprintf(&w.out, "      \"stress_ratio\": %s", w.number("stress_ratio", p.StressRatio))
	if p.Play != nil {
		fmt.Fprintf(&w.out, ",\n      \"play\": { \"active\": %s, \"anchor\": %s, \"slid_mm\": %s }",
			slotState(p.Play.Active), slotState(p.Play.Anchor), w.number("play.slid_mm", p.Play.SlidMM))
	}
	if o := p.OtherRest; o != nil {
		fmt.Fprintf(&w.out, ",\n      \"other_rest\": { \"active\": %s, \"anchor\": %s, \"stress_ratio\": %s, \"play\": { \"active\": %s, \"anchor\": %s, \"slid_mm\": %s } }",
			w.load("other_rest.active", o.Active), w.load("other_rest.anchor", o.Anchor), w.number("other_rest.stress_ratio", o.StressRatio),
			slotState(o.Play.Active), slotState(o.Play.Anchor), w.number("other_rest.play.slid_mm", o.Play.SlidMM))
	}
	w.out.WriteString("\n    }")
}

// teeth writes the teeth that a spring is made for, where they are known.
func (w *recordWriter) teeth(p tooth.Pair, indent string) {
	if p != (tooth.Pair{}) {
		fmt.Fprintf(&w.out, "%s\"teeth\": { \"active\": %d, \"anchor\": %d },\n", indent, p.Active, p.Anchor)
	}
}

func slotState(s spring.SlotState) string {
	return fmt.Sprintf(`{ "third_order": %q, "second_order": %q, "first_order": %q }`,
		s.ThirdOrder, s.SecondOrder, s.FirstOrder)
}

func (w *recordWriter) load(key string, l tooth.Load) string {
	return fmt.Sprintf(`{ "force_n": %s, "couple_nmm": %s }`, w.vector(key+".force_n", l.ForceN), w.vector(key+".couple_nmm", l.CoupleNMM))
}

func (w *recordWriter) vector(key string, v r3.Vec) string {
	return fmt.Sprintf("[%s, %s, %s]", w.number(key, v.X), w.number(key, v.Y), w.number(key, v.Z))
}

func (w *recordWriter) number(key string, value float64) string {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		if w.err == nil {
			w.err = fmt.Errorf("%s of the record: %s is %v, not a finite number", w.place, key, value)
		}
		return "null"
	}
	text := strconv.FormatFloat(value, 'f', recordDecimals, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" || text == "" {
		return "0"
	}
	return text
}

// jsonText quotes a text and leaves signs such as < as they are.
func jsonText(s string) (string, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil {
		return "", err
	}
	return strings.TrimSuffix(b.String(), "\n"), nil
}
