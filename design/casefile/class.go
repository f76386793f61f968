package casefile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"springwright/design/course"
	"springwright/design/fault"
)

// ClassFile is what marking goes by of a class that was handed out.
type ClassFile struct {
	Case     string
	Seed     uint64
	Tag      int // on the cards
	Bands    course.Bands
	Students []ClassEntry
}

// ClassEntry is a student with the files of his sheet, beside the class file.
type ClassEntry struct {
	Number               int
	Code                 string
	CaseFile, SpringFile string
}

// EntryOf is a student's, under the names that his files have.
func EntryOf(s course.Student) ClassEntry {
	return ClassEntry{s.Number, s.Code(), fmt.Sprintf("case-%d.toml", s.Number), fmt.Sprintf("spring-%d.toml", s.Number)}
}

type (
	classJSON struct {
		Case       string             `json:"case"`
		Teeth      *teethJSON         `json:"teeth,omitempty"`
		Seed       uint64             `json:"seed"`
		Tag        int                `json:"tag"`
		Bands      []classBandJSON    `json:"bands"`
		Below      string             `json:"below"`
		Hardness   classHardnessJSON  `json:"hardness"`
		Drawn      classDrawnJSON     `json:"drawn"`
		LeastApart *classApartJSON    `json:"least_apart,omitempty"`
		Students   []classStudentJSON `json:"students"`
	}
	classBandJSON struct {
		Grade    string `json:"grade"`
		AngleDeg figure `json:"angle_deg"`
		LengthMM figure `json:"length_mm"`
		Met      bool   `json:"meets_target"`
	}
	classHardnessJSON struct {
		Bends        int    `json:"bends"`
		Share        figure `json:"share"`
		LargestDeg   figure `json:"largest_angle_deg"`
		ToleranceDeg figure `json:"least_tolerance_deg"`
	}
	classDrawnJSON struct {
		Drawn         int `json:"variants"`
		Unmet         int `json:"unmet"`
		OtherKind     int `json:"other_kind"`
		OtherHardness int `json:"other_hardness"`
		Alike         int `json:"alike"`
	}
	classApartJSON struct {
		AngleDeg figure `json:"angle_deg"`
		LengthMM figure `json:"length_mm"`
	}
	classStudentJSON struct {
		Number     int               `json:"number"`
		Code       string            `json:"code"`
		CaseFile   string            `json:"case_file"`
		SpringFile string            `json:"spring_file"`
		Hardness   classHardnessJSON `json:"hardness"`
		Active     loadJSON          `json:"active"`
		Anchor     loadJSON          `json:"anchor"`
		Class      string            `json:"geometry_class,omitempty"`
		NoCoupleMM *figure           `json:"no_couple_at_mm,omitempty"`
		WhatIf     *classWhatIfJSON  `json:"what_if,omitempty"`
	}
	classWhatIfJSON struct {
		Bend   int       `json:"bend"`
		Active *loadJSON `json:"active,omitempty"`
		Anchor *loadJSON `json:"anchor,omitempty"`
	}
)

// WriteClass writes a class as JSON. A number that is not finite is an error.
func WriteClass(from Origin, c course.Class) ([]byte, error) {
	var w recordWriter
	w.place = "class"
	out := classJSON{
		Case: c.Case.Code, Teeth: teethOf(c.Case.Teeth), Seed: c.Seed, Tag: int(c.Tag), Below: c.Bands.Below, Hardness: w.hardness(c.Hardness),
		Drawn: classDrawnJSON(c.Tried), Bands: w.bands(c.Bands), Students: []classStudentJSON{},
	}
	if c.LeastApart != (course.Apart{}) {
		out.LeastApart = &classApartJSON{w.degrees("least_apart", c.LeastApart.AngleRad), w.number("least_apart", c.LeastApart.LengthMM)}
	}
	for _, s := range c.Students {
		w.place = s.Code()
		entry := EntryOf(s)
		one := classStudentJSON{
			Number: entry.Number, Code: entry.Code, CaseFile: entry.CaseFile, SpringFile: entry.SpringFile, Hardness: w.hardness(s.Hardness),
			Active: w.load("active", s.Answer.Active), Anchor: w.load("anchor", s.Answer.Anchor), Class: s.Answer.Class.String(),
		}
		if s.Answer.HasNothing {
			at := w.number("no_couple_at_mm", s.Answer.NothingMM)
			one.NoCoupleMM = &at
		}
		if s.Answer.Bend > 0 {
			one.WhatIf = &classWhatIfJSON{Bend: s.Answer.Bend}
			if s.Answer.Seated {
				active, anchor := w.load("what_if.active", s.Answer.WhatIf[0]), w.load("what_if.anchor", s.Answer.WhatIf[1])
				one.WhatIf.Active, one.WhatIf.Anchor = &active, &anchor
			}
		}
		out.Students = append(out.Students, one)
	}
	return w.written(struct {
		headJSON
		classJSON
	}{headOfLoads(ClassFormat, from, c.Case.Teeth), out})
}

func (w *recordWriter) degrees(key string, rad float64) figure {
	return w.number(key, bendSpan.unit.Outside(rad))
}

func (w *recordWriter) hardness(h course.Hardness) classHardnessJSON {
	return classHardnessJSON{h.Bends, w.number("share", h.Share), w.degrees("largest_angle_deg", h.LargestAngleRad), w.degrees("least_tolerance_deg", h.LeastToleranceRad)}
}

func (w *recordWriter) bands(bands course.Bands) []classBandJSON {
	all := []classBandJSON{}
	for _, b := range bands.List {
		all = append(all, classBandJSON{b.Grade, w.degrees("angle_deg", b.AngleRad), w.number("length_mm", b.LengthMM), b.Met})
	}
	return all
}

// ReadClass reads from a class file what marking goes by: whom it lists, the tag of the cards and the bands. The
// error is a fault.List.
//
// In one piece: one document, read from its first key to its last.
func ReadClass(name string, data []byte) (ClassFile, error) {
	bad := func(text, hint string) (ClassFile, error) {
		return ClassFile{}, fault.List{{File: name, Line: 1, Column: 1, Text: text, Hint: hint}}
	}
	const again = "make the class again by \"springwright handout\", with the same case, number of students and seed"
	var read struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
		Case    string `json:"case"`
		Tag     int    `json:"tag"`
		Seed    uint64 `json:"seed"`
		Below   string `json:"below"`
		Bands   []struct {
			Grade    string  `json:"grade"`
			AngleDeg float64 `json:"angle_deg"`
			LengthMM float64 `json:"length_mm"`
			Met      bool    `json:"meets_target"`
		} `json:"bands"`
		Students []struct {
			Number     int    `json:"number"`
			Code       string `json:"code"`
			CaseFile   string `json:"case_file"`
			SpringFile string `json:"spring_file"`
		} `json:"students"`
	}
	if len(data) > 4*largestFile {
		return bad(fmt.Sprintf("the file has %d bytes, more than the allowed %d", len(data), 4*largestFile), "is this the right file?")
	}
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(&read); err != nil {
		return bad("is no class file: "+strings.Split(err.Error(), "\n")[0], again)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return bad("has something behind its end", again)
	}
	switch {
	case read.Format != string(ClassFormat):
		return bad(fmt.Sprintf("has the format %q, not %q", shorten(read.Format), ClassFormat), "name the folder that \"springwright handout\" wrote")
	case read.Version != FormatVersion:
		return bad(fmt.Sprintf("is of version %d of its format, this program reads version %d", read.Version, FormatVersion), again)
	case len(read.Students) == 0 || len(read.Students) > course.MostStudents:
		return bad(fmt.Sprintf("lists %d students (allowed: 1 to %d)", len(read.Students), course.MostStudents), again)
	}
	c := ClassFile{Case: read.Case, Tag: read.Tag, Seed: read.Seed, Bands: course.Bands{Below: read.Below}}
	for _, b := range read.Bands {
		c.Bands.List = append(c.Bands.List, course.Band{Grade: b.Grade, AngleRad: bendSpan.unit.Inside(b.AngleDeg), LengthMM: b.LengthMM, Met: b.Met})
	}
	if err := c.Bands.Check(); err != nil {
		return bad("has bands that grade nothing: "+err.Error(), again)
	}
	seen := map[string]bool{}
	for i, s := range read.Students {
		code := strings.ToLower(s.Code)
		switch {
		case s.Number != i+1:
			return bad(fmt.Sprintf("student %d has the number %d", i+1, s.Number), again)
		case code == "" || seen[code]:
			return bad(fmt.Sprintf("student %d has no code of his own", i+1), again)
		case !plainName(s.CaseFile) || !plainName(s.SpringFile):
			return bad(fmt.Sprintf("student %d has files outside the folder", i+1), again)
		}
		seen[code] = true
		c.Students = append(c.Students, ClassEntry(s))
	}
	return c, nil
}

// plainName tells whether a name is that of a file of the same folder, on every system.
func plainName(name string) bool {
	return name != "" && name != "." && name != ".." && !strings.ContainsAny(name, `/\:`) && !strings.ContainsFunc(name, func(r rune) bool { return r < ' ' })
}
