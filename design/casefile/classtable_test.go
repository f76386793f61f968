package casefile_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/spring"
)

func classSheets(t testing.TB) []casefile.ClassSheet {
	t.Helper()
	s, err := casefile.ReadSpring("s", []byte(stepSpring))
	if err != nil {
		t.Fatal(err)
	}
	return []casefile.ClassSheet{{Code: "demo-01", Spring: s}, {Code: "demo-02", Spring: s}, {Code: "demo-03", Spring: s}}
}

// The same numbers are read from both kinds of files, whichever way a spreadsheet writes them.
func TestClassTableReadsBack(t *testing.T) {
	t.Parallel()
	class := classSheets(t)
	keys, steps := casefile.StepKeys(class[0].Spring.Path), class[0].Spring.Path.Steps()
	var values []float64
	for _, s := range steps {
		v := s.LengthMM + 0.5
		if s.Kind != spring.Straight {
			v = math.Abs(s.AngleRad)*180/math.Pi + 2.5
		}
		values = append(values, v)
	}
	comma, semicolon, toml := "student", "\ufeffStudent", ""
	for _, k := range keys {
		comma, semicolon = comma+","+k, semicolon+";"+k
	}
	for _, code := range [...]string{"demo-01", "DEMO-03"} {
		comma, semicolon, toml = comma+"\n"+code, semicolon+"\r\n"+code, toml+"["+code+"]\n"
		for i, v := range values {
			comma += fmt.Sprintf(",%v", v)
			semicolon += ";" + strings.Replace(fmt.Sprint(v), ".", ",", 1)
			toml += fmt.Sprintf("%s = %v\n", keys[i], v)
		}
	}
	semicolon += "\r\ndemo-02;;\r\n" // nothing filled in
	for name, text := range map[string]string{"a.csv": comma, "b.csv": semicolon, "c.toml": toml} {
		all, err := casefile.ReadClassMeasured(name, []byte(text), class)
		if err != nil || len(all) != 2 {
			t.Fatalf("%s: %d students, %v", name, len(all), err)
		}
		for i, want := range [...]int{0, 2} {
			one := all[i]
			if one.Sheet != want || one.Code != class[want].Code || len(one.Faults) > 0 || len(one.Measured.Steps) != len(steps) {
				t.Errorf("%s: %+v", name, one)
				continue
			}
			for k, r := range one.Measured.Steps {
				off := math.Abs(r.Value) - steps[k].LengthMM
				if steps[k].Kind != spring.Straight {
					off = (math.Abs(r.Value) - math.Abs(steps[k].AngleRad)) * 180 / math.Pi / 5
				}
				if math.Abs(off-0.5) > 1e-9 {
					t.Errorf("%s: %s is off by %v", name, keys[k], off)
				}
			}
		}
	}
}

// What is wrong with one student stops no other; what is wrong with the table stops it.
func TestClassTableFaults(t *testing.T) {
	t.Parallel()
	class := classSheets(t)
	all, err := casefile.ReadClassMeasured("m.csv", []byte("student,bend_1_deg,bend_2_deg\nnobody,20,30\ndemo-01,xx,30\ndemo-02,1000,\ndemo-03,91,12\ndemo-03,92,12\n"), class)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [...]string{"m.csv:2:1: nobody: is the code of no student", "m.csv:3:9: bend_1_deg: ", "m.csv:4:9: bend_1_deg: ", "", "m.csv:6:1: demo-03: comes twice: first in line 5"} {
		got := all[i].Faults.Error()
		if (want == "") != (got == "") || !strings.Contains(got, want) {
			t.Errorf("row %d: %q, want %q", i, got, want)
		}
	}
	for text, want := range map[string]string{
		"":                                  "has no header with the column student",
		"name,measured\n":                   "has no header with the column student",
		"student,bend_1_deg\n":              "holds no student",
		"student,bend_1_deg\n,20\n":         "readings and no student",
		"student,bend_1_deg\ndemo-01,2,3\n": "a column without a name",
		"student,a,A\ndemo-01,2,3\n":        "is the name of two columns",
		"student,a\n\"demo-01,2\n":          "is no table",
		"student\xff":                       "is no text in UTF-8",
	} {
		if _, err := casefile.ReadClassMeasured("m.csv", []byte(text), class); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func FuzzReadClassMeasured(f *testing.F) {
	class := classSheets(f)
	f.Add(true, casefile.ClassTable(class))
	for _, text := range [...]string{"student;bend_1_deg\ndemo-01;20,5\n", "student,bend_1_deg,gauge_n\ndemo-02,20,1\n\"x\",1,1", "student", ",", "\"", "student,student\n1,2"} {
		f.Add(true, []byte(text))
	}
	for _, text := range [...]string{"[demo-01]\nbend_1_deg = 20\nstraight_1_mm = \"2mm\"\n", "demo-01 = 3", "[demo-02.x]", "[[demo-03]]", "[demo-01]\nend = \"as printed\""} {
		f.Add(false, []byte(text))
	}
	f.Fuzz(func(t *testing.T, table bool, data []byte) {
		name := "f.toml"
		if table {
			name = "f.csv"
		}
		all, err := casefile.ReadClassMeasured(name, data, class)
		if err != nil {
			checkFaults(t, err)
			return
		}
		for _, one := range all {
			if len(one.Faults) > 0 {
				checkFaults(t, one.Faults.Err())
				continue
			}
			for _, r := range one.Measured.Steps {
				checkFinite(t, r.Value, r.SD)
			}
			for _, r := range one.Measured.End {
				checkFinite(t, r.Off, r.SD)
			}
		}
	})
}
