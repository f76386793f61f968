package casefile

import (
	"bytes"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/quantity"
)

// anchorSeen reads how far the anchor has moved.
func (r *visitReader) anchorSeen(t *section, v *design.Visit) {
	v.AnchorSDMM = t.optional("anchor_sd_mm", span{unit: quantity.Millimetre, low: smallestReadingSD, high: 2}, usualAnchorSeenMM)
	v.AnchorSDRad = t.optional("anchor_sd_deg", span{unit: quantity.Degree, low: 0.1, high: 10}, usualAnchorSeenDeg)
	if !t.has("anchor_moved") {
		return
	}
	moved := t.table("anchor_moved")
	defer moved.close()
	teeth := r.of.Case.Teeth
	for _, n := range anchorSenses {
		unit, allowed := "_mm", span{unit: quantity.Millimetre, low: -8, high: 8}
		if n.component.Couple() {
			unit, allowed = "_deg", span{unit: quantity.Degree, low: -40, high: 40}
		}
		key, way := moved.sensed(n, unit, teeth.Anchor)
		if key == "" {
			continue
		}
		v.Anchor[n.component] = teeth.ClinicalSign(n.component) * way * moved.needed(key, allowed, "")
		v.AnchorKnown[n.component] = true
	}
	if v.Done == design.SeatedFirst {
		t.blame("anchor_moved", "is counted from this visit, the first", "leave it out")
	}
}

// gauge reads the check of the free end, of the spring that was worn until then or, where it was seated
// first, of that one.
func (r *visitReader) gauge(t *section, v *design.Visit, before *design.Visit) {
	if !t.has("gauge_n") {
		for _, key := range [...]string{"gauge_sd_n", "pulled_mm"} {
			if t.has(key) {
				t.blame(key, "is given without gauge_n", "write what the gauge read, or leave it out")
			}
		}
		return
	}
	reading := GaugeWay{SD: t.optional("gauge_sd_n", span{unit: quantity.Newton, low: smallestReadingSD, high: 5}, usualReadGaugeN)}
	reading.ForceN = t.needed("gauge_n", span{unit: quantity.Newton, high: largestGaugeN}, "")
	worn := v.Spring
	if before != nil && before.SpringFile != "" {
		worn = before.Spring
	}
	var way *GaugeWay
	if r.of.Gauge != nil && worn.Path.WireLengthMM() > 0 {
		way = r.of.Gauge(worn)
	}
	pulled := 0.0
	if t.has("pulled_mm") {
		pulled = t.needed("pulled_mm", span{unit: quantity.Millimetre, low: 0.3, high: 20}, "")
	}
	switch {
	case way != nil:
		reading.Axis, reading.TravelMM = way.Axis, way.TravelMM
		if pulled > 0 {
			reading.TravelMM = math.Copysign(pulled, reading.TravelMM)
		}
		v.Gauge = &reading
	case worn.Path.WireLengthMM() > 0 && r.of.Gauge != nil:
		t.blame("gauge_n", "is given, but this spring has no gauge check", "leave it out: a gauge at its end shows nothing of it")
	}
}

// checked holds a visit against the check value at its end: that of all that stands above it in the file.
func (r *visitReader) checked(t *section) {
	e := t.ask("check")
	if e == nil {
		t.missing("check", "visits are written by \"springwright visit --add\"; what was added by hand give to that as a file of its own")
		return
	}
	above := bytes.Join(r.lines[:min(e.at.line-1, len(r.lines))], nil)
	if want := FingerprintOf(above); e.value.text != want {
		t.blame("check", "does not fit what stands above it: the file was changed after this visit was written",
			"put back a copy of the file; a wrong number is put right by giving the last visit anew with corrects")
	}
}

// AppendVisit is a history with one more visit: what was there stays as it is, to the byte. form is what
// ReadVisit has read v from.
func AppendVisit(history, form []byte, v design.Visit, of VisitsOf) ([]byte, error) {
	var b bytes.Buffer
	b.Write(history)
	if len(history) == 0 {
		fmt.Fprintf(&b, "# Visits of a case. \"springwright visit --add\" writes at the end; nothing that stands here is ever changed:\n"+
			"# a wrong visit is given anew with corrects.\n\ncase = %s\ncase_check = %s\n", Quoted(of.Case.Code), Quoted(of.Check))
	} else if history[len(history)-1] != '\n' {
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "\n[[visit]]  # %d\ndate = %s\ndone = %s\n", v.Number, day(v.Date), Quoted(v.Done.String()))
	if v.Done.NewSpring() {
		_, check, err := of.Spring(v.SpringFile)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "spring = %s\nspring_check = %s\n", Quoted(v.SpringFile), Quoted(check))
	}
	for _, e := range Values(form) {
		if e.Key != "date" && e.Key != "done" && e.Key != "spring" {
			fmt.Fprintf(&b, "%s = %s\n", e.Key, e.Value)
		}
	}
	fmt.Fprintf(&b, "check = %s\n", Quoted(FingerprintOf(plainLines(b.Bytes()))))
	return b.Bytes(), nil
}
