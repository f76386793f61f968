package casefile_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/casefile"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// demoBender stands for what the demo says itself.
const demoBender = "demo"

// demoWith is the demo case with another end, from its bender on.
func demoWith(t *testing.T, bender string) []byte {
	t.Helper()
	text, err := os.ReadFile("../../presets/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	before, _, found := strings.Cut(string(text), "[bender]")
	switch {
	case !found:
		t.Fatal("the demo has no [bender]")
	case bender == demoBender:
		return text
	}
	return []byte(before + bender)
}

func TestBender(t *testing.T) {
	const degree = math.Pi / 180
	for _, test := range []struct {
		name, text string
		want       design.Bender
	}{
		{"left out", "", design.SkilledBender()},
		{"of the demo", demoBender, design.SkilledBender()},
		{
			"student without a check",
			"\n[bender]\nangle_sd_deg = 2.5\nlength_sd_mm = 0.5\nslot_sd_mm = \"200 µm\"\nslot_sd_deg = 2\nstiffness_sd = 0\ncheck = \"none\"\nsprings = 0\n",
			design.Bender{
				AngleSDRad: 2.5 * degree, LengthSDMM: 0.5, SlotSDMM: 0.2, SlotSDRad: 2 * degree,
				GaugeSDN: 0.05, CheckSDMM: 0.1, CheckSDRad: 0.5 * degree,
			},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			c, err := casefile.ReadCase("case.toml", demoWith(t, test.text))
			if err != nil {
				t.Fatal(err)
			}
			// Degrees are turned into radians in another order of multiplications.
			if diff := cmp.Diff(test.want, c.Bender, cmpopts.EquateApprox(1e-15, 0)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestBenderFaults(t *testing.T) {
	_, err := casefile.ReadCase("case.toml", demoWith(t, "\n[bender]\nangle_sd_deg = -1\nstiffness_sd = 2\ncheck = \"yes\"\nsprings = 1.5\nlegth_sd_mm = 1\n"))
	if err == nil {
		t.Fatal("no error")
	}
	for _, want := range []string{
		"bender.angle_sd_deg: -1 deg is out of range, allowed is 0 to 30 deg",
		"bender.stiffness_sd: 2 is out of range, allowed is 0 to 0.5",
		`bender.check: "yes" is not a known word here`,
		"bender.springs: 1.5 is not a whole number from 0 to 100000",
		"did you mean length_sd_mm?",
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is missing in\n%v", want, err)
		}
	}
}
