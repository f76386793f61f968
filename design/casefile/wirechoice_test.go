package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/notice"
	"springwright/design/wire"
)

const oneWire = "alloy = \"beta-titanium\"\nthickness_mm = \"0.017in\"\nwidth_mm = \"0.025in\"\n"

func withWires(t *testing.T, table string) string {
	t.Helper()
	if strings.Count(molarCase, oneWire) != 1 {
		t.Fatal("the case has no such wire")
	}
	return strings.Replace(molarCase, oneWire, table, 1)
}

func TestWiresToChooseFrom(t *testing.T) {
	t.Parallel()
	steel := wire.Stock{Alloy: "stainless steel", Size: wire.Size{ThicknessMil: 16, WidthMil: 22}}.Wire()
	c, err := casefile.ReadCase("case.toml", []byte(withWires(t, "choose = [\"beta-titanium 0.017x0.025in\", \"stainless steel 0.016 × 0.022 in\"]\nbends = \"stress-relieved\"\n")))
	if err != nil {
		t.Fatal(err)
	}
	if c.Wire.Alloy != "beta-titanium" || c.Wire.ThicknessMM != 0.4318 || !c.Wire.StressRelieved {
		t.Errorf("the first wire is %+v", c.Wire)
	}
	if len(c.Choice.OtherWires) != 1 || notice.NameOf(c.Choice.OtherWires[0]) != notice.NameOf(steel) || !c.Choice.OtherWires[0].StressRelieved {
		t.Errorf("the others are %+v", c.Choice.OtherWires)
	}
	usual := withWires(t, "choose = \"usual\"\n")
	if c, err = casefile.ReadCase("case.toml", []byte(usual)); err != nil || len(c.Choice.OtherWires) != len(wire.Drawer())-1 {
		t.Errorf("usual: %d others, %v", len(c.Choice.OtherWires), err)
	}
	// Of the usual ones only those are taken that go into the slots.
	if c, err = casefile.ReadCase("case.toml", []byte(strings.Replace(usual, `height_mm = "0.022in"`, `height_mm = "0.018in"`, 1))); err != nil {
		t.Fatal(err)
	}
	for _, w := range append(c.Choice.OtherWires, c.Wire) {
		if w.HeightMM() > 0.018*25.4 {
			t.Errorf("%+v does not go into 0.018 in", w)
		}
	}
}

func TestFaultsOfWiresToChooseFrom(t *testing.T) {
	t.Parallel()
	at := strings.Count(molarCase[:strings.Index(molarCase, oneWire)], "\n") + 1
	if at < 5 {
		t.Fatal("where is the wire?")
	}
	for table, want := range map[string]string{
		"choose = \"any\"\n": `wire.choose: "any" is not a known word here`,
		"choose = []\n":      "wire.choose: lists no wire",
		"choose = 3\n":       "wire.choose: is a number, not an array",
		"choose = [3]\n":     "wire.choose[1]: is a number, not a text",
		"choose = [\"beta-titanium 0.016x0.022in\", \"nickel-titanium superelastic 0.014in\"]\n": "wire.choose[2]: is superelastic",
		"choose = [\"beta-titanium 0.016x0.022in\", \"gold 0.016x0.022in\"]\n":                   "wire.choose[2]: \"gold 0.016x0.022in\" names no known alloy",
		"choose = [\"beta-titanium 0.016x0.022in\", \"beta-titanium 0.8x0.9mm\"]\n":              "wire.choose[2]: is 0.8 mm thick, and the anchor slot 0.559 mm high",
		"choose = [\"beta-titanium 0.016x0.022in\"]\nalloy = \"beta-titanium\"\n":                "wire.alloy: is given beside choose",
		"choose = [" + strings.Repeat("\"beta-titanium 0.016x0.022in\", ", 13) + "]\n":           "wire.choose: lists 13 wires, more than the allowed 12",
	} {
		found := false
		for _, f := range faultsOf(t, withWires(t, table)) {
			found = found || f.Key+": "+f.Text == want && f.Line >= at-1 && f.Hint != ""
		}
		if !found {
			t.Errorf("%q: %v; want %q", table, faultsOf(t, withWires(t, table)), want)
		}
	}
}

// What is left to be chosen of the kind of spring and of the entry.
func TestKindAndEntryToChoose(t *testing.T) {
	t.Parallel()
	entry := "enter = \"from behind\"\n"
	for _, test := range []struct {
		change func(string) string
		family string
		task   notice.Task
		either bool
	}{
		{func(s string) string { return s }, "rectangular loop", notice.OtherTask, false},
		{func(s string) string { return strings.Replace(s, entry, "", 1) }, "rectangular loop", notice.OtherTask, true},
		{func(s string) string {
			return strings.Replace(strings.Replace(s, entry, "", 1), "[teeth]", "spring = \"rectangular loop\"\n[teeth]", 1)
		}, "rectangular loop", notice.NoTask, true},
		{func(s string) string {
			return strings.Replace(strings.Replace(s, entry, "", 1), "[teeth]", "spring = \"choose\"\n[teeth]", 1)
		}, "rectangular loop", notice.OtherTask, true},
		{func(s string) string {
			return strings.Replace(strings.Replace(s, entry, "", 1), "[teeth]", "spring = \"T-loop\"\n[teeth]", 1)
		}, "T-loop", notice.NoTask, false},
		{func(s string) string {
			return strings.Replace(strings.Replace(s, entry, "hold = \"hook\"\n", 1), "length_mm = 3.5", "length_mm = 0", 1)
		}, "cantilever", notice.PointForce, false},
	} {
		c, err := casefile.ReadCase("case.toml", []byte(test.change(molarCase)))
		if err != nil {
			t.Errorf("%s, %v: %v", test.family, test.task, err)
			continue
		}
		if c.Family != test.family || c.Choice.Task != test.task || c.Choice.EitherEntry != test.either {
			t.Errorf("%s, %v, either way %v; want %s, %v, %v", c.Family, c.Choice.Task, c.Choice.EitherEntry, test.family, test.task, test.either)
		}
	}
}
