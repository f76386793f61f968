package orders

import (
	"fmt"
	"slices"
	"strings"

	"springwright/design/spelling"
)

// The columns that a list has beside those of the case file.
const (
	orderColumn  = "order"
	dueColumn    = "due"
	presetColumn = "preset"
	caseColumn   = "case"
	toothColumn  = "tooth"
	anchorColumn = "anchor"
	sideColumn   = "side"
	wireColumn   = "wire"
)

// column is one that a list may have. All but the first eight are keys of the case file.
type column struct {
	name   string
	letter string // of the measuring sheet; "" where it has none
	about  string // a line for the head of a blank list
	window bool   // holds a window, such as "0.3 to 0.6"
	// others are keys of the case file that say the opposite: where a row gives one of them, that of the
	// case it starts from gives way.
	others []string
}

// columns are all columns, in the order of the job.
//
// In one piece: a table.
func columns() []column {
	list := []column{
		{name: orderColumn, about: "the order's code, never a patient's name; up to 64 characters, each code once"},
		{name: dueColumn, about: "when it is needed: 2026-11-27, 2026-11-27 14:00, or 14:00 alone in the whole list; may be empty"},
		{name: presetColumn, about: "the case of the program that the row starts from, as \"springwright presets\" lists them"},
		{name: caseColumn, about: "or a case file that it starts from, its name counted from this list's folder"},
		{name: toothColumn, about: "the tooth to move, ISO 3950, where it is not that of the preset or case file"},
		{name: anchorColumn, about: "the tooth that the spring is held at; on the other side of the mouth that of the preset is taken in the mirror"},
		{name: sideColumn, about: "the patient's side: right, left, or both for a spring and its mirrored twin"},
		{name: wireColumn, about: "such as beta-titanium 0.016x0.022in; several to choose from with | between them"},
		{name: "spring", about: "the kind of spring, as \"springwright kinds\" lists them"},
	}
	add := func(letter, about string, window bool, names ...string) {
		for _, n := range names {
			others := slices.DeleteFunc(slices.Clone(names), func(o string) bool { return o == n })
			list = append(list, column{n, letter, about, window, others})
		}
	}
	senses := func(table, unit string, words ...string) []string {
		var names []string
		for _, w := range words {
			names = append(names, table+"."+w+unit)
		}
		return names
	}
	sides := []string{"buccal", "labial", "lingual", "palatal"}
	torques := []string{"buccal_crown_torque", "labial_crown_torque", "lingual_crown_torque", "palatal_crown_torque"}
	for _, t := range [...]string{"now", "goal"} {
		where := map[string]string{"now": "as it is now", "goal": "as it should come to be"}[t]
		add("A", "slot to slot along the arch, centre to centre, "+where, false, t+".along_mm")
		add("B", "height step of the active slot, "+where, false, senses(t, "_mm", "apical", "occlusal")...)
		add("C", "in/out offset of the active slot, "+where, false, senses(t, "_mm", sides...)...)
		add("D", "tip of the active tooth against the anchor, "+where, false, senses(t, "_deg", "crown_mesial_tip", "crown_distal_tip")...)
		add("E", "torque of the active tooth against the anchor, "+where, false, senses(t, "_deg", torques...)...)
		add("F", "rotation of the active tooth against the anchor, "+where, false, senses(t, "_deg", "mesial_in_rotation", "mesial_out_rotation")...)
	}
	for _, t := range [...]string{"anchor_slot", "active_slot"} {
		add("G", "clear height of the slot or tube", false, t+".height_mm")
		add("H", "length of the slot or tube", false, t+".length_mm")
		add("", "tube or bracket", false, t+".kind")
		add("", "how the wire is held in it: cinched, left to slide, ligature", false, t+".tie")
		add("", "tied, play, or of the active slot hook", false, t+".hold")
	}
	add("", "slid to rest, drawn to a force, or as measured", false, "active_slot.before_tying")
	add("", "the force that it is drawn to", false, "active_slot.drawn_to_n")
	add("", "from the anchor, or from behind", false, "active_slot.enter")
	add("", "bar or screw, where one holds the anchor", false, "anchor.held")
	add("", "how many times as firmly as the active tooth the anchor holds", false, "anchor.hold_ratio")
	add("I", "from the active slot's goal level to the fold of the cheek", false, "limits.fold_depth_mm")
	add("J", "room from the centre of the active slot mesially", false, "limits.room_mesial_mm")
	add("K", "the same distally", false, "limits.room_distal_mm")
	for _, l := range [...]struct{ key, about string }{
		{"gum_clearance_mm", "kept free of the fold"},
		{"loop_width_mm", "largest width of the loop"},
		{"pliers_radius_mm", "inside radius of a bend"},
		{"shortest_straight_mm", "what pliers need between two bends"},
		{"largest_pre_bend_deg", "largest pre-activation at one bend"},
		{"biting_clearance_mm", "largest reach towards the biting side"},
		{"cheek_bulge_mm", "largest reach towards the cheek"},
		{"tongue_reach_mm", "largest reach towards the tongue"},
		{"most_bends", "largest number of bends and twists"},
		{"largest_stress_ratio", "largest stress over yield"},
	} {
		add("", l.about, false, "limits."+l.key)
	}
	add("", "how long before the goal no force is asked for any more", false, "target.force_until_mm")
	add("", "how far the anchor slot may move", false, "target.anchor_loss_mm")
	add("", "how far the anchor may tip", false, "target.anchor_tip_deg")
	for _, t := range [...]struct{ table, about string }{
		{"target.start", "wanted on the active tooth at the start"}, {"target.travel", "over the whole travel"}, {"target.anchor", "on the anchor tooth"},
	} {
		add("", "force "+t.about, true, senses(t.table, "_n", "mesial", "distal")...)
		add("", "force "+t.about, true, senses(t.table, "_n", sides...)...)
		add("", "force "+t.about, true, senses(t.table, "_n", "intrusive", "extrusive")...)
		add("", "couple "+t.about, true, senses(t.table, "_nmm", torques...)...)
		add("", "couple "+t.about, true, senses(t.table, "_nmm", "crown_mesial", "crown_distal")...)
		add("", "couple "+t.about, true, senses(t.table, "_nmm", "mesial_in", "mesial_out")...)
	}
	add("", "couple over force along the arch", true, "target.travel.moment_to_force_mm")
	add("", "largest loss of force along the travel", false, "target.travel.max_rate_n_per_mm")
	return list
}

// Columns lists the names of all columns that a list may have.
func Columns() []string {
	var names []string
	for _, c := range columns() {
		names = append(names, c.name)
	}
	return names
}

// personal are heads of columns that hold what must not be here, in the languages of the sheets.
var personal = []string{
	"name", "patient", "patient name", "surname", "first name", "last name", "family name", "birth", "birthday", "date of birth", "born", "age", "address", "phone", "e-mail", "email",
	"nome", "paciente", "sobrenome", "nascimento", "data de nascimento", "idade", "endereço", "telefone",
	"nombre", "apellido", "apellidos", "nacimiento", "fecha de nacimiento", "edad", "dirección", "teléfono",
}

// findColumn reads the head of a column: a name, in capitals or not, with or without the letter of the
// measuring sheet before it. Where it is none, text says what is wrong and hint what to do.
func findColumn(all []column, head string) (found column, text, hint string) {
	plain := strings.ToLower(strings.Join(strings.Fields(head), " "))
	if slices.Contains(personal, strings.ReplaceAll(plain, "_", " ")) {
		return column{}, "is a column for what tells who the patient is", "take the column out: an order goes by its code in the column " + orderColumn + ", and who that is stays in your own records"
	}
	letter, name := "", plain
	if first, rest, two := strings.Cut(plain, " "); two && len(first) == 1 {
		letter, name = strings.ToUpper(first), rest
	}
	name = strings.ReplaceAll(name, " ", "_")
	var names []string
	for _, c := range all {
		if c.name == name {
			if letter != "" && letter != c.letter {
				return column{}, fmt.Sprintf("has the letter %s of the measuring sheet, but %s is not measured there", letter, c.name), letterHint(c)
			}
			return c, "", ""
		}
		names = append(names, c.name)
	}
	hint = "\"springwright batch --new FILE\" writes a list with every column explained"
	if near := spelling.Nearest(name, names); near != "" {
		hint = fmt.Sprintf("did you mean %q", near)
	}
	return column{}, "is no known column", hint
}

func letterHint(c column) string {
	if c.letter == "" {
		return "write " + c.name
	}
	return "write " + c.letter + " " + c.name
}
