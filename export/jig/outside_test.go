package jig

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"springwright/design/casefile"
)

// TestOutsideProgram has admesh, which repairs such files, look for anything to repair.
func TestOutsideProgram(t *testing.T) {
	if _, err := exec.LookPath("admesh"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("admesh is missing")
		}
		t.Skip("admesh is missing: plates are not checked by an outside program")
	}
	all := samples()
	for _, name := range []string{"rectangular-loop", "round-cantilever", "step"} {
		file := filepath.Join("../../testdata/springs", name+".toml")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if all[name], err = casefile.ReadSpring(file, data); err != nil {
			t.Fatal(err)
		}
	}
	number := func(text, key string) float64 {
		found := regexp.MustCompile(regexp.QuoteMeta(key) + `\s*:\s*(-?[\d.]+)`).FindStringSubmatch(text)
		if found == nil {
			t.Fatalf("no %q in\n%s", key, text)
		}
		v, _ := strconv.ParseFloat(found[1], 64)
		return v
	}
	for name, s := range all {
		j := made(t, s, UsualClearanceMM)
		file := filepath.Join(t.TempDir(), "plate.stl")
		if err := os.WriteFile(file, j.STL(), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("admesh", file).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, out)
		}
		text := string(out)
		for _, key := range []string{
			"Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed",
			"Total disconnected facets",
		} {
			if n := number(text, key); n != 0 {
				t.Errorf("%s: %s: %g\n%s", name, key, n, text)
			}
		}
		if parts := number(text, "Number of parts"); parts != 1 {
			t.Errorf("%s: %g parts", name, parts)
		}
		if v := number(text, "Volume"); math.Abs(v-j.VolumeMM3) > 1e-4*j.VolumeMM3 { // single precision
			t.Errorf("%s: volume %g, own %g mm³", name, v, j.VolumeMM3)
		}
	}
}
