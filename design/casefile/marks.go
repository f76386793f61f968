package casefile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"springwright/design/course"
	"springwright/design/fault"
	"springwright/design/photo"
)

type (
	marksJSON struct {
		Case     string            `json:"case"`
		Teeth    *teethJSON        `json:"teeth,omitempty"`
		Bands    []classBandJSON   `json:"bands"`
		Below    string            `json:"below"`
		Students []studentMarkJSON `json:"students"`
		NotRead  []notReadJSON     `json:"not_read"`
		Missing  []string          `json:"missing"`
		Steps    []stepMarksJSON   `json:"steps"`
	}
	studentMarkJSON struct {
		Number     int              `json:"number"`
		Code       string           `json:"code"`
		Source     string           `json:"source"`
		Grade      string           `json:"grade,omitempty"`
		Steps      []markedStepJSON `json:"steps"`
		AsDrawn    loadsJSON        `json:"as_drawn"`
		AsBent     *loadsJSON       `json:"as_bent,omitempty"`
		Why        string           `json:"not_reckoned,omitempty"`
		Met        *bool            `json:"meets_target,omitempty"`
		Chance     *figure          `json:"chance,omitempty"`
		Correction *markChangeJSON  `json:"correction,omitempty"`
	}
	markedStepJSON struct {
		Name     string `json:"name"`
		Drawn    figure `json:"drawn"`
		Measured figure `json:"measured"`
		Off      figure `json:"off"`
	}
	markChangeJSON struct {
		Name   string `json:"name"`
		Fresh  bool   `json:"fresh"`
		ByDeg  figure `json:"by_deg"`
		Chance figure `json:"chance"`
	}
	notReadJSON struct {
		Source string `json:"source"`
		Code   string `json:"code,omitempty"`
		Reason string `json:"reason"`
		Hint   string `json:"hint,omitempty"`
	}
	stepMarksJSON struct {
		Name     string `json:"name"`
		Measured int    `json:"measured"`
		MeanOff  figure `json:"mean_off"`
		ByGrade  []int  `json:"by_grade"`
		Worst    int    `json:"worst"`
	}
)

// WriteMarks writes marks as JSON. A number that is not finite is an error.
func WriteMarks(from Origin, m course.Marks) ([]byte, error) {
	var w recordWriter
	w.place = "bands"
	out := marksJSON{
		Case: m.Class.Case.Code, Teeth: teethOf(m.Class.Case.Teeth), Bands: w.bands(m.Bands), Below: m.Bands.Below,
		Students: []studentMarkJSON{}, NotRead: []notReadJSON{}, Missing: append([]string{}, m.Missing...), Steps: []stepMarksJSON{},
	}
	of := func(angle bool, key string, v float64) figure {
		if angle {
			return w.degrees(key, v)
		}
		return w.number(key, v)
	}
	var keys []string // of the longest path: those of the class are all of one kind
	for _, s := range m.Marks {
		w.place = s.Student.Code()
		own := StepKeys(s.Student.Spring.Path)
		if len(own) > len(keys) {
			keys = own
		}
		one := studentMarkJSON{Number: s.Student.Number, Code: s.Student.Code(), Source: s.Source, Grade: s.Grade, Steps: []markedStepJSON{}}
		drawn := s.Student.Answer
		one.AsDrawn = loadsJSON{w.load("as_drawn", drawn.Active), w.load("as_drawn", drawn.Anchor)}
		for _, d := range s.Steps {
			one.Steps = append(one.Steps, markedStepJSON{own[d.Step], of(d.Number > 0, "drawn", d.Drawn), of(d.Number > 0, "measured", d.Measured), of(d.Number > 0, "off", d.Off)})
		}
		if loads, ok := s.Bent(); ok {
			one.AsBent = &loadsJSON{w.load("as_bent", loads[0]), w.load("as_bent", loads[1])}
		}
		if s.NotReckoned != nil {
			one.Why, _, _ = strings.Cut(s.NotReckoned.Error(), "\n")
		}
		if s.Report != nil {
			met, chance := s.Met(), w.number("chance", s.Report.AsBent.Trial.Chance())
			one.Met, one.Chance = &met, &chance
			if c := s.Report.One; c != nil {
				by := c.Corrections[0]
				one.Correction = &markChangeJSON{own[by.Step], by.Fresh, w.degrees("by_deg", by.ByRad), w.number("chance", c.Trial.Chance())}
			}
		}
		out.Students = append(out.Students, one)
	}
	for _, n := range m.NotRead {
		reason, hint := ReasonOf(n.Err)
		out.NotRead = append(out.NotRead, notReadJSON{n.Source, n.Code, reason, hint})
	}
	for _, t := range m.Tallies() {
		w.place = keys[t.Step]
		out.Steps = append(out.Steps, stepMarksJSON{keys[t.Step], t.Measured, of(t.Number > 0, "mean_off", t.MeanOff), t.ByGrade, t.Worst})
	}
	return w.written(struct {
		headJSON
		marksJSON
	}{headOfLoads(MarksFormat, from, m.Class.Case.Teeth), out})
}

// ReasonOf is in one line why something was not read, and what to do.
func ReasonOf(err error) (reason, hint string) {
	var faults fault.List
	if errors.As(err, &faults) && len(faults) > 0 {
		f := faults[0]
		hint, f.Hint = f.Hint, ""
		if reason = f.Error(); len(faults) > 1 {
			reason += fmt.Sprintf("; and %d more", len(faults)-1)
		}
		return reason, hint
	}
	var picture *photo.PictureError
	if errors.As(err, &picture) {
		return picture.Error(), picture.Reason.Hint()
	}
	reason, _, _ = strings.Cut(err.Error(), "\n")
	return reason, ""
}

// MarksTable is the marks as comma-separated values (RFC 4180), a row for each student and for what was not read: what
// each bend and straight is off by, in degrees and mm, above 0 for more than drawn.
func MarksTable(m course.Marks) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	write := func(cells ...string) { _ = w.Write(cells) } // a buffer takes everything
	var keys []string
	for _, s := range m.Class.Students {
		if own := StepKeys(s.Spring.Path); len(own) > len(keys) {
			keys = own
		}
	}
	head := []string{"code", "grade", "source", "meets_target", "chance", "correct", "by_deg", "not_reckoned"}
	for _, k := range keys {
		head = append(head, "off_"+k)
	}
	write(head...)
	fixed := func(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
	for _, s := range m.Marks {
		row := make([]string, len(head))
		row[0], row[1], row[2] = s.Student.Code(), s.Grade, s.Source
		if s.Report != nil {
			row[3], row[4] = strconv.FormatBool(s.Met()), fixed(s.Report.AsBent.Trial.Chance(), 2)
			if c := s.Report.One; c != nil {
				by := c.Corrections[0]
				row[5], row[6] = StepKeys(s.Student.Spring.Path)[by.Step], fixed(bendSpan.unit.Outside(by.ByRad), 1)
			}
		}
		if s.NotReckoned != nil {
			row[7], _ = ReasonOf(s.NotReckoned)
		}
		for _, o := range s.Steps {
			v, decimals := o.Off, 2
			if o.Number > 0 {
				v, decimals = bendSpan.unit.Outside(v), 1
			}
			row[8+o.Step] = fixed(v, decimals)
		}
		write(row...)
	}
	for _, n := range m.NotRead {
		row := make([]string, len(head))
		row[0], row[2] = n.Code, n.Source
		row[7], _ = ReasonOf(n.Err)
		row[7] = "not read: " + row[7]
		write(row...)
	}
	w.Flush()
	return b.Bytes()
}
