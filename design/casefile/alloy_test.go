package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/wire"

	"github.com/google/go-cmp/cmp"
)

func TestReadSuperelasticWire(t *testing.T) {
	t.Parallel()
	alloy, err := wire.LookUp("superelastic nickel-titanium")
	if err != nil {
		t.Fatal(err)
	}
	read := func(with string) wire.Wire {
		t.Helper()
		text := strings.Replace(stepSpring, `alloy = "beta-titanium"`, with, 1)
		s, err := casefile.ReadSpring("spring.toml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		again, err := casefile.ReadSpring("again.toml", casefile.WriteSpring(s))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(s.Wire, again.Wire, near); diff != "" {
			t.Errorf("wire written and read (-first +again):\n%s", diff)
		}
		return s.Wire
	}
	plain := read(`alloy = "Superelastic Nickel_Titanium"`)
	if diff := cmp.Diff(alloy.Superelastic, plain.Superelastic); diff != "" || plain.Alloy != alloy.Name {
		t.Errorf("alloy %q (-want +got):\n%s", plain.Alloy, diff)
	}
	warmer := read("alloy = \"superelastic nickel-titanium\"\nyield_mpa = 450\ne_gpa = 60")
	if by := warmer.Superelastic.UnloadEndMPa - plain.Superelastic.UnloadEndMPa; by != 50 || warmer.Superelastic.LoadStartMPa != 450 || warmer.EMPa != 60000 {
		t.Errorf("plateaus moved by %g MPa to %+v", by, warmer)
	}
}
