package casefile_test

import (
	"strings"
	"testing"

	"springwright/design/casefile"
)

func TestReadCaseRefuses(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, old, bad, want string }{
		{"patient's name", `"m-37.b"`, `"Ann Example"`, "case.toml:1:8: case: \"Ann Example\" is no code: allowed are up to 32 of the letters A–Z, digits, - _ and ., a letter or digit first\n  hint: write a case code, never a patient's name"},
		{"hidden file", `"m-37.b"`, `".b"`, "case.toml:1:8: case: \".b\" is no code: allowed are up to 32 of the letters A–Z, digits, - _ and ., a letter or digit first\n  hint: write a case code, never a patient's name"},
		{"empty code", `"m-37.b"`, `""`, "case.toml:1:8: case: \"\" is no code: allowed are up to 32 of the letters A–Z, digits, - _ and ., a letter or digit first\n  hint: write a case code, never a patient's name"},
		{"long code", `"m-37.b"`, `"a23456789012345678901234567890123"`, "case.toml:1:8: case: has 33 characters, more than the allowed 32\n  hint: shorten it"},
		{"no code", "case = \"m-37.b\"\n", "", "case.toml:1:1: case: is missing\n  hint: write a case code, never a patient's name"},
		{"tooth 59", "active = 37", "active = 59", "case.toml:5:10: teeth.active: 59 is no permanent tooth, allowed are 11–18, 21–28, 31–38 and 41–48\n  hint: use the two-digit numbers of ISO 3950: quadrant, then place from the midline"},
		{"tooth in quotes", "active = 37", `active = "37"`, "case.toml:5:10: teeth.active: is a text, not a tooth number\n  hint: write it without quotes; allowed are 11–18, 21–28, 31–38 and 41–48"},
		{"tooth 3.7e1", "active = 37", `active = 3.7e1`, "case.toml:5:10: teeth.active: 3.7e1 is no permanent tooth, allowed are 11–18, 21–28, 31–38 and 41–48\n  hint: use the two-digit numbers of ISO 3950: quadrant, then place from the midline"},
		{"same tooth", "anchor = 36", "anchor = 37", "case.toml:6:10: teeth.anchor: 37 is the active tooth, too\n  hint: name the tooth that the spring is held at"},
		{"other quadrant", "anchor = 36", "anchor = 46", "case.toml:6:10: teeth.anchor: 46 is lower right and the active tooth 37 lower left\n  hint: both teeth must stand in one quadrant"},
		{"no anchor", "anchor = 36\n", "", "case.toml:4:2: teeth.anchor: is missing\n  hint: give the tooth's two-digit number of ISO 3950; allowed are 11–18, 21–28, 31–38 and 41–48"},
		{"no teeth", "[teeth]\nactive = 37\nanchor = 36\n", "", "case.toml:1:1: teeth: is missing\n  hint: add [teeth] with active and anchor, two-digit numbers of ISO 3950"},
		{"wire thicker than slot", "height_mm = \"0.022in\"\nlength_mm = 4.0", "height_mm = \"0.016in\"\nlength_mm = 4.0", "case.toml:9:13: anchor_slot.height_mm: 0.4064 mm is less than the wire's thickness, 0.4318 mm\n  hint: choose a thinner wire or check the slot's height"},
		{"slot in cm", "length_mm = 3.5", `length_mm = "3.5cm"`, "case.toml:14:13: active_slot.length_mm: \"3.5cm\" (35 mm) is out of range, allowed is 0 to 30 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"no slot length", "length_mm = 3.5\n", "", "case.toml:12:2: active_slot.length_mm: is missing\n  hint: write the slot's length along the wire; 0 for a point"},
		{"entered from above", `"from behind"`, `"from above"`, "case.toml:15:9: active_slot.enter: \"from above\" is not a known word here\n  hint: write \"from the anchor\" or \"from behind\""},
		{"slots at the same point", "along_mm = 12.5", "along_mm = 0", "case.toml:18:12: now.along_mm: 0 mm is out of range, allowed is 0.5 to 60 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"slots overlap", "along_mm = 12.5", "along_mm = 3.75", "case.toml:18:12: now.along_mm: 3.75 mm leaves no wire between the slots: half the lengths of both are 3.75 mm\n  hint: along_mm is counted from the centre of one slot to the centre of the other"},
		{"no distance", "along_mm = 12.5\n", "", "case.toml:17:2: now.along_mm: is missing\n  hint: write the distance of the slots' centres along the arch"},
		{"no travel", "apical_mm = 0.0\ncrown_mesial_tip_deg = 0", "apical_mm = -2.0", "case.toml:25:2: goal: is the same as now: the travel is 0, at least 0.01 mm or 0.01° are needed\n  hint: write what the tooth should do"},
		{"no goal", "[goal]\napical_mm = 0.0\ncrown_mesial_tip_deg = 0\n", "", "case.toml:1:1: goal: is missing\n  hint: add [goal] with what should be different from [now]"},
		{"one position", "positions = 5", "positions = 1", "case.toml:30:13: travel.positions: 1 is not a whole number from 2 to 1000\n  hint: check the value"},
		{"pliers too sharp", "pliers_radius_mm = 0.6", "pliers_radius_mm = 0.21", "case.toml:43:20: limits.pliers_radius_mm: 0.21 mm is less than half the wire's thickness, 0.2159 mm: the wire would crack\n  hint: use pliers of a larger radius or a thinner wire"},
		{"fold too shallow", "fold_depth_mm = 8.0", "fold_depth_mm = 3.0", "case.toml:38:17: limits.fold_depth_mm: 3 mm less the clearance of 1.5 mm leaves less than the 2 mm that a loop needs\n  hint: measure again, from the slot's goal level to the fold; another kind of spring may suit"},
		{"no room given", "room_distal_mm = 5.0\n", "", "case.toml:37:2: limits.room_distal_mm: is missing\n  hint: measure it from the centre of the active slot to what is in the way"},
		{"negative room", "room_distal_mm = 5.0\n", "room_distal_mm = -5.0\n", "case.toml:42:18: limits.room_distal_mm: -5.0 mm is out of range, allowed is 0 to 40 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"force asked for beyond the travel", "force_until_mm = 0.4", "force_until_mm = 2.0", "case.toml:48:18: target.force_until_mm: 2 mm is not below the travel of 2 mm\n  hint: the force would never be asked for: give less"},
		{"min above max", "min = -0.1, max = 0.5", "min = 0.5, max = -0.1", "case.toml:57:39: target.travel.crown_mesial_nmm.max: -0.1 is not above min, 0.5\n  hint: swap the two, or widen the window"},
		{"no width of window", "value = 0.02, tolerance = 0.05", "value = 0.02, tolerance = 0", "case.toml:55:40: target.travel.buccal_n.tolerance: 0 N is out of range, allowed is above 0 to 20 N\n  hint: check the value; a number without a unit is in N here"},
		{"value without tolerance", "value = 0.02, tolerance = 0.05", "value = 0.02", "case.toml:55:1: target.travel.buccal_n.tolerance: is missing\n  hint: write { min = …, max = … }, { value = …, tolerance = … } or \"free\""},
		{"range and value", "value = 0.02, tolerance = 0.05", "value = 0.02, min = 0.05", "case.toml:55:12: target.travel.buccal_n: has both a range and a value\n  hint: write { min = …, max = … }, { value = …, tolerance = … } or \"free\""},
		{"empty window", "value = 0.02, tolerance = 0.05", "", "case.toml:55:12: target.travel.buccal_n: is empty\n  hint: write { min = …, max = … }, { value = …, tolerance = … } or \"free\""},
		{"bare number for a window", "{ value = 0.02, tolerance = 0.05 }", "0.02", "case.toml:55:12: target.travel.buccal_n: is a number, not a window\n  hint: write { min = …, max = … }, { value = …, tolerance = … } or \"free\""},
		{"word for a window", `"free"`, `"any"`, "case.toml:58:27: target.travel.buccal_crown_torque_nmm: is a text, not a window\n  hint: write { min = …, max = … }, { value = …, tolerance = … } or \"free\""},
		{"couple as a force", "max = 0.3", `max = "30gf"`, "case.toml:59:25: target.travel.mesial_in_nmm.max: \"30gf\" has the unit \"gf\", which is no unit of couple\n  hint: write a number and one of the units N·mm, cN·mm, gf·mm, N·m, mN·m"},
		{"infinite window", "max = 0.3", `max = inf`, "case.toml:59:25: target.travel.mesial_in_nmm.max: inf is not a finite number\n  hint: write a plain decimal number"},
		{"everything free", targetsOfMolar(), "", "case.toml:47:2: target: leaves every load free\n  hint: give at least one window, under the key whose sense is wanted, such as start.intrusive_n or start.extrusive_n = { min = …, max = … }"},
		{
			"both senses, one of them with a fault of its own", "intrusive_n = { min = 0.05 }", "intrusive_n = { min = 0.5, max = 0.05 }\nextrusive_n = { max = 0.1 }",
			"case.toml:56:34: target.travel.intrusive_n.max: 0.05 is not above min, 0.5\n  hint: swap the two, or widen the window\n" +
				"case.toml:57:15: target.travel.extrusive_n: stands beside intrusive_n, and both are of one force\n  hint: keep the one whose sense is wanted, or one window that holds both ways",
		},
		{
			"both senses of a place, too far", "buccal_mm = 0.5", "buccal_mm = 50\nlingual_mm = 0.5",
			"case.toml:20:13: now.buccal_mm: 50 mm is out of range, allowed is -20 to 20 mm\n  hint: check the value; a number without a unit is in mm here\n" +
				"case.toml:21:14: now.lingual_mm: stands beside buccal_mm, and both are of one place\n  hint: keep the one whose sense is wanted, or one window that holds both ways",
		},
		{
			"nothing but a misspelt load", targetsOfMolar(), "[target.start]\nintrusiv_n = { min = 0.1 }\n",
			"case.toml:51:1: target.start.intrusiv_n: is not a known key\n  hint: did you mean intrusive_n?",
		},
		{
			"nothing but a misspelt table", targetsOfMolar(), "[target.strat]\nintrusive_n = { min = 0.1 }\n",
			"case.toml:50:9: target.strat: is not a known key\n  hint: did you mean start?",
		},
		{"unknown load", "mesial_n = ", "forward_n = ", "case.toml:54:1: target.travel.forward_n: is not a known key\n  hint: known here: mesial_n, distal_n, buccal_n, labial_n, lingual_n, palatal_n, intrusive_n, extrusive_n, buccal_crown_torque_nmm, labial_crown_torque_nmm, lingual_crown_torque_nmm, palatal_crown_torque_nmm, crown_mesial_nmm, crown_distal_nmm, mesial_in_nmm, mesial_out_nmm, moment_to_force_mm, max_rate_n_per_mm"},
		{"ratio without a force along the arch", "intrusive_n = { min = 0.05 }", "moment_to_force_mm = { min = 5, max = 9 }", "case.toml:56:22: target.travel.moment_to_force_mm: is asked for without a force along the arch that keeps its sense\n  hint: give mesial_n or distal_n here, too, with a window that does not hold 0"},
		{"weight alone", "intrusive_n = { min = 0.05 }", "intrusive_n = { weight = 2 }", "case.toml:56:15: target.travel.intrusive_n: has a weight and nothing that it is for\n  hint: write { min = …, max = … }, { value = …, tolerance = … } or \"free\""},
		{"no weight at all", "intrusive_n = { min = 0.05 }", "intrusive_n = { min = 0.05, weight = 0 }", "case.toml:56:38: target.travel.intrusive_n.weight: 0 is out of range, allowed is 0.01 to 100\n  hint: check the value"},
		{"no rate", "intrusive_n = { min = 0.05 }", "max_rate_n_per_mm = 0", "case.toml:56:21: target.travel.max_rate_n_per_mm: 0 is out of range, allowed is above 0 to 20\n  hint: check the value"},
		{"unknown load on the anchor tooth", "[search]", "[target.anchor]\nretrusive_n = { max = 0.5 }\n\n[search]", "case.toml:62:1: target.anchor.retrusive_n: is not a known key\n  hint: known here: mesial_n, distal_n, buccal_n, labial_n, lingual_n, palatal_n, intrusive_n, extrusive_n, buccal_crown_torque_nmm, labial_crown_torque_nmm, lingual_crown_torque_nmm, palatal_crown_torque_nmm, crown_mesial_nmm, crown_distal_nmm, mesial_in_nmm, mesial_out_nmm"},
		{"both senses of a force", "intrusive_n = { min = 0.05 }", "intrusive_n = { min = 0.05 }\nextrusive_n = { max = 0.1 }", "case.toml:57:15: target.travel.extrusive_n: stands beside intrusive_n, and both are of one force\n  hint: keep the one whose sense is wanted, or one window that holds both ways"},
		{"two words for one sense of a couple", "mesial_in_nmm = { max = 0.3 }", "lingual_crown_torque_nmm = { max = 0.3 }", "case.toml:59:28: target.travel.lingual_crown_torque_nmm: stands beside buccal_crown_torque_nmm, and both are of one couple\n  hint: keep the one whose sense is wanted, or one window that holds both ways"},
		{"both senses of a place", "buccal_mm = 0.5", "buccal_mm = 0.5\nlingual_mm = 0.5", "case.toml:21:14: now.lingual_mm: stands beside buccal_mm, and both are of one place\n  hint: keep the one whose sense is wanted, or one window that holds both ways"},
		{"palate of a lower tooth", "buccal_n = { value", "palatal_n = { value", "case.toml:55:13: target.travel.palatal_n: does not suit tooth 37: the palate is beside upper teeth\n  hint: the same sense is lingual_n"},
		{"lip of a molar", "buccal_crown_torque_deg = -4", "labial_crown_torque_deg = 4", "case.toml:22:27: now.labial_crown_torque_deg: does not suit tooth 37: its outer side is buccal\n  hint: the same sense is buccal_crown_torque_deg"},
		{"no word for what is meant", "force_until_mm = 0.4", "against_travel = \"yes\"", "case.toml:48:18: target.against_travel: \"yes\" is not a known word here\n  hint: write \"meant\""},
		{"ratio of the anchor tooth", "[search]", "[target.anchor]\nmoment_to_force_mm = { max = 0.5 }\n\n[search]", "case.toml:62:1: target.anchor.moment_to_force_mm: is not a known key\n  hint: known here: mesial_n, distal_n, buccal_n, labial_n, lingual_n, palatal_n, intrusive_n, extrusive_n, buccal_crown_torque_nmm, labial_crown_torque_nmm, lingual_crown_torque_nmm, palatal_crown_torque_nmm, crown_mesial_nmm, crown_distal_nmm, mesial_in_nmm, mesial_out_nmm"},
		{"no bends", "largest_pre_bend_deg = 25", "most_bends = 0", "case.toml:45:14: limits.most_bends: 0 is not a whole number from 1 to 1000\n  hint: check the value"},
		{"stress beyond yield", "largest_pre_bend_deg = 25", "largest_stress_ratio = 1.2", "case.toml:45:24: limits.largest_stress_ratio: 1.2 is out of range, allowed is 0.1 to 1\n  hint: check the value"},
		{"negative bulge", "largest_pre_bend_deg = 25", "cheek_bulge_mm = -1", "case.toml:45:18: limits.cheek_bulge_mm: -1 mm is out of range, allowed is 0.5 to 20 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"no clearance", "largest_pre_bend_deg = 25", "biting_clearance_mm = 0", "case.toml:45:23: limits.biting_clearance_mm: 0 mm is out of range, allowed is 0.5 to 20 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"no step", "length_step_mm = 0.25", "length_step_mm = 0", "case.toml:62:18: search.length_step_mm: 0 mm is out of range, allowed is 0.01 to 5 mm\n  hint: check the value; a number without a unit is in mm here"},
		{"negative seed", "seed = 7", "seed = -7", "case.toml:64:8: search.seed: -7 is not a whole number from 0 to 2147483647\n  hint: check the value"},
		{"several at once", "along_mm = 12.5\napical_mm = -2.0", "along_mm = \"far\"\napical_mm = nan\nbucal_mm = 1", "case.toml:18:12: now.along_mm: \"far\" does not begin with a number\n  hint: write a number and one of the units mm, cm, m, µm, in\ncase.toml:19:13: now.apical_mm: nan is not a finite number\n  hint: write a plain decimal number\ncase.toml:20:1: now.bucal_mm: is not a known key\n  hint: did you mean buccal_mm?"},
	}
	for _, tt := range tests {
		_, err := casefile.ReadCase("case.toml", []byte(replaceIn(t, molarCase, tt.old, tt.bad)))
		if err == nil {
			t.Errorf("%s: accepted", tt.name)
			continue
		}
		if got := err.Error(); got != tt.want {
			t.Errorf("%s: got\n%s\nwant\n%s", tt.name, got, tt.want)
		}
	}
}

// targetsOfMolar is what molarCase asks for.
func targetsOfMolar() string {
	return molarCase[strings.Index(molarCase, "[target.start]"):strings.Index(molarCase, "[search]")]
}

// What is no case file at all, and a number with a comma in a window, are told so, and not to look for a
// quote.
func TestFilesOfOtherKindsAreToldSo(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, text, hint string }{
		{"a table", "a,b\n1,2\n", "is it another kind of file?"},
		{"no text", "\x8e\x00\xff\n", "save it as UTF-8"},
		{"UTF-16", "\xff\xfec\x00a\x00s\x00e\x00", "save it as UTF-8"},
		{"comma in a window", strings.Replace(molarCase, "max = 0.60 }", "max = 0,60 }", 1), "write a decimal point"},
		{"comma", strings.Replace(molarCase, "along_mm = 12.5", "along_mm = 12,5", 1), "write a decimal point"},
	} {
		_, err := casefile.ReadCase("case.toml", []byte(row.text))
		if err == nil || !strings.Contains(err.Error(), row.hint) {
			t.Errorf("%s: %v, want %q", row.name, err, row.hint)
		}
	}
}
