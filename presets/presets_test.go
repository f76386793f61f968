package presets_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/presets"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestEveryPresetReadsAndIsCommented(t *testing.T) {
	t.Parallel()
	names := presets.Names()
	if !slices.Contains(names, presets.Demo) || !slices.IsSorted(names) {
		t.Fatalf("names are %v", names)
	}
	for _, name := range names {
		text, _, err := presets.Case(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for i, line := range bytes.Split(text, []byte("\n")) {
			if bytes.Contains(line, []byte(" = ")) && !bytes.Contains(line, []byte("#")) && !bytes.HasPrefix(line, []byte("title")) {
				t.Errorf("%s, line %d has no comment: %s", name, i+1, line)
			}
		}
	}
}

func TestDemoIsTheMolarItSays(t *testing.T) {
	t.Parallel()
	_, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Teeth.Active.Name(); got != "lower left second molar" {
		t.Errorf("active tooth is %s", got)
	}
	if c.Heading != design.Back {
		t.Error("the tube is not entered from behind")
	}
	s := c.SpringFor(nil)
	// Entry from behind: half of each tube nearer and further, 12.5 − 4.0/2 + 3.5/2.
	if want := (r3.Vec{X: 12.25, Z: -2}); r3.Norm(r3.Sub(s.Start.AtMM, want)) > 1e-12 {
		t.Errorf("wire enters at %v, want %v", s.Start.AtMM, want)
	}
	if d := s.End.AtMM.Z - s.Start.AtMM.Z; math.Abs(d-2) > 1e-12 {
		t.Errorf("travel is %v mm of intrusion, want 2", d)
	}
	if c.Limits.LoopHeightMM != 7 {
		t.Errorf("loop height is %v mm, want 8 − 1", c.Limits.LoopHeightMM)
	}
}

func TestCaseRefusesAnUnknownName(t *testing.T) {
	t.Parallel()
	if _, _, err := presets.Case("../demo"); err == nil || !strings.Contains(err.Error(), presets.Demo) {
		t.Errorf("got %v, want an error that lists the names", err)
	}
}
