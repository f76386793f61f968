package casefile

import (
	"springwright/design/spring"
	"springwright/design/tooth"
)

// Marks are what was told of the springs of a class.
type Marks struct {
	Case     string
	Teeth    tooth.Pair
	Bands    []ClassBand
	Below    string
	Students []StudentMark
	NotRead  []NotRead
	Missing  []string // codes of those of whom nothing was handed in
	Steps    []StepMarks
}

// StudentMark is what was told of one student's spring.
type StudentMark struct {
	Number int
	Code   string
	Source string
	Grade  string // "" where not every bend was measured
	Steps  []MarkedStep
	Keys   []string // of the steps of his path
	Path   spring.Steps
	Drawn  [2]tooth.Load // on the active tooth and the anchor, at the start, as the sheet has it
	// Bent is nil where the spring as it came out cannot be seated, or nothing of it could be reckoned: then Why says it.
	Bent       *[2]tooth.Load
	Why        string
	Met        bool
	Chance     float64
	Correction *AdjustedChange
	Then       float64 // the chance after it
}

// MarkedStep is a step that was measured: by how much it is off in size, mm or rad, above 0 for more than drawn.
type MarkedStep struct {
	Step                 int
	Drawn, Measured, Off float64
}

// NotRead is what was handed in and could not be read.
type NotRead struct{ Source, Code, Reason, Hint string }

// StepMarks is how a class did at one step.
type StepMarks struct {
	Key      string
	Angle    bool // rad; else mm
	Measured int
	MeanOff  float64
	ByGrade  []int // students for whose step that grade's band holds, and last those beyond all
	Worst    int   // students of whose spring it was the worst
}

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
		adjustedChangeJSON
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
func WriteMarks(from Origin, m Marks) ([]byte, error) {
	var w recordWriter
	w.place = "bands"
	out := marksJSON{
		Case: m.Case, Teeth: teethOf(m.Teeth), Bands: w.bands(m.Bands), Below: m.Below,
		Students: []studentMarkJSON{}, NotRead: []notReadJSON{}, Missing: append([]string{}, m.Missing...), Steps: []stepMarksJSON{},
	}
	of := func(angle bool, key string, v float64) figure {
		if angle {
			return w.degrees(key, v)
		}
		return w.number(key, v)
	}
	for _, s := range m.Students {
		w.place = s.Code
		one := studentMarkJSON{
			Number: s.Number, Code: s.Code, Source: s.Source, Grade: s.Grade, Steps: []markedStepJSON{}, Why: s.Why,
			AsDrawn: loadsJSON{w.load("as_drawn", s.Drawn[0]), w.load("as_drawn", s.Drawn[1])},
		}
		for _, d := range s.Steps {
			angle := s.Path[d.Step].Kind != spring.Straight
			one.Steps = append(one.Steps, markedStepJSON{s.Keys[d.Step], of(angle, "drawn", d.Drawn), of(angle, "measured", d.Measured), of(angle, "off", d.Off)})
		}
		if s.Bent != nil {
			one.AsBent = &loadsJSON{w.load("as_bent", s.Bent[0]), w.load("as_bent", s.Bent[1])}
		}
		if s.Why == "" {
			met, chance := s.Met, w.number("chance", s.Chance)
			one.Met, one.Chance = &met, &chance
		}
		if c := s.Correction; c != nil {
			one.Correction = &markChangeJSON{adjustedChangeJSON{s.Keys[c.Step], c.Fresh, w.degrees("by_deg", c.ByRad)}, w.number("chance", s.Then)}
		}
		out.Students = append(out.Students, one)
	}
	for _, n := range m.NotRead {
		out.NotRead = append(out.NotRead, notReadJSON(n))
	}
	for _, s := range m.Steps {
		w.place = s.Key
		out.Steps = append(out.Steps, stepMarksJSON{s.Key, s.Measured, of(s.Angle, "mean_off", s.MeanOff), s.ByGrade, s.Worst})
	}
	return w.written(struct {
		headJSON
		marksJSON
	}{headOfLoads(MarksFormat, from, m.Teeth), out})
}
