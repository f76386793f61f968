package export

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"
)

// The demo's comments must name what the form asks for by the form's letters, and in its
// order.
func TestFormAndDemoShareTheirLetters(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "presets", "demo.toml"))
	if err != nil {
		t.Fatal(err)
	}
	last := 0
	for _, a := range slices.Concat(askedPlaces(), askedSlots(), askedRoom()) {
		// Behind the key's value, or in front of a key that is left out.
		at := regexp.MustCompile(`(?m)^` + a.key + ` = .*# ` + a.letter + `\b|^#.* ` + a.letter + ` ` + a.key + `\b`).FindIndex(text)
		if at == nil {
			t.Errorf("no comment of the demo has %s beside %s", a.letter, a.key)
			continue
		}
		if key := slices.Index([]string{"A", "G", "I"}, a.letter); key >= 0 && at[0] < last {
			t.Errorf("%s stands before the letters in front of it", a.letter)
		}
		last = max(last, at[0])
	}
}
