package casefile_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/spring"
	"springwright/design/tooth"
)

// visitsOf is the molar case with a spring made for it.
func visitsOf(t testing.TB) casefile.VisitsOf {
	t.Helper()
	c, err := casefile.ReadCase("case.toml", []byte(molarCase))
	if err != nil {
		t.Fatal(err)
	}
	s := c.SpringFor(spring.PathOf(spring.StraightStep(4), spring.BendStep(1, 1), spring.StraightStep(4)))
	return casefile.VisitsOf{
		Case: c, Check: "0123456789",
		Spring: func(name string) (spring.Spring, string, error) {
			if strings.HasPrefix(name, "spring") {
				return s, "check-" + name[:6], nil
			}
			return spring.Spring{}, "", errors.New("cannot be read")
		},
		Gauge: func(spring.Spring) *casefile.GaugeWay {
			return &casefile.GaugeWay{Axis: tooth.ForceZ, TravelMM: 2}
		},
	}
}

// history is one of three visits.
func history(t testing.TB, of casefile.VisitsOf) []byte {
	t.Helper()
	var data []byte
	for _, form := range []string{
		"date = 2026-03-02\ndone = \"seated\"\n",
		"date = 2026-04-06\ndone = \"left as it is\"\ngauge_n = 0.4\n[now]\nalong_mm = 12.4\nocclusal_mm = \"1.6mm\"\nbuccal_mm = 0.5\ncrown_mesial_tip_deg = 5\n[anchor_moved]\nmesial_mm = 0.2\n",
		"date = 2026-05-11\ndone = \"re-activated\"\nspring = \"spring-2.toml\"\nnote = \"tied anew\"\n[now]\nalong_mm = 12.4\nocclusal_mm = 1.1\nbuccal_mm = 0.5\ncrown_mesial_tip_deg = 3\n",
	} {
		data = appended(t, data, form, of)
	}
	return data
}

func appended(t testing.TB, data []byte, form string, of casefile.VisitsOf) []byte {
	t.Helper()
	var visits []design.Visit
	var stand []int
	var err error
	if data != nil {
		if visits, stand, err = casefile.ReadHistory("visits.toml", data, of); err != nil {
			t.Fatal(err)
		}
	}
	v, _, err := casefile.ReadVisit("today.toml", []byte(form), of, visits, stand)
	if err != nil {
		t.Fatalf("%v\n%s", err, form)
	}
	more, err := casefile.AppendVisit(data, []byte(form), v, of)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(more, data) {
		t.Fatalf("what was there has changed:\n%s\n%s", data, more)
	}
	return more
}

// What was written at a visit is read again at the next, on the axes of the case, and a visit that is
// corrected stays in the file without standing.
func TestHistoryIsAppendedTo(t *testing.T) {
	t.Parallel()
	of := visitsOf(t)
	data := history(t, of)
	data = appended(t, data, "date = 2026-05-11\ncorrects = 3\ndone = \"left as it is\"\n[now]\nalong_mm = 12.4\nocclusal_mm = 1.2\nbuccal_mm = 0.5\ncrown_mesial_tip_deg = 3\n", of)
	visits, stand, err := casefile.ReadHistory("visits.toml", data, of)
	if err != nil {
		t.Fatal(err)
	}
	if len(visits) != 4 || fmt.Sprint(stand) != "[0 1 3]" {
		t.Fatalf("%d visits, of which %v stand", len(visits), stand)
	}
	v, c := visits[1], of.Case
	if v.Done != design.LeftAsIs || v.SpringFile != "spring.toml" || v.Gauge == nil || v.Gauge.ForceN != 0.4 || v.Gauge.TravelMM != 2 {
		t.Errorf("read as %+v", v)
	}
	for k, want := range map[tooth.Component]float64{tooth.ForceX: 12.4, tooth.ForceZ: -1.6, tooth.ForceY: 0.5 * c.Teeth.BuccalSign(), tooth.CoupleY: 5 * math.Pi / 180 * c.Teeth.ClinicalSign(tooth.CoupleY)} {
		if !v.Known[k] || math.Abs(v.Now.At(k)-want) > 1e-12 {
			t.Errorf("component %v is %v, known %v, want %v", k, v.Now.At(k), v.Known[k], want)
		}
	}
	if v.Known[tooth.CoupleX] || v.Now.At(tooth.CoupleX) != c.Now.At(tooth.CoupleX) {
		t.Errorf("what was not measured is %v, known %v", v.Now.At(tooth.CoupleX), v.Known[tooth.CoupleX])
	}
	if !v.AnchorKnown[tooth.ForceX] || v.Anchor[tooth.ForceX] != 0.2*c.Teeth.MesialSign() {
		t.Errorf("the anchor has moved %v", v.Anchor)
	}
	if visits[3].SpringFile != "spring.toml" {
		t.Errorf("in the mouth is %s, want the spring before the visit that is corrected", visits[3].SpringFile)
	}
	// Editors that write returns and a byte-order mark change no number.
	if _, _, err := casefile.ReadHistory("v", []byte("\ufeff"+strings.ReplaceAll(string(data), "\n", "\r\n")), of); err != nil {
		t.Errorf("with returns: %v", err)
	}
}

// Each form of a blank visit is, with the numbers of the case behind it, one that can be read.
func TestVisitFormsReadBack(t *testing.T) {
	t.Parallel()
	of := visitsOf(t)
	first := strings.Replace(string(casefile.VisitForm(of.Case, nil)), "# date", "date", 1)
	v, _, err := casefile.ReadVisit("first", []byte(first), of, nil, nil)
	if err != nil || v.Done != design.SeatedFirst || v.SpringFile != "spring.toml" {
		t.Errorf("the form of the first visit is read as %+v, %v", v, err)
	}
	next := string(casefile.VisitForm(of.Case, []design.Visit{v}))
	for _, line := range strings.Split(next, "\n") {
		if key, _, ok := strings.Cut(strings.TrimPrefix(line, "# "), " = "); ok && line != key && !strings.Contains(key, " ") && key != "spring" && key != "corrects" && key != "pulled_mm" {
			next = strings.Replace(next, line, strings.TrimPrefix(line, "# "), 1)
		}
	}
	next = strings.Replace(strings.Replace(next, "date = 2026-03-02", "date = 2026-04-02", 1), "# [anchor_moved]", "[anchor_moved]", 1)
	read, _, err := casefile.ReadVisit("next", []byte(next), of, []design.Visit{v}, []int{0})
	if err != nil {
		t.Fatalf("%v\n%s", err, next)
	}
	if read.Known != [tooth.Components]bool{true, true, true, true, true, true} || read.AnchorKnown != read.Known {
		t.Errorf("known are %v and %v", read.Known, read.AnchorKnown)
	}
	for k := range tooth.Components {
		if math.Abs(read.Now.At(k)-of.Case.Now.At(k)) > 1e-6 {
			t.Errorf("component %v is %v, in the case %v", k, read.Now.At(k), of.Case.Now.At(k))
		}
	}
}

// What cannot be is refused, with its place and what to do.
func TestVisitFaults(t *testing.T) {
	t.Parallel()
	of := visitsOf(t)
	before, stand, err := casefile.ReadHistory("visits.toml", history(t, of), of)
	if err != nil {
		t.Fatal(err)
	}
	const good = "[now]\nalong_mm = 12.4\nocclusal_mm = 0.8\nbuccal_mm = 0.5\ncrown_mesial_tip_deg = 2\n"
	for _, test := range []struct{ form, key, text, hint string }{
		{"date = 2026-05-11\ndone = \"left as it is\"\n" + good, "date", "is not after the last visit", "corrects = 3"},
		{"date = 2026-04-01\ndone = \"left as it is\"\n" + good, "date", "2026-04-01 is not after the last visit, 2026-05-11", ""},
		{"date = 2062-06-15\ndone = \"left as it is\"\n" + good, "date", "is more than 2 years after the last visit, 2026-05-11", "check the year"},
		{"date = 2026-02-30\ndone = \"left as it is\"\n" + good, "", "", ""},
		{"date = \"June\"\ndone = \"left as it is\"\n" + good, "date", "is no day of the calendar", "2026-03-02"},
		{"done = \"left as it is\"\n" + good, "date", "is missing", ""},
		{"date = 2026-06-15\n" + good, "done", "is missing", ""},
		{"date = 2026-06-15\ndone = \"seated\"\n" + good, "done", "not a known word", "re-activated"},
		{"date = 2026-06-15\ndone = \"remade\"\n" + good, "spring", "is missing", ""},
		{"date = 2026-06-15\ndone = \"remade\"\nspring = \"../x\"\n" + good, "spring", "no file inside the case folder", ""},
		{"date = 2026-06-15\ndone = \"remade\"\nspring = \"other.toml\"\n" + good, "spring", "cannot be read", ""},
		{"date = 2026-06-15\ndone = \"left as it is\"\nspring = \"spring.toml\"\n" + good, "spring", "stands beside done", ""},
		{"date = 2026-06-15\ndone = \"left as it is\"\n", "now", "is missing", ""},
		{"date = 2026-06-15\ndone = \"left as it is\"\n[now]\nalong_mm = 12.4\nbuccal_mm = 0\ncrown_mesial_tip_deg = 2\n", "now.apical_mm", "is missing", "occlusal_mm"},
		{"date = 2026-06-15\ndone = \"left as it is\"\n[now]\nalong_mm = 22.4\nocclusal_mm = 0.8\nbuccal_mm = 0.5\ncrown_mesial_tip_deg = 2\n", "now.along_mm", "10.0 mm off from where it was on 2026-05-11", "centre"},
		{"date = 2026-05-13\ndone = \"left as it is\"\n[now]\nalong_mm = 12.4\napical_mm = 1.1\nbuccal_mm = 0.5\ncrown_mesial_tip_deg = 2\n", "now.apical_mm", "is 2.2 mm off", "other way"},
		{"date = 2026-06-15\ndone = \"left as it is\"\ngauge_sd_n = 0.1\n" + good, "gauge_sd_n", "without gauge_n", ""},
		{"date = 2026-06-15\ndone = \"left as it is\"\ncorrects = 2\n" + good, "corrects", "not the number of the last visit", ""},
		{"date = 2026-06-15\ndone = \"left as it is\"\ncheck = \"1\"\n" + good, "check", "not a known key", ""},
		{"date = 2026-06-15\ndone = \"left as it is\"\n[now]\nalong_mm = 12.4\nocclusal_mm = 0.5\napical_mm = 0\nbuccal_mm = 0\n", "now.occlusal_mm", "stands beside", ""},
		{"date = 2026-06-15\ndone = \"left as it is\"\nnote = \"a\\nb\"\n" + good, "note", "cannot be printed", ""},
	} {
		_, _, err := casefile.ReadVisit("today.toml", []byte(test.form), of, before, stand)
		var list fault.List
		if !errors.As(err, &list) {
			t.Errorf("%q: error %v", test.form, err)
			continue
		}
		found := false
		for _, f := range list {
			found = found || f.Line > 0 && f.Column > 0 && f.File == "today.toml" && f.Key == test.key && strings.Contains(f.Text, test.text) && strings.Contains(f.Hint, test.hint)
		}
		if !found {
			t.Errorf("%q: %v; want %s: %s, hint %s", test.form, err, test.key, test.text, test.hint)
		}
	}
}

// A history that was changed, or is another case's, is refused with the place.
func TestHistoryFaults(t *testing.T) {
	t.Parallel()
	of := visitsOf(t)
	good := string(history(t, of))
	other := of
	other.Check = "9876543210"
	for _, test := range []struct {
		name, old, new, key, text string
		of                        casefile.VisitsOf
	}{
		{"an old number changed", "12.4", "12.3", "visit[2].check", "was changed after this visit", of},
		{"a comment put in", "[[visit]]  # 2", "[[visit]]  # two", "visit[2].check", "was changed", of},
		{"a check left out", "\ncheck = ", "\n# check = ", "visit[1].check", "is missing", of},
		{"another case file", "", "", "case_check", "case was changed after", other},
		{"another case", "case = \"" + of.Case.Code, "case = \"x" + of.Case.Code, "case", "is not the case of this folder", of},
		{"another spring", "check-spring", "check-sprang", "visit[1].spring_check", "is not the file that was there", of},
		{"no case", "case_check", "# case_check", "", "does not say of which case", of},
		{"no visits", good, "case = \"" + of.Case.Code + "\"\ncase_check = \"0123456789\"\n", "", "holds no visit", of},
	} {
		_, _, err := casefile.ReadHistory("visits.toml", []byte(strings.Replace(good, test.old, test.new, 1)), test.of)
		var list fault.List
		if !errors.As(err, &list) {
			t.Errorf("%s: error %v", test.name, err)
			continue
		}
		found := false
		for _, f := range list {
			found = found || f.Line > 0 && f.Column > 0 && f.Key == test.key && strings.Contains(f.Text, test.text) && f.Hint != ""
		}
		if !found {
			t.Errorf("%s: %v; want %s: %s", test.name, err, test.key, test.text)
		}
	}
}

// A case file for a spring that is made anew has the places of today, the same goal, and a code of its own.
func TestRemadeCase(t *testing.T) {
	t.Parallel()
	of := visitsOf(t)
	now := of.Case.Now
	now.CentreMM.X -= 0.4
	now.CentreMM.Y += 0.25
	now.Rotation.Y = 0.05
	data, err := casefile.RemadeCase([]byte(molarCase), of.Case, now, 2)
	if err != nil {
		t.Fatal(err)
	}
	c, err := casefile.ReadCase("remade", data)
	if err != nil {
		t.Fatal(err)
	}
	if c.Code != of.Case.Code+"-2" {
		t.Errorf("code %s", c.Code)
	}
	for k := range tooth.Components {
		slack := 0.0051 // hundredths
		if k.Couple() {
			slack *= math.Pi / 180
		}
		if math.Abs(c.Now.At(k)-now.At(k)) > slack || math.Abs(c.Goal.At(k)-of.Case.Goal.At(k)) > slack {
			t.Errorf("component %v goes from %v to %v, want %v to %v", k, c.Now.At(k), c.Goal.At(k), now.At(k), of.Case.Goal.At(k))
		}
	}
}

func FuzzReadHistory(f *testing.F) {
	of := visitsOf(f)
	good := history(f, of)
	f.Add(good, []byte("date = 2026-06-15\ndone = \"left as it is\"\n[now]\nalong_mm = 12.4\nocclusal_mm = 0.5\nbuccal_mm = 0\ncrown_mesial_tip_deg = 2\n"))
	for _, seed := range []string{
		"visit = 3", "[[visit]]\ndate = 2026-03-02T07:00:00Z", "visit = [1, {date = 1}]", "case = \"x\"\ncase_check = 1\n[visit]", "[[visit]]\nnow = 3\ncheck = []",
		"[[visit]]\n[[visit.now]]\nalong_mm = nan", "corrects = -1\nnow = {along_mm = 1e308}", "date = 0001-01-01\nanchor_moved = {mesial_mm = inf}", "spring = \"\\u0000\"",
	} {
		f.Add([]byte(seed), []byte(seed))
	}
	f.Fuzz(func(t *testing.T, data, form []byte) {
		visits, stand, err := casefile.ReadHistory("h", data, of)
		if err != nil {
			checkFaults(t, err)
			visits, stand, _ = casefile.ReadHistory("h", good, of)
			data = good
		}
		for _, v := range visits {
			checkVisit(t, v)
		}
		v, _, err := casefile.ReadVisit("f", form, of, visits, stand)
		if err != nil {
			checkFaults(t, err)
			return
		}
		checkVisit(t, v)
		more, err := casefile.AppendVisit(data, form, v, of)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(more, data) {
			t.Error("what was there has changed")
		}
		if again, _, err := casefile.ReadHistory("h", more, of); err != nil || len(again) != len(visits)+1 {
			t.Errorf("what was appended is refused: %v\n%s", err, more)
		}
	})
}

func checkVisit(t *testing.T, v design.Visit) {
	t.Helper()
	checkFinite(t, append(components(v.Now.CentreMM), components(v.Now.Rotation)...)...)
	checkFinite(t, v.Anchor[:]...)
	checkFinite(t, v.PlaceSDMM, v.TurnSDRad, v.AnchorSDMM, v.AnchorSDRad)
	if v.Date.IsZero() || !(v.PlaceSDMM > 0) || !(v.AnchorSDRad > 0) {
		t.Errorf("visit %+v", v)
	}
}
