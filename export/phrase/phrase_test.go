package phrase

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestEveryLanguageHasEveryPhrase(t *testing.T) {
	all := map[string]bool{}
	for _, table := range tables {
		for key := range table {
			all[key] = true
		}
	}
	for l := Portuguese; l.Valid(); l++ {
		for _, key := range slices.Sorted(maps.Keys(all)) {
			if own, found := tables[l][key]; !found || own == "" {
				t.Errorf("%v lacks %q", l, key)
			}
		}
	}
}

// A phrase with other placeholders, or others in another order, would print a wrong number.
func TestPlaceholdersAreTheSame(t *testing.T) {
	for l := Portuguese; l.Valid(); l++ {
		for key, own := range tables[l] {
			want, got := placeholder.FindAllString(key, -1), placeholder.FindAllString(own, -1)
			if !slices.Equal(got, want) {
				t.Errorf("%v: %q has placeholders %q, %q has %q", l, own, got, key, want)
			}
			if strings.Count(key, "\n") != strings.Count(own, "\n") {
				t.Errorf("%v: %q has other lines than %q", l, own, key)
			}
			if rest := placeholder.ReplaceAllString(own, ""); strings.Contains(rest, "%") {
				t.Errorf("%v: %q has a stray %%", l, own)
			}
			if trimmed := strings.TrimSpace(own); key == strings.TrimSpace(key) && own != trimmed {
				t.Errorf("%v: %q has blanks at an end", l, own)
			}
		}
	}
}

// Numbers within phrases must not differ: they are limits and sizes.
func TestNumbersAreTheSame(t *testing.T) {
	number := regexp.MustCompile(`\d+(\.\d+)?`)
	for l := Portuguese; l.Valid(); l++ {
		for key, own := range tables[l] {
			want, got := number.FindAllString(key, -1), number.FindAllString(own, -1)
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%v: %q has numbers %q, %q has %q", l, own, got, key, want)
			}
		}
	}
}

func TestMissingPhrasesAreNamed(t *testing.T) {
	for _, l := range [...]Language{Portuguese, Spanish} {
		b := NewBook(l)
		if got := b.Say("no such phrase, %d", 3); got != "no such phrase, 3" {
			t.Errorf("%v: %q, want the English phrase", l, got)
		}
		if got := b.Recognised("nor is this known"); got != "nor is this known" {
			t.Errorf("%v: %q, want the English text", l, got)
		}
		b.Say("Loads")
		if got, want := b.Missing(), []string{"no such phrase, %d", "nor is this known"}; !slices.Equal(got, want) {
			t.Errorf("%v: missing %q, want %q", l, got, want)
		}
	}
	var none *Book
	if got := none.Say("%s right", "20°"); got != "20° right" || none.Missing() != nil || none.Recognised("x") != "x" || none.Name("x") != "x" {
		t.Errorf("a nil book is not English: %q", got)
	}
}

func TestRecognised(t *testing.T) {
	b := NewBook(Spanish)
	for english, want := range map[string]string{
		"0.05 to 0.45 N":                   "0.05 a 0.45 N",
		"intrusive force, over the travel": "fuerza intrusiva, recorrido",
		"then runs distal, 14° occlusal":   "a distal, 14° oclusal",
		"crown-mesial couple on anchor tooth 36 at the centre of resistance, at the start": "par de fuerzas de corona mesial en el diente de anclaje 36 en el centro de resistencia, inicio",
		"straight wire, superelastic nickel-titanium, round 0.356 mm":                      "alambre recto, níquel-titanio superelástico, redondo 0.356 mm",
		"heat-activated 0.016×0.022":                                                       "termoactivado 0.016×0.022",
		"-0.48 to 0.02 N":                                                                  "−0.48 a 0.02 N",
		"at most 0.93":                                                                     "como máximo 0.93",
		"3.2 mm distal and 1.1 mm apical":                                                  "3.2 mm distal y 1.1 mm apical",
		"1.2 N·mm tip its crown buccally; at the slot a couple of 1.2 N·mm (lingual crown torque) or a lingual force of 0.10 N would cancel that": "1.2 N·mm inclinan la corona hacia vestibular; en la ranura, un par de fuerzas de 1.2 N·mm (torque coronolingual) o una fuerza hacia lingual de 0.10 N lo anularía",
	} {
		if got := b.Recognised(english); got != want {
			t.Errorf("%q became %q, want %q", english, got, want)
		}
	}
	if len(b.Missing()) > 0 {
		t.Errorf("missing %q", b.Missing())
	}
}

func TestParse(t *testing.T) {
	for _, name := range Names() {
		if l, err := Parse(strings.ToUpper(name)); err != nil || l.String() != name {
			t.Errorf("%s became %v, %v", name, l, err)
		}
	}
	if _, err := Parse("de"); err == nil || !strings.Contains(err.Error(), "en, pt, es") {
		t.Errorf("error %v, want one that lists the languages", err)
	}
}
