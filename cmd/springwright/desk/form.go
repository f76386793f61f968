package desk

import (
	"math"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"springwright/design/casefile"
	"springwright/design/quantity"
	"springwright/design/tooth"
	"springwright/design/wire"
	"springwright/export/words"
)

// group is a part of a step: its fields, or the arch of teeth.
type group struct {
	Label  string      `json:"label"`
	Note   string      `json:"note,omitempty"`
	Fields []field     `json:"fields,omitempty"`
	Teeth  []archTooth `json:"teeth,omitempty"`
}

// field is one entry of a case, by its keys in the file. One with several keys has a key for
// each sense; Choices are then the senses' words.
type field struct {
	Key     string   `json:"key"`
	Keys    []string `json:"keys,omitempty"`
	Letter  string   `json:"letter,omitempty"` // on the measuring sheet
	Label   string   `json:"label"`
	Unit    string   `json:"unit,omitempty"`
	Kind    string   `json:"kind"` // "number", "text", "choice", "senses", "window"
	Choices []choice `json:"choices,omitempty"`
	Usual   string   `json:"usual,omitempty"`
	Note    string   `json:"note,omitempty"`
}

type choice struct {
	Value string `json:"value"`
	Label string `json:"label"`
}

type archTooth struct {
	Number int     `json:"number"`
	Name   string  `json:"name"`
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
}

// entry is a key to be set as somebody typed it; with Window the two ends of a window.
type entry struct {
	Key    string     `json:"key"`
	Value  string     `json:"value"`
	Window *[2]string `json:"window"`
}

type formRequest struct {
	Text   string            `json:"text"`
	Set    []entry           `json:"set"`
	Senses map[string]string `json:"senses"` // which sense a field shows: key of the field → key of the sense
	Lang   string            `json:"lang"`
}

type formAnswer struct {
	Text      string            `json:"text"`
	Values    map[string]string `json:"values"`
	Senses    map[string]string `json:"senses"`
	Measure   []group           `json:"measure"`
	Want      []group           `json:"want"`
	Kind      []group           `json:"kind"`
	Faults    []faultJSON       `json:"faults"`
	TeethText string            `json:"teethText"`
	Open      map[string]string `json:"open"` // what a step still lacks, by the step
	Mouth     drawing           `json:"mouth"`
	Cautions  []string          `json:"cautions"`
}

// number is what a hand writes for one: TOML takes it without quotes.
var number = regexp.MustCompile(`^[+-]?(0|[1-9][0-9]*)(\.[0-9]+)?$`)

// literal is what was typed, as TOML: a number, or a text such as "0.022in". Decimal commas are
// understood where nothing else could be meant.
func literal(typed string) string {
	typed = strings.TrimSpace(typed)
	if typed == "" {
		return ""
	}
	plain := strings.Replace(typed, "−", "-", 1)
	if strings.Count(plain, ",") == 1 && !strings.Contains(plain, ".") {
		plain = strings.Replace(plain, ",", ".", 1)
	}
	if number.MatchString(plain) {
		return plain
	}
	if strings.Count(typed, ",") == 1 {
		typed = strings.Replace(typed, ",", ".", 1)
	}
	return casefile.Quoted(typed)
}

// window is what was typed for both ends, as TOML; nothing for nothing.
func window(ends [2]string) string {
	var parts []string
	for i, name := range [...]string{"min", "max"} {
		if v := literal(ends[i]); v != "" {
			parts = append(parts, name+" = "+v)
		}
	}
	if parts == nil {
		return ""
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// texts are keys whose values are words even where they look like numbers.
var texts = map[string]bool{"case": true, "title": true}

func (e entry) toml() casefile.Entry {
	switch {
	case e.Window != nil:
		return casefile.Entry{Key: e.Key, Value: window(*e.Window)}
	case texts[e.Key] && e.Value != "":
		return casefile.Entry{Key: e.Key, Value: casefile.Quoted(e.Value)}
	}
	return casefile.Entry{Key: e.Key, Value: literal(e.Value)}
}

func (a *api) form(w http.ResponseWriter, r *http.Request) {
	q, ok := request[formRequest](w, r)
	if !ok {
		return
	}
	text := []byte(q.Text)
	for _, e := range q.Set {
		edited, err := casefile.Edit(text, e.toml())
		if err != nil {
			refuse(w, http.StatusUnprocessableEntity, err, "")
			return
		}
		text = edited
	}
	b := book(q.Lang)
	out := formAnswer{Text: string(text), Values: map[string]string{}, Senses: map[string]string{}, Open: map[string]string{}, Faults: []faultJSON{}, Cautions: []string{}}
	for _, e := range casefile.Values(text) {
		out.Values[e.Key] = unquoted(e.Value)
	}
	out.endsOfWindows()
	teeth := out.teeth()
	out.Measure, out.Want, out.Kind = measureGroups(b, teeth), wantGroups(b, teeth), kindGroups(b)
	for _, step := range [...][]group{out.Measure, out.Want, out.Kind} {
		for _, g := range step {
			for _, f := range g.Fields {
				out.chooseSense(f, q.Senses)
			}
		}
	}
	_, err := a.cases.get(string(text))
	if faults := faultsOf(err); faults != nil {
		out.Faults = faults
	} else if err != nil {
		out.Faults = []faultJSON{{Text: err.Error()}}
	}
	out.TeethText = teethText(b, teeth)
	for name, groups := range map[string][]group{"measure": out.Measure, "want": out.Want, "kind": out.Kind} {
		if n := out.faultsIn(groups); n > 0 {
			out.Open[name] = b.Say("%d to fill in or mend", n)
		}
	}
	plan := out.plan(teeth)
	out.Mouth = plan.draw(plan.now, true)
	out.Mouth.Label = out.TeethText
	answer(w, http.StatusOK, out)
}

// endsOfWindows shows a window that a file gives as a value and a tolerance by its two ends.
func (f *formAnswer) endsOfWindows() {
	for key, written := range f.Values {
		name, isValue := strings.CutSuffix(key, ".value")
		if !isValue {
			continue
		}
		value, err := strconv.ParseFloat(written, 64)
		tolerance, err2 := strconv.ParseFloat(f.Values[name+".tolerance"], 64)
		if err == nil && err2 == nil {
			f.Values[name+".min"] = quantity.Format(rounded(value-tolerance, 6))
			f.Values[name+".max"] = quantity.Format(rounded(value+tolerance, 6))
		}
	}
}

// faultsIn counts the faults that are shown in a step: those of its fields, and of whole tables that
// its fields are in.
func (f formAnswer) faultsIn(groups []group) int {
	n := 0
	for _, fault := range f.Faults {
		if slices.ContainsFunc(groups, func(g group) bool { return g.shows(fault.Key) }) {
			n++
		}
	}
	return n
}

func (g group) shows(key string) bool {
	if g.Teeth != nil && (key == "teeth" || strings.HasPrefix(key, "teeth.")) {
		return true
	}
	for _, field := range g.Fields {
		for _, own := range field.all() {
			if key == own || strings.HasPrefix(key, own+".") || strings.HasPrefix(own, key+".") {
				return true
			}
		}
	}
	return false
}

func (f field) all() []string {
	if f.Keys != nil {
		return f.Keys
	}
	return []string{f.Key}
}

// chooseSense finds which sense a field shows: that of the file, else the one last chosen.
func (f *formAnswer) chooseSense(of field, chosen map[string]string) {
	for _, key := range of.Keys {
		for given := range f.Values {
			if given == key || strings.HasPrefix(given, key+".") {
				f.Senses[of.Key] = key
				return
			}
		}
	}
	for _, key := range of.Keys {
		if chosen[of.Key] == key {
			f.Senses[of.Key] = key
		}
	}
}

// teeth are the two of the case; where one is not chosen yet, those of an example.
func (f formAnswer) teeth() tooth.Pair {
	read := func(key string) tooth.Number {
		n, _ := strconv.Atoi(f.Values[key])
		return tooth.Number(n)
	}
	p := tooth.Pair{Active: read("teeth.active"), Anchor: read("teeth.anchor")}
	if !p.Active.Valid() {
		p.Active = 37
	}
	if !p.Anchor.Valid() || !p.SameQuadrant() || p.Anchor == p.Active {
		p.Anchor = p.Active - 1
		if p.Active.Place() == 1 {
			p.Anchor = p.Active + 5
		}
	}
	return p
}

func teethText(b *words.Book, p tooth.Pair) string {
	return b.Say("Active tooth %d, %s. Anchor tooth %d, %s.", int(p.Active), b.Tooth(p.Active), int(p.Anchor), b.Tooth(p.Anchor))
}

// archTeeth are all teeth as they are seen by somebody who faces the patient.
func archTeeth(b *words.Book) []archTooth {
	var list []archTooth
	for quadrant := 1; quadrant <= 4; quadrant++ {
		for place := 1; place <= 8; place++ {
			n := tooth.Number(10*quadrant + place)
			// On a half ellipse, the midline at the top or the bottom.
			angle := (float64(place) - 0.5) / 8 * 80 * math.Pi / 180
			x, y := 95*math.Sin(angle), 70*math.Cos(angle)+8
			if n.PatientRight() {
				x = -x
			}
			if n.Upper() {
				y = -y
			}
			list = append(list, archTooth{int(n), b.Tooth(n), x, y})
		}
	}
	return list
}

// way is one sense of a field: its part of the key, and what it says.
type way struct {
	key   string
	words words.Phrase
}

func measureGroups(b *words.Book, p tooth.Pair) []group {
	out, in := p.Active.OutwardWord(), p.Active.InwardWord()
	senses := func(table, letter string, what words.Phrase, unit, ending string, ways ...way) field {
		f := field{Key: table + "." + letter, Letter: letter, Label: b.Say(what), Unit: unit, Kind: "senses"}
		for _, w := range ways {
			f.Keys = append(f.Keys, table+"."+w.key+ending)
			f.Choices = append(f.Choices, choice{table + "." + w.key + ending, b.Say(w.words)})
		}
		return f
	}
	place := func(table string) []field {
		return []field{
			{Key: table + ".along_mm", Letter: "A", Label: b.Say("slot to slot along the arch, centre to centre"), Unit: "mm", Kind: "number"},
			senses(table, "B", "height step of the active slot", "mm", "_mm", way{"apical", "towards the root tip"}, way{"occlusal", "towards the biting edge"}),
			senses(table, "C", "in/out offset of the active slot", "mm", "_mm", way{out, "towards cheek or lip"}, way{in, "towards tongue or palate"}),
			senses(table, "D", "tip of the active tooth against the anchor", "°", "_deg", way{"crown_mesial_tip", "crown mesial"}, way{"crown_distal_tip", "crown distal"}),
			senses(table, "E", "torque of the active tooth against the anchor", "°", "_deg", way{out + "_crown_torque", "crown to cheek or lip"}, way{in + "_crown_torque", "crown inwards"}),
			senses(table, "F", "rotation of the active tooth against the anchor", "°", "_deg", way{"mesial_in_rotation", "mesial side inwards"}, way{"mesial_out_rotation", "mesial side outwards"}),
		}
	}
	slot := func(table, label string, active bool) group {
		g := group{Label: label, Fields: []field{
			{Key: table + ".height_mm", Letter: "G", Label: b.Say("clear height, across the thickness of the wire"), Unit: "mm", Kind: "number"},
			{Key: table + ".length_mm", Letter: "H", Label: b.Say("length, along the wire"), Unit: "mm", Kind: "number"},
		}}
		if active {
			g.Fields = append(g.Fields,
				field{Key: table + ".enter", Label: b.Say("Wire enters the active slot"), Kind: "choice", Choices: []choice{
					{"", "–"}, {"from the anchor", b.Say("from the anchor")}, {"from behind", b.Say("from behind")},
				}})
		}
		return g
	}
	return []group{
		{Label: b.Say("The two teeth"), Note: b.Say("Pick the tooth to move, then its anchor."), Teeth: archTeeth(b)},
		{Label: b.Say("Case"), Fields: []field{
			{Key: "case", Label: b.Say("Case code"), Kind: "text", Note: b.Say("a code, never a patient's name")},
			{Key: "title", Label: b.Say("Title"), Kind: "text"},
		}},
		{Label: b.Say("Where the tooth stands now"), Fields: place("now")},
		{Label: b.Say("Where it should go"), Note: b.Say("Left empty, it stays as it is now."), Fields: place("goal")},
		slot("anchor_slot", b.Say("slot or tube")+", "+b.Say("anchor"), false),
		slot("active_slot", b.Say("slot or tube")+", "+b.Say("active"), true),
		{Label: b.Say("room for the spring"), Fields: []field{
			{Key: "limits.fold_depth_mm", Letter: "I", Label: b.Say("from the active slot's goal level to the fold of the cheek"), Unit: "mm", Kind: "number"},
			{Key: "limits.room_mesial_mm", Letter: "J", Label: b.Say("from the centre of the active slot mesially to what is in the way"), Unit: "mm", Kind: "number"},
			{Key: "limits.room_distal_mm", Letter: "K", Label: b.Say("the same distally, whichever side the anchor stands on"), Unit: "mm", Kind: "number"},
		}},
	}
}

func wantGroups(b *words.Book, p tooth.Pair) []group {
	windows := func(table string, n tooth.Number) []field {
		out, in := n.OutwardWord(), n.InwardWord()
		one := func(name string, what words.Phrase, unit, ending string, ways ...way) field {
			f := field{Key: table + "." + name, Label: b.Say(what), Unit: unit, Kind: "window"}
			for _, w := range ways {
				f.Keys = append(f.Keys, table+"."+w.key+ending)
				f.Choices = append(f.Choices, choice{table + "." + w.key + ending, b.Say(w.words)})
			}
			return f
		}
		return []field{
			one("vertical", "push up or down", "N", "_n", way{"intrusive", "into the bone: intrusive"}, way{"extrusive", "out of the bone: extrusive"}),
			one("along", "push along the arch", "N", "_n", way{"mesial", "towards the midline: mesial"}, way{"distal", "away from the midline: distal"}),
			one("across", "push in or out", "N", "_n", way{out, "towards cheek or lip"}, way{in, "towards tongue or palate"}),
			one("tip", "tip", "N·mm", "_nmm", way{"crown_mesial", "crown mesial"}, way{"crown_distal", "crown distal"}),
			one("torque", "torque", "N·mm", "_nmm", way{out + "_crown_torque", "crown to cheek or lip"}, way{in + "_crown_torque", "crown inwards"}),
			one("turn", "turn", "N·mm", "_nmm", way{"mesial_in", "mesial side inwards"}, way{"mesial_out", "mesial side outwards"}),
		}
	}
	return []group{
		{Label: b.Say("On the tooth, at the start"), Note: b.Say("Left empty, a load is kept to what is usual for the tooth."), Fields: windows("target.start", p.Active)},
		{Label: b.Say("On the tooth, over the whole travel"), Fields: append(windows("target.travel", p.Active),
			field{Key: "target.force_until_mm", Label: b.Say("the force is asked for until this much travel is left"), Unit: "mm", Kind: "number"})},
		{Label: b.Say("What the anchor can bear"), Fields: windows("target.anchor", p.Anchor)},
	}
}

func kindGroups(b *words.Book) []group {
	alloys := []choice{{"", "–"}}
	for _, a := range wire.Alloys() {
		alloys = append(alloys, choice{a.Name, b.Name(a.Name)})
	}
	return []group{
		{Label: b.Say("Wire, alloy and size"), Fields: []field{
			{Key: "wire.alloy", Label: b.Say("alloy"), Kind: "choice", Choices: alloys},
			{Key: "wire.thickness_mm", Label: b.Say("thickness"), Unit: "mm", Kind: "number", Note: b.Say("also in inches, such as 0.017in")},
			{Key: "wire.width_mm", Label: b.Say("width"), Unit: "mm", Kind: "number"},
		}},
		{Label: b.Say("What a hand can bend"), Fields: []field{
			{Key: "limits.pliers_radius_mm", Label: b.Say("radius of the pliers"), Unit: "mm", Kind: "number", Usual: "0.75"},
			{Key: "limits.shortest_straight_mm", Label: b.Say("shortest straight between two bends"), Unit: "mm", Kind: "number", Usual: "1.0"},
			{Key: "limits.largest_pre_bend_deg", Label: b.Say("largest pre-activation"), Unit: "°", Kind: "number", Usual: "30"},
			{Key: "limits.loop_width_mm", Label: b.Say("widest loop"), Unit: "mm", Kind: "number", Usual: "12"},
			{Key: "search.length_step_mm", Label: b.Say("lengths end on multiples of"), Unit: "mm", Kind: "number", Usual: "0.5"},
			{Key: "search.angle_step_deg", Label: b.Say("angles end on multiples of"), Unit: "°", Kind: "number", Usual: "1"},
		}},
	}
}

// quantityOf reads a value that may be missing, or wrong: then other.
func (f formAnswer) quantityOf(key string, unit quantity.Unit, other float64) float64 {
	v, err := quantity.ParseBare(f.Values[key], unit)
	if err != nil {
		return other
	}
	return v
}

// unquoted is a value of a file as somebody would type it.
func unquoted(toml string) string {
	if plain, err := strconv.Unquote(toml); err == nil {
		return plain
	}
	return toml
}
