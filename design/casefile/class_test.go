package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
)

// What marking goes by comes back from the file as it was written.
func TestClassFileReadsBack(t *testing.T) {
	t.Parallel()
	want := sampleClass()
	text, err := casefile.WriteClass(origin, want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := casefile.ReadClass("class.json", text)
	if err != nil {
		t.Fatal(err)
	}
	if got.Case != want.Case.Code || got.Tag != int(want.Tag) || got.Seed != want.Seed || got.Bands.Below != "F" || len(got.Bands.List) != 2 || !got.Bands.List[0].Met || got.Bands.List[1].LengthMM != 1 {
		t.Errorf("%+v", got)
	}
	for i, s := range got.Students {
		if s != casefile.EntryOf(want.Students[i]) {
			t.Errorf("%+v, want %+v", s, casefile.EntryOf(want.Students[i]))
		}
	}
}

func TestClassFileFaults(t *testing.T) {
	t.Parallel()
	text, err := casefile.WriteClass(origin, sampleClass())
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range [...][3]string{
		{"springwright class", "springwright record", "has the format"},
		{`"version": 1`, `"version": 2`, "is of version 2"},
		{`"number": 2`, `"number": 3`, "has the number 3"},
		{`"demo-02"`, `"DEMO-01"`, "no code of his own"},
		{`"case-2.toml"`, `"../case-2.toml"`, "outside the folder"},
		{`"case-2.toml"`, `"c:case-2.toml"`, "outside the folder"},
		{`"grade": "B"`, `"grade": "A"`, "comes twice"},
		{`"tag": 2748`, `"tag": "x"`, "is no class file"},
	} {
		bad := strings.Replace(string(text), test[0], test[1], 1)
		if _, err := casefile.ReadClass("class.json", []byte(bad)); bad == string(text) || err == nil || !strings.Contains(err.Error(), test[2]) {
			t.Errorf("%s: %v, want %q", test[1], err, test[2])
		}
	}
	for _, bad := range [...]string{"", "{}", "[]", string(text) + "{}"} {
		if _, err := casefile.ReadClass("class.json", []byte(bad)); err == nil {
			t.Errorf("%q is taken for a class", bad)
		}
	}
}

func FuzzReadClass(f *testing.F) {
	text, err := casefile.WriteClass(origin, sampleClass())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte("{\"format\": \"springwright class\", \"version\": 1, \"bands\": [{}], \"students\": [{\"number\": 1}]}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := casefile.ReadClass("f", data)
		if err != nil {
			checkFaults(t, err)
			return
		}
		for _, s := range c.Students {
			if strings.ContainsAny(s.CaseFile+s.SpringFile, `/\`) || s.Code == "" {
				t.Errorf("%+v", s)
			}
		}
	})
}
