package presets_test

import (
	"regexp"
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/presets"
)

// The demo says that it shows every key. A key that the reader knows is one that it lists when
// it refuses another one.
func TestDemoShowsEveryKey(t *testing.T) {
	t.Parallel()
	text, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	known := regexp.MustCompile(`known here: ([a-z_0-9, ]+)`)
	shown := map[string]bool{}
	for _, word := range regexp.MustCompile(`[a-z][a-z_0-9]*`).FindAllString(string(text), -1) {
		shown[word] = true
	}
	listed := 0
	for _, table := range []string{
		"", "teeth", "anchor", "now", "goal", "anchor_slot", "active_slot", "travel", "wire", "limits", "target", "target.start",
		"target.travel", "target.anchor", "resistance", "resistance.active", "search", "bender",
	} {
		const unknown = "xxxxxxxxxxxxxxxxxxxx = 1\n"
		faulty := unknown + string(text)
		if head := "[" + table + "]\n"; strings.Contains(string(text), "\n"+head) {
			faulty = strings.Replace(string(text), "\n"+head, "\n"+head+unknown, 1)
		} else if table != "" {
			faulty = string(text) + head + unknown
		}
		_, err := casefile.ReadCase("demo", []byte(faulty))
		if err == nil {
			t.Fatalf("[%s]: an unknown key is accepted", table)
		}
		m := known.FindStringSubmatch(err.Error())
		if m == nil {
			t.Fatalf("[%s]: no keys are listed: %v", table, err)
		}
		for _, key := range strings.Split(m[1], ", ") {
			listed++
			if !shown[key] {
				t.Errorf("the demo does not show %s of [%s]", key, table)
			}
		}
	}
	if listed < 80 {
		t.Errorf("only %d keys are known", listed)
	}
}
