package export

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/family"
	"springwright/export/words"
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

// The loads that are asked for and the kinds of springs carry the words of the case file, which
// the demo's comments have as well.
func TestFormAsksForLoadsAndKinds(t *testing.T) {
	demo, err := os.ReadFile(filepath.Join("..", "presets", "demo.toml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, paper := range [...]Paper{A4, Letter} {
		doc, err := Frame{Paper: paper}.measuring()
		if err != nil {
			t.Fatal(err)
		}
		texts := doc.Pages[0].Texts()
		for _, a := range slices.Concat(askedForces(), askedCouples()) {
			if !slices.Contains(texts, a.key) || !regexp.MustCompile(`\b`+a.key+`\b`).Match(demo) {
				t.Errorf("%v: %s is not on the form or not in the demo", paper, a.key)
			}
		}
		for _, name := range design.FamilyNames() {
			if !slices.Contains(texts, `"`+name+`"`) {
				t.Errorf("%v: no box for a %s", paper, name)
			}
		}
		if all := strings.Join(texts, "\n"); !strings.Contains(all, "(enter)") || !strings.Contains(all, `"from behind"`) {
			t.Errorf("%v: the form does not say what the case file calls the way in", paper)
		}
		if rows := (kindBoxes{}).rows() * kindColumns; rows < len(design.Families()) {
			t.Errorf("%d boxes for %d kinds", rows, len(design.Families()))
		}
	}
	for _, f := range design.Families() {
		if poses, err := family.Sketch(f); err != nil || len(poses) < 2 {
			t.Errorf("%s has no drawing: %v", f.Name, err)
		}
	}
}

// The room is measured from the active slot mesially and distally, wherever the anchor stands: the
// way distally ends behind the last tooth only where the anchor stands in front.
func TestRoomOnTheFormHoldsForBothSides(t *testing.T) {
	for _, a := range askedRoom() {
		if strings.Contains(string(a.what), "last tooth") || strings.Contains(string(a.what), "behind") {
			t.Errorf("%s: %q is wrong where the tooth stands in front of its anchor", a.letter, a.what)
		}
	}
	if rooms := askedRoom(); !strings.Contains(string(rooms[1].what), "mesially") || !strings.Contains(string(rooms[2].what), "distally") {
		t.Errorf("rooms are %+v", rooms)
	}
	// What enters from the side away from the anchor comes from the front there.
	if said := words.NewBook(words.Portuguese).Say("from behind"); strings.Contains(said, "distal") {
		t.Errorf("from behind is %q, which is the anchor's side of a tooth in front of it", said)
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
