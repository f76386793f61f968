package casefile_test

import (
	"errors"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/spring"

	"github.com/google/go-cmp/cmp"
)

// cantileverCase is molarCase with a spring that ends in a hook.
var cantileverCase = strings.NewReplacer(
	"title = \"a molar\"", "title = \"a molar\"\nspring = \"cantilever\"",
	"length_mm = 3.5\nenter = \"from behind\"\n", "length_mm = 0\n",
).Replace(molarCase)

func TestCaseChoosesItsSpring(t *testing.T) {
	t.Parallel()
	c, err := casefile.ReadCase("case.toml", []byte(cantileverCase))
	if err != nil {
		t.Fatal(err)
	}
	if c.Family != "cantilever" || !c.ActiveSlot.Hook || c.Heading != spring.On {
		t.Errorf("family %q, slot %+v, heading %v", c.Family, c.ActiveSlot, c.Heading)
	}
	if !c.SpringFor(spring.Path{}).ActiveHold.Hook {
		t.Error("the spring is not hooked")
	}
	c, err = casefile.ReadCase("case.toml", []byte(strings.Replace(molarCase, "title =", "spring_file = \"springs/free.toml\"\ntitle =", 1)))
	if err != nil || c.SpringFile != "springs/free.toml" {
		t.Errorf("spring file %q, %v", c.SpringFile, err)
	}
}

func TestFamilyFaults(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, from, to, key, text string }{
		{"misspelt", `"cantilever"`, `"cantilver"`, "spring", "no kind of spring"},
		{"empty", `"cantilever"`, `""`, "spring", "no kind of spring"},
		{"no text", `"cantilever"`, `3`, "spring", "is a number"},
		{"both", "spring = \"cantilever\"", "spring = \"cantilever\"\nspring_file = \"free.toml\"", "spring_file", "beside spring"},
		{"outside", "spring = \"cantilever\"", "spring_file = \"../free.toml\"", "spring_file", "beside the case file"},
		{"anywhere", "spring = \"cantilever\"", "spring_file = \"/etc/passwd\"", "spring_file", "beside the case file"},
		{"a hook with a length", "length_mm = 0", "length_mm = 3", "active_slot.length_mm", "is hooked there"},
		{"tied all the same", "length_mm = 0", "length_mm = 0\nhold = \"tied\"", "active_slot.hold", "ends in a hook"},
		{"hook at the anchor", "length_mm = 4.0", "length_mm = 4.0\nhold = \"hook\"", "anchor_slot.hold", "not a known word"},
		{"from behind", "length_mm = 0", "length_mm = 0\nenter = \"from behind\"", "active_slot.enter", "does not suit"},
		{"hooked loop", "spring = \"cantilever\"", "spring = \"T-loop\"", "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := casefile.ReadCase("case.toml", []byte(strings.Replace(cantileverCase, row.from, row.to, 1)))
			if row.key == "" {
				if err != nil {
					t.Errorf("a spring into a slot of no length: %v", err)
				}
				return
			}
			var faults fault.List
			if !errors.As(err, &faults) {
				t.Fatalf("faults: %v", err)
			}
			for _, f := range faults {
				if f.Key == row.key {
					if !strings.Contains(f.Text, row.text) || f.Line == 0 || f.Hint == "" {
						t.Errorf("fault %+v, want text %q", f, row.text)
					}
					return
				}
			}
			t.Errorf("no fault of %s in %v", row.key, err)
		})
	}
}

func TestSpringFileHooks(t *testing.T) {
	t.Parallel()
	hooked := strings.Replace(stepSpring, "slot_length_mm = 3.5", "hold = \"hook\"", 1)
	s, err := casefile.ReadSpring("spring.toml", []byte(hooked))
	if err != nil {
		t.Fatal(err)
	}
	if !s.ActiveHold.Hook || s.ActiveSlotLengthMM != 0 {
		t.Errorf("held by %+v over %v mm", s.ActiveHold, s.ActiveSlotLengthMM)
	}
	again, err := casefile.ReadSpring("spring.toml", casefile.WriteSpring(s))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(s, again, near, cmp.AllowUnexported(spring.Path{})); diff != "" {
		t.Errorf("written and read again (-want +got):\n%s", diff)
	}
	_, err = casefile.ReadSpring("spring.toml", []byte(strings.Replace(stepSpring, "slot_length_mm = 3.5", "slot_length_mm = 3.5\nhold = \"hook\"", 1)))
	if err == nil || !strings.Contains(err.Error(), "hooked there") {
		t.Errorf("a hook with a length: %v", err)
	}
}
