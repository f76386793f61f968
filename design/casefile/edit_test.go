package casefile_test

import (
	"bytes"
	"slices"
	"testing"

	"springwright/design/casefile"
	"springwright/presets"
)

func TestEdit(t *testing.T) {
	const before = "# head\ncase = \"a\" # code\n\n[now] # where it is\nalong_mm = 12.5 # A\n# B is missing\n\n[goal]\n"
	tests := []struct {
		name, key, value, want string
	}{
		{"a value", "now.along_mm", "13", "# head\ncase = \"a\" # code\n\n[now] # where it is\nalong_mm = 13 # A\n# B is missing\n\n[goal]\n"},
		{"a text", "case", `"b # c"`, "# head\ncase = \"b # c\" # code\n\n[now] # where it is\nalong_mm = 12.5 # A\n# B is missing\n\n[goal]\n"},
		{"a new key", "now.apical_mm", "1", "# head\ncase = \"a\" # code\n\n[now] # where it is\nalong_mm = 12.5 # A\napical_mm = 1\n# B is missing\n\n[goal]\n"},
		{"in an empty table", "goal.apical_mm", "1", before + "apical_mm = 1\n"},
		{"a new table", "target.start.intrusive_n", "{ min = 0.3, max = 0.6 }", before + "\n[target.start]\nintrusive_n = { min = 0.3, max = 0.6 }\n"},
		{"a new key of the file", "title", `"t"`, "# head\ncase = \"a\" # code\ntitle = \"t\"\n\n[now] # where it is\nalong_mm = 12.5 # A\n# B is missing\n\n[goal]\n"},
		{"a key taken out", "now.along_mm", "", "# head\ncase = \"a\" # code\n\n[now] # where it is\n# B is missing\n\n[goal]\n"},
		{"a key that is not there taken out", "now.apical_mm", "", before},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := casefile.Edit([]byte(before), casefile.Entry{test.key, test.value})
			if err != nil || string(got) != test.want {
				t.Errorf("got %q, %v\nwant %q", got, err, test.want)
			}
		})
	}
	for _, bad := range []casefile.Entry{{"now.along_mm", "1\n[x]"}, {"now.along_mm", "1 # no"}, {"now.along_mm", "one"}, {"now", "1"}, {"a b", "1"}, {"", "1"}, {"now.along_mm.x", "1"}} {
		if got, err := casefile.Edit([]byte(before), bad); err == nil {
			t.Errorf("%v: got %q, want an error", bad, got)
		}
	}
}

// TestEditLeavesPresetsAsTheyAre sets every key of every preset to what it is.
func TestEditLeavesPresetsAsTheyAre(t *testing.T) {
	for _, name := range presets.Names() {
		data, _, err := presets.Case(name)
		if err != nil {
			t.Fatal(err)
		}
		values := casefile.Values(data)
		if len(values) < 20 {
			t.Errorf("%s: %d values, want all of a case", name, len(values))
		}
		for _, e := range values {
			got, err := casefile.Edit(data, e)
			if inline := err != nil; inline { // a window's min and max stand in one value
				continue
			}
			if !bytes.Equal(got, data) {
				t.Errorf("%s: setting %s to what it is changes the file", name, e.Key)
			}
		}
	}
}

// FuzzEdit holds an edit to its promise: the key has the value, all others have theirs.
func FuzzEdit(f *testing.F) {
	f.Add([]byte("a = 1\n[b]\nc = [1, # x\n2]\nd = \"\"\"\nx\"\"\"\"\n"), "b.c", "2")
	f.Add([]byte("[b.c]\nd = 1979-05-27 07:32:00 # x"), "b.c.d", "")
	f.Add([]byte("\ufeffa.b = '''x\n''''"), "a.e", `"y"`)
	f.Fuzz(func(t *testing.T, data []byte, key, value string) {
		got, err := casefile.Edit(data, casefile.Entry{key, value})
		if err != nil {
			return
		}
		without := func(list []casefile.Entry) []casefile.Entry {
			return slices.DeleteFunc(list, func(e casefile.Entry) bool {
				return e.Key == key || len(e.Key) > len(key) && e.Key[:len(key)+1] == key+"."
			})
		}
		if before, after := without(casefile.Values(data)), without(casefile.Values(got)); !slices.Equal(before, after) {
			t.Errorf("set %q to %q: %v became %v", key, value, before, after)
		}
		if value == "" {
			return
		}
		want := casefile.Values([]byte("x = " + value))
		for _, e := range casefile.Values(got) {
			if e.Key == key && len(want) == 1 && e.Value != want[0].Value {
				t.Errorf("set %q to %q, got %q", key, value, e.Value)
			}
		}
	})
}
