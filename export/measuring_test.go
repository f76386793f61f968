package export

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
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

// Every measured value of every preset must carry the form's letter, and nothing else one.
func TestFormAndPresetsShareTheirLetters(t *testing.T) {
	table := regexp.MustCompile(`^\[(.+)\]`)
	// A letter has a colon or a bracket behind it: the E of "E 65 GPa" is none.
	value := regexp.MustCompile(`^(\w+) = .*?# (?:([A-Z])(?:: | \())?`)
	letters := map[string]string{} // of a table's key
	for tables, rows := range map[string][]asked{
		"now goal": askedPlaces(), "anchor_slot active_slot": askedSlots(), "limits": askedRoom(),
	} {
		for name := range strings.FieldsSeq(tables) {
			for _, a := range rows {
				letters[name+"."+a.key] = a.letter
				// The same sense beside front teeth and in the upper jaw.
				letters[name+"."+strings.Replace(a.key, "buccal", "labial", 1)] = a.letter
				letters[name+"."+strings.Replace(a.key, "lingual", "palatal", 1)] = a.letter
			}
		}
	}
	files, err := filepath.Glob(filepath.Join("..", "presets", "*.toml"))
	if err != nil || len(files) < 2 {
		t.Fatalf("presets: %v, %v", files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		in, carried := "", map[string]bool{}
		for i, line := range strings.Split(string(text), "\n") {
			if m := table.FindStringSubmatch(line); m != nil {
				in = m[1]
			}
			if m := value.FindStringSubmatch(line); m != nil && m[2] != letters[in+"."+m[1]] {
				t.Errorf("%s:%d: letter %q beside %s of [%s], the form has %q", file, i+1, m[2], m[1], in, letters[in+"."+m[1]])
			} else if m != nil {
				carried[m[2]] = true
			}
		}
		for _, always := range [...]string{"A", "G", "H", "I", "J", "K"} {
			if !carried[always] {
				t.Errorf("%s: nothing carries the letter %s", file, always)
			}
		}
		if !strings.Contains(string(text), "sheet --measuring") {
			t.Errorf("%s does not say where the letters are from", file)
		}
	}
}

// Each letter of the boxes stands in the drawings once.
func TestFormDrawsItsLetters(t *testing.T) {
	doc, err := (Frame{}).measuring()
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, text := range doc.Pages[0].Texts() {
		count[text]++
	}
	for _, a := range slices.Concat(askedPlaces(), askedSlots(), askedRoom()) {
		if count[a.letter] != 2 {
			t.Errorf("%s stands on the form %d times, want 2: beside its box and in a drawing", a.letter, count[a.letter])
		}
	}
}
