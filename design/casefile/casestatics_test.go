package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
)

// What is refused before any search, with the equation or the way in words.
func TestTargetsThatAreRefusedBeforeASearch(t *testing.T) {
	t.Parallel()
	free := `intrusive_n = { min = 0.05, max = 0.6 }`
	for _, test := range []struct{ name, target, want string }{
		{
			"intrusion of both teeth", "[target.travel]\n" + free + "\n[target.anchor]\nintrusive_n = { min = 0.1, max = 0.4 }",
			"c:14:2: target: cannot be in balance with 2 mm of travel left: one wire pushes both teeth with equal and opposite forces, force on 37 + force on 36 = 0, " +
				"but it asks for 0.05 to 0.6 N intrusive on tooth 37 and 0.1 to 0.4 N intrusive on tooth 36\n" +
				"  hint: what moves one tooth one way moves the other one the other way: decide for one of them, and hold the other by other means",
		},
		{
			"a couple that nothing balances", "[target.travel]\n" + free + "\ncrown_distal_nmm = { min = 10, max = 15 }\n[target.anchor]\ncrown_mesial_nmm = { value = 0, tolerance = 0.5 }",
			"c:14:2: target: cannot be in balance with 2 mm of travel left: couple on 37 + couple on 36 + force × distance = 0, but it asks for a couple on tooth 37 of 10 to 15 N·mm crown-distal, " +
				"one on tooth 36 of at most 0.5 N·mm crown-mesial or crown-distal, and force × distance can be 8.7 N·mm crown-distal to 0.575 N·mm crown-mesial: together 8.925 to 24.2 N·mm crown-distal, never 0\n",
		},
		{
			"a force for a tooth that is to come the other way", "[target.start]\nextrusive_n = { min = 0.3, max = 0.6 }",
			"c:14:2: target: asks for an extrusive force on tooth 37, but from [now] to [goal] it goes 2 mm towards the root tip (apically): the load would take it the other way\n" +
				"  hint: check which way the tooth should go, and which way the load",
		},
		{
			"a start that the travel does not allow", "[target.start]\nintrusive_n = { min = 0.7, max = 0.9 }\n[target.travel]\n" + free,
			"c:14:2: target: asks at the start for 0.7 to 0.9 N intrusive and over the whole travel, which begins there, for 0.05 to 0.6 N intrusive\n  hint: let the two windows overlap",
		},
	} {
		text := `case = "s"
teeth = { active = 37, anchor = 36 }
anchor_slot = { height_mm = 0.56, length_mm = 4 }
active_slot = { height_mm = 0.56, length_mm = 3.5, enter = "from behind" }
wire = { alloy = "beta-titanium", diameter_mm = 0.4 }
limits = { room_mesial_mm = 6, room_distal_mm = 5 }

[now]
along_mm = 12.5
apical_mm = -2
[goal]
apical_mm = 0

[target]
` + test.target + "\n"
		_, err := casefile.ReadCase("c", []byte(text))
		if err == nil {
			t.Errorf("%s: accepted", test.name)
			continue
		}
		if got := err.Error(); !strings.HasPrefix(got, test.want) || strings.Contains(got, "−") || strings.Contains(got, "NaN") {
			t.Errorf("%s: got\n%s\nwant\n%s", test.name, got, test.want)
		}
		if test.name == "a force for a tooth that is to come the other way" {
			if _, err := casefile.ReadCase("c", []byte(strings.Replace(text, "[target]", "[target]\nagainst_travel = \"meant\"", 1))); err != nil {
				t.Errorf("meant: %v", err)
			}
		}
	}
}
