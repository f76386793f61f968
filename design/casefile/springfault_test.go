package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
	"springwright/design/wire"
)

// replaceIn swaps one part of a good file for a bad one.
func replaceIn(t *testing.T, file, old, bad string) string {
	t.Helper()
	if !strings.Contains(file, old) {
		t.Fatalf("%q is not in the file", old)
	}
	return strings.Replace(file, old, bad, 1)
}

func TestReadSpringRefuses(t *testing.T) {
	t.Parallel()
	var alloys []string
	for _, a := range wire.Alloys() {
		alloys = append(alloys, a.Name)
	}
	tests := []struct{ name, old, bad, want string }{
		{
			"unknown key", "width_mm = 0.635", "width_mm = 0.635\nheigth_mm = 3",
			"spring.toml:14:1: wire.heigth_mm: is not a known key\n  hint: did you mean width_mm?",
		},
		{"misspelt key", "positions = 7", "position = 7", "spring.toml:23:1: active.position: is not a known key\n  hint: did you mean positions?"},
		{"wrong unit", "thickness_mm = 0.4318", `thickness_mm = "6 kg"`, "spring.toml:12:16: wire.thickness_mm: \"6 kg\" has the unit \"kg\", which is no unit of length\n  hint: write a number and one of the units mm, cm, m, µm, in"},
		{"NaN", "straight_mm = 2.0", "straight_mm = nan", "spring.toml:3:19: path[1].straight_mm: nan is not a finite number\n  hint: write a plain decimal number"},
		{"infinity", "radius_mm = 0.6,", "radius_mm = -inf,", "spring.toml:5:33: path[3].radius_mm: -inf is not a finite number\n  hint: write a plain decimal number"},
		{"negative size", "slot_length_mm = 4.0", "slot_length_mm = -4.0", "spring.toml:16:18: anchor.slot_length_mm: -4.0 mm is out of range, allowed is 0 to 30 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"size in inches out of range", "width_mm = 0.635", `width_mm = "0.25in"`, "spring.toml:13:12: wire.width_mm: \"0.25in\" (6.35 mm) is out of range, allowed is 0.05 to 3 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"tight bend, second order", "{ bend_deg = 90, radius_mm = 0.6 }", "{ bend_deg = 90, radius_mm = 0.2 }", "spring.toml:4:32: path[2].radius_mm: 0.2 mm is less than half the wire's thickness, 0.2159 mm\n  hint: give the radius to the wire's centreline: the pliers' radius plus half the wire"},
		{"tight bend, first order", "radius_mm = 0.6, order", "radius_mm = 0.3, order", "spring.toml:5:33: path[3].radius_mm: 0.3 mm is less than half the wire's width, 0.3175 mm\n  hint: give the radius to the wire's centreline: the pliers' radius plus half the wire"},
		{"wrong order", "order = 1", "order = 3", "spring.toml:5:46: path[3].order: 3 is not a whole number from 1 to 2\n  hint: check the value"},
		{"order with a point", "order = 1", "order = 1.0", "spring.toml:5:46: path[3].order: 1.0 is not a whole number from 1 to 2\n  hint: write it without a point and an exponent"},
		{"large angle", "bend_deg = 90", "bend_deg = 361", "spring.toml:4:16: path[2].bend_deg: 361 deg is out of range, allowed is -360 to 360 deg\n  hint: check the value; a number without a unit is in deg here"},
		{"twist over nothing", "over_mm = 2.0", "over_mm = 0", "spring.toml:6:31: path[4].over_mm: 0 mm is out of range, allowed is 0.01 to 500 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"twist without length", ", over_mm = 2.0", "", "spring.toml:6:3: path[4].over_mm: is missing\n  hint: say over which length of wire it is twisted"},
		{"two steps in one", "{ straight_mm = 3.0 }", "{ straight_mm = 3.0, twist_deg = 3 }", "spring.toml:7:36: path[5].twist_deg: is given beside straight_mm\n  hint: a step is one straight, bend or twist: write two steps"},
		{"empty step", "{ straight_mm = 3.0 }", "{}", "spring.toml:7:3: path[5]: is no straight, bend or twist\n  hint: give one of straight_mm, bend_deg, twist_deg"},
		{"step is a number", "{ straight_mm = 3.0 }", "3.0", "spring.toml:7:3: path[5]: is a number, not a step in braces\n  hint: write { straight_mm = 2.0 }"},
		{"unknown key in a step", "{ straight_mm = 3.0 }", "{ straight_mm = 3.0, radius_mm = 1 }", "spring.toml:7:24: path[5].radius_mm: is not a known key\n  hint: known here: straight_mm, bend_deg, twist_deg"},
		{"long path", "straight_mm = 3.0", "straight_mm = 499", "spring.toml:2:8: path: is 504.1 mm long, more than the allowed 500 mm\n  hint: are all lengths in mm?"},
		{"unknown alloy", "beta-titanium", "beta-titanum", "spring.toml:11:9: wire.alloy: no alloy is called \"beta-titanum\"\n  hint: did you mean \"beta-titanium\"? known are ALLOYS"},
		{"nothing like an alloy", "beta-titanium", "wood", "spring.toml:11:9: wire.alloy: no alloy is called \"wood\"\n  hint: known are ALLOYS"},
		{"alloy of no name", "beta-titanium", "", "spring.toml:11:9: wire.alloy: no alloy is called \"\"\n  hint: known are ALLOYS"},
		{"alloy is a number", `"beta-titanium"`, "7", "spring.toml:11:9: wire.alloy: is a number, not a text\n  hint: put it in quotes"},
		{"plateau too low", `"beta-titanium"`, "\"superelastic nickel-titanium\"\nyield_mpa = 240", "spring.toml:12:13: wire.yield_mpa: 240 MPa is too low for a superelastic wire, allowed is above 240 MPa\n  hint: it is the start of the plateau; below that the wire would not turn back by itself"},
		{"hardening and plateau", `"beta-titanium"`, "\"superelastic nickel-titanium\"\ntangent_mpa = 500", "spring.toml:12:15: wire.tangent_mpa: does not go with a superelastic wire\n  hint: leave it out: the alloy has its own law"},
		{"bends of a plateau", `"beta-titanium"`, "\"superelastic nickel-titanium\"\nbends = \"as bent\"", "spring.toml:12:9: wire.bends: does not go with a superelastic wire\n  hint: leave it out: such a wire is not bent by hand"},
		{"bends", `alloy = "beta-titanium"`, "alloy = \"beta-titanium\"\nbends = \"soft\"", "spring.toml:12:9: wire.bends: \"soft\" is not a known word here\n  hint: write \"as bent\" or \"stress-relieved\""},
		{"size and radius", "width_mm = 0.635", "width_mm = 0.635\nsize = \"real\"\ncorner_radius_mm = 0.05", "spring.toml:15:20: wire.corner_radius_mm: is given beside size = \"real\"\n  hint: leave one of them out: the real size brings the edges' usual radius"},
		{"size", "width_mm = 0.635", "width_mm = 0.635\nsize = \"true\"", "spring.toml:14:8: wire.size: \"true\" is not a known word here\n  hint: write \"nominal\" or \"real\""},
		{"no alloy", `alloy = "beta-titanium"`, "e_gpa = 65", "spring.toml:10:2: wire.poisson: is missing\n  hint: name an alloy (ALLOYS) or give e_gpa, poisson and yield_mpa\nspring.toml:10:2: wire.yield_mpa: is missing\n  hint: name an alloy (ALLOYS) or give e_gpa, poisson and yield_mpa"},
		{"modulus in MPa", `alloy = "beta-titanium"`, "alloy = \"beta-titanium\"\ne_gpa = 65000", "spring.toml:12:9: wire.e_gpa: 65000 GPa is out of range, allowed is 1 to 400 GPa\n  hint: check the value; a number without a unit is in GPa here"},
		{"Poisson's ratio", `alloy = "beta-titanium"`, "alloy = \"beta-titanium\"\npoisson = \"0.3\"", "spring.toml:12:11: wire.poisson: is a text, not a number\n  hint: write a number, allowed is 0 to 0.49"},
		{"tangent above modulus", `alloy = "beta-titanium"`, "alloy = \"beta-titanium\"\ntangent_mpa = 70000", "spring.toml:12:15: wire.tangent_mpa: 70000 MPa is not below the modulus 65000 MPa\n  hint: past yield a wire is softer than before"},
		{"round and flat", "width_mm = 0.635", "diameter_mm = 0.4", "spring.toml:12:16: wire.thickness_mm: is given beside diameter_mm\n  hint: a round wire has a diameter only; a rectangular one thickness_mm and width_mm"},
		{"no width", "width_mm = 0.635\n", "", "spring.toml:10:2: wire.width_mm: is missing\n  hint: allowed is 0.05 to 3 mm; a round wire has diameter_mm instead"},
		{"heading", `"back"`, `"Back"`, "spring.toml:20:11: active.heading: \"Back\" is not a known word here\n  hint: write \"on\" or \"back\""},
		{"no heading", "heading = \"back\"\n", "", "spring.toml:18:2: active.heading: is missing\n  hint: write \"on\" or \"back\""},
		{"no position", "positions = 7", "positions = 0", "spring.toml:23:13: active.positions: 0 is not a whole number from 1 to 1000\n  hint: check the value"},
		{"many positions", "positions = 7", "positions = 1001", "spring.toml:23:13: active.positions: 1001 is not a whole number from 1 to 1000\n  hint: check the value"},
		{"two numbers", "[8.0, 0.0, -3.0]", "[8.0, -3.0]", "spring.toml:21:19: active.start.at_mm: has 2 numbers, not 3\n  hint: write three numbers: [x, y, z]"},
		{"same place", "[8.0, 0.0, -3.0]", "[0.0, 0.0, 0.0]", "spring.toml:21:19: active.start.at_mm: the active slot lies at the anchor slot, the origin\n  hint: at_mm is counted from where the wire leaves the anchor slot"},
		{"half a turn and more", "tip_deg = 1, torque_deg = -2", "tip_deg = 170, torque_deg = -170", "spring.toml:21:1: active.start: turns by 240.4°, more than the allowed 180°\n  hint: torque_deg, tip_deg and rotation_deg are one rotation vector: give the shorter turn"},
		{"no travel", "start = { at_mm = [8.0, 0.0, -3.0], tip_deg = 1, torque_deg = -2, rotation_deg = 3 }", "start = { at_mm = [8.0, 0.0, 0.0] }", "spring.toml:22:9: active.end: is the same as start: the travel is 0\n  hint: let the slot move or turn, or write positions = 1 for a single seat"},
		{"no end", "end   = { at_mm = [8.0, 0.0,  0.0] }\n", "", "spring.toml:18:2: active.end: is missing\n  hint: write { at_mm = [8.0, 0.0, -3.0] }, or positions = 1 for a single seat"},
		{"repeated key", "heading = \"back\"", "heading = \"back\"\nheading = \"on\"", "spring.toml:21:1: active.heading: already given as heading in line 20\n  hint: keep one of the two"},
		{"key in other case", "heading = \"back\"", "heading = \"back\"\nHeading = \"on\"", "spring.toml:21:1: active.Heading: already given as heading in line 20\n  hint: keep one of the two"},
		{"repeated table", "[anchor]", "[wire]", "spring.toml:15:2: wire: already given as wire in line 10\n  hint: keep one of the two"},
		{"decimal comma", "slot_length_mm = 4.0", "slot_length_mm = 4,0", "spring.toml:16:19: expected newline but got U+002C ','\n  hint: write a decimal point in numbers; a comma only separates values inside brackets"},
		{"open quote", `"step spring"`, `"step spring`, "spring.toml:1:21: basic strings cannot have new lines\n  hint: look for a missing quote, bracket or equals sign"},
		{"open bracket", "  { straight_mm = 3.0 },\n]", "  { straight_mm = 3.0 },\n", "spring.toml:10:2: unexpected character U+0077 'w' at start of value\n  hint: look for a missing quote, bracket or equals sign"},
		{"huge number", "positions = 7", "positions = 99999999999999999999", "spring.toml:23:13: active.positions: 99999999999999999999 is too large a number\n  hint: write a plain decimal number"},
		{"leading zero", "positions = 7", "positions = 07", "spring.toml:23:13: integers cannot have leading zeroes\n  hint: write 7 instead of 07"},
		{"title is a number", `"step spring"`, "3", "spring.toml:1:9: title: is a number, not a text\n  hint: put it in quotes"},
		{"title of two lines", `"step spring"`, `"step\nspring"`, "spring.toml:1:9: title: holds a character that cannot be printed\n  hint: write one line of plain text"},
		{"table is a number", "end   = { at_mm = [8.0, 0.0,  0.0] }", "end = 3", "spring.toml:22:7: active.end: is a number, not a table\n  hint: write [active.end] and its keys below it, or end = { … }"},
		{"array is a number", "[8.0, 0.0, -3.0]", "8.0", "spring.toml:21:19: active.start.at_mm: is a number, not an array\n  hint: write three numbers: [x, y, z]"},
		{"several at once", "slot_length_mm = 3.5\nheading = \"back\"", "slot_length_mm = 35\nheading = true", "spring.toml:19:18: active.slot_length_mm: 35 mm is out of range, allowed is 0 to 30 mm\n  hint: check the value; a number without a unit is in mm here\nspring.toml:20:11: active.heading: is true or false, not a text\n  hint: write \"on\" or \"back\""},
	}
	for _, tt := range tests {
		_, err := casefile.ReadSpring("spring.toml", []byte(replaceIn(t, stepSpring, tt.old, tt.bad)))
		if err == nil {
			t.Errorf("%s: accepted", tt.name)
			continue
		}
		want := strings.ReplaceAll(tt.want, "ALLOYS", strings.Join(alloys, ", "))
		if got := err.Error(); got != want {
			t.Errorf("%s: got\n%s\nwant\n%s", tt.name, got, want)
		}
	}
}
