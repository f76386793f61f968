package casefile_test

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/fault"
)

// faultsOf returns the faults of a case file.
func faultsOf(t *testing.T, text string) fault.List {
	t.Helper()
	_, err := casefile.ReadCase("case.toml", []byte(text))
	var list fault.List
	if err != nil && !errors.As(err, &list) {
		t.Fatalf("error is no list of faults: %v", err)
	}
	return list
}

// TestMissingTableNamesTheKeysItNeeds takes each table away, then its keys only: whoever adds
// the table as the first hint says must not be told of more keys after that.
func TestMissingTableNamesTheKeysItNeeds(t *testing.T) {
	t.Parallel()
	byAlloy := []string{"e_gpa", "poisson", "yield_mpa"} // the key alloy gives these
	tables := 0
	for _, text := range []string{molarCase, cantileverCase} {
		for _, table := range []string{"teeth", "wire", "anchor_slot", "active_slot", "now", "goal", "limits"} {
			whole := regexp.MustCompile(`(?m)^\[` + table + `\]\n(?:[^\[\n].*\n)*`).FindString(text)
			if whole == "" {
				t.Fatalf("no table %s", table)
			}
			hint := ""
			for _, f := range faultsOf(t, strings.Replace(text, whole, "", 1)) {
				if f.Key == table && f.Text == "is missing" {
					hint = f.Hint
				}
			}
			if hint == "" {
				t.Errorf("nobody misses [%s]", table)
			}
			tables++
			for _, f := range faultsOf(t, strings.Replace(text, whole, "["+table+"]\n", 1)) {
				key, ok := strings.CutPrefix(f.Key, table+".")
				if ok && f.Text == "is missing" && !slices.Contains(byAlloy, key) && !strings.Contains(hint, key) {
					t.Errorf("[%s] needs %s, too, which the hint does not say: %s", table, key, hint)
				}
			}
		}
	}
	if tables != 2*7 {
		t.Errorf("%d tables", tables)
	}
}

// TestMissingKeysAreToldTogether takes away every key that must be given, one after the
// other from a case that has all, and all at once: each is told both times.
func TestMissingKeysAreToldTogether(t *testing.T) {
	t.Parallel()
	// Misspelt: what is meant is clear; or not, and then it may be one that needs enter.
	for _, spring := range []string{
		"", "spring = \"rectangular lop\"\n", "spring = \"rectangular\"\n", "spring = \"loop\"\n", "spring = \"U-loop\"\n", "spring = 3\n",
	} {
		text := strings.Replace(molarCase, "[teeth]", spring+"[teeth]", 1)
		var needed []string
		none := text
		for line := range strings.Lines(text) {
			if !strings.Contains(line, " = ") || strings.HasPrefix(line, "spring") {
				continue
			}
			for _, f := range faultsOf(t, strings.Replace(text, line, "", 1)) {
				if f.Text == "is missing" && !strings.Contains(f.Key, "e_gpa") && !strings.Contains(f.Key, "poisson") && !strings.Contains(f.Key, "yield_mpa") {
					needed = append(needed, f.Key)
					none = strings.Replace(none, line, "", 1)
				}
			}
		}
		if len(needed) < 10 || !slices.Contains(needed, "active_slot.length_mm") {
			t.Errorf("must be given: %v", needed)
		}
		var told []string
		for _, f := range faultsOf(t, none) {
			told = append(told, f.Key)
		}
		for _, key := range needed {
			if !slices.Contains(told, key) {
				t.Errorf("%q: with all of them missing nobody misses %s: %v", spring, key, told)
			}
		}
	}
}

// TestWhatEndsInAHookIsNotAskedHowItEnters: nor is one whose name is misspelt.
func TestWhatEndsInAHookIsNotAskedHowItEnters(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"cantilever", "cantilver", "intrusion arc"} {
		text := regexp.MustCompile(`(?m)^spring = .*$`).ReplaceAllString(cantileverCase, `spring = "`+name+`"`)
		if !strings.Contains(text, name) {
			t.Fatalf("no line names %s", name)
		}
		for _, f := range faultsOf(t, text) {
			if f.Key == "active_slot.enter" {
				t.Errorf("%s: %s", name, f.Text)
			}
		}
	}
}
