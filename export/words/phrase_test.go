package words

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// placeholder is a verb of fmt.
var placeholder = regexp.MustCompile(`%(?:\[\d\])?[-+.\d]*[sdgfcv]|%%`)

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

// A phrase in two tables would be said in the words of the one that happens to be joined last, which may be too
// long for where the other's stand.
func TestNoPhraseIsTranslatedTwice(t *testing.T) {
	for l := Portuguese; l.Valid(); l++ {
		seen := map[string]bool{}
		for _, part := range languages[l].parts {
			for _, key := range slices.Sorted(maps.Keys(part)) {
				if seen[key] {
					t.Errorf("%v: %q is in two tables", l, key)
				}
				seen[key] = true
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
	number, comma := regexp.MustCompile(`\d+(\.\d+)?`), regexp.MustCompile(`(\d),(\d)`)
	for l := Portuguese; l.Valid(); l++ {
		for key, own := range tables[l] {
			want, got := number.FindAllString(key, -1), number.FindAllString(comma.ReplaceAllString(own, "$1.$2"), -1)
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%v: %q has numbers %q, %q has %q", l, own, got, key, want)
			}
		}
	}
}

func TestANilBookIsEnglish(t *testing.T) {
	var none *Book
	if got := none.Say("%s right", none.Number(-1.25, 2)); got != "−1.25 right" || none.Name("x") != "x" {
		t.Errorf("a nil book says %q", got)
	}
}

// A language has all that its row asks for.
func TestEveryLanguageIsWhole(t *testing.T) {
	for i, l := range languages {
		if l.name == "" || l.tag == "" || l.own == "" || Language(i) != English && len(l.parts) == 0 {
			t.Errorf("row %d: name %q, tag %q, own name %q, %d tables of phrases", i, l.name, l.tag, l.own, len(l.parts))
		}
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
