package wire

import (
	"errors"
	"strings"
	"testing"
)

func TestAlloysAreComplete(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, a := range Alloys() {
		if seen[folded(a.Name)] {
			t.Errorf("%s stands twice", a.Name)
		}
		seen[folded(a.Name)] = true
		for what, p := range map[string]Property{"E": a.EMPa, "Poisson's ratio": a.Poisson, "yield": a.YieldMPa} {
			if !(0 < p.Min && p.Min <= p.Value && p.Value <= p.Max) || p.Source == "" {
				t.Errorf("%s: %s %+v", a.Name, what, p)
			}
		}
		if a.Poisson.Max >= 0.5 || a.TangentMPa < 0 || a.TangentMPa >= a.EMPa.Value {
			t.Errorf("%s: Poisson's ratio %g, tangent %g", a.Name, a.Poisson.Max, a.TangentMPa)
		}
		// Springback share of the trade's alloys, yield over E.
		if share := a.YieldMPa.Value / a.EMPa.Value; share < 0.004 || share > 0.02 {
			t.Errorf("%s: yield over E is %.4f", a.Name, share)
		}
		s := a.Superelastic
		if a.IsSuperelastic() != strings.Contains(a.Name, "nickel-titanium") {
			t.Errorf("%s: superelastic %t", a.Name, a.IsSuperelastic())
		}
		if a.IsSuperelastic() && !(s.LoadEndMPa > s.LoadStartMPa && s.LoadStartMPa > s.UnloadStartMPa && s.UnloadStartMPa > s.UnloadEndMPa &&
			s.UnloadEndMPa > 0 && s.TransformationStrain > 0 && s.Source != "" && a.YieldMPa.Value == s.LoadStartMPa) {
			t.Errorf("%s: plateaus %+v", a.Name, s)
		}
	}
}

// What does harm where it is wrong is written twice, in the table and here: who is allergic to nickel may wear the
// titanium alloys without it only, and they are those that break where they are bent back.
func TestWhatHarms(t *testing.T) {
	t.Parallel()
	type harm struct{ nickel, breaksBentBack bool }
	known := map[string]harm{
		"beta-titanium":                  {breaksBentBack: true},
		"stainless steel":                {nickel: true},
		"cobalt-chromium":                {nickel: true},
		"titanium-niobium":               {breaksBentBack: true},
		"superelastic nickel-titanium":   {nickel: true},
		"heat-activated nickel-titanium": {nickel: true},
	}
	for _, a := range Alloys() {
		want, found := known[a.Name]
		if !found {
			t.Errorf("add %s here: does it contain nickel, and does it break where it is bent back?", a.Name)
		} else if got := (harm{a.Nickel, a.Material().BreaksBentBack()}); got != want {
			t.Errorf("%s: %+v, want %+v", a.Name, got, want)
		}
	}
	if (Wire{EMPa: 65000}).BreaksBentBack() {
		t.Error("a wire without a name breaks")
	}
}

func TestLookUp(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"beta-titanium", "Beta titanium", "beta_titanium"} {
		a, err := LookUp(name)
		if err != nil || a.Name != "beta-titanium" || a.Material().EMPa != 65000 || a.ShearModulusMPa() != 25000 {
			t.Errorf("%q: %+v, error %v", name, a, err)
		}
	}
	for name, want := range map[string]string{
		"beta-titanum":          "beta-titanium",
		"stainles":              "stainless steel",
		"cobaltchrome":          "cobalt-chromium",
		"heat activated nickel": "heat-activated nickel-titanium",
		"gold":                  "",
	} {
		_, err := LookUp(name)
		var unknown *UnknownAlloyError
		if !errors.As(err, &unknown) || unknown.Nearest != want || unknown.Name != name {
			t.Errorf("%q: error %v, nearest %+v, want %q", name, err, unknown, want)
		}
	}
	for _, name := range []string{"", "\x00\xff", strings.Repeat("titanium ", 1e5)} {
		if _, err := LookUp(name); err == nil || len(err.Error()) > 300 || strings.ContainsAny(err.Error(), "\n\x00") {
			t.Errorf("name of %d bytes: error of odd length or text", len(name))
		}
	}
}

// Letters to insert, drop or replace, by hand.
func TestEditDistance(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0},
		{"", "steel", 5},
		{"steel", "", 5},
		{"steel", "steel", 0},
		{"stel", "steel", 1},
		{"steeel", "steel", 1},
		{"stael", "steel", 1},
		{"kitten", "sitting", 3},
		{"ab", "ba", 2},
		{"abc", "xyz", 3},
		{"xsteel", "steel", 1},
		{"steelx", "steel", 1},
		{"teel", "steel", 1},
		{strings.Repeat("x", 1000), "", longestName},
	} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("from %q to %q are %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// What was measured of an alloy is its own, and others have the whole range.
func TestFrictionOfEachAlloy(t *testing.T) {
	t.Parallel()
	for _, a := range Alloys() {
		want := [2]float64{0.14, 0.5}
		switch a.Name {
		case "stainless steel":
			want = [2]float64{0.14, 0.19}
		case "beta-titanium":
			want = [2]float64{0.2, 0.5}
		}
		if got := (Wire{Alloy: a.Name}).FrictionRange(); got.Min != want[0] || got.Max != want[1] || got.Source == "" {
			t.Errorf("%s: %+v, want %v", a.Name, got, want)
		}
		if got, want := (Wire{Alloy: a.Name}).BreaksBentBack(), a.Name == "beta-titanium" || a.Name == "titanium-niobium"; got != want {
			t.Errorf("%s breaks when it is bent back: %v", a.Name, got)
		}
	}
}
