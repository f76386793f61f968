package desk

import (
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"springwright/design/casefile"
	"springwright/design/quantity"
	"springwright/design/tooth"
	"springwright/export/words"
)

// group is a part of a step: its fields, or the arch of teeth.
type group struct {
	Label  string      `json:"label"`
	Note   string      `json:"note,omitempty"`
	Folded bool        `json:"folded,omitempty"` // opened by who needs it, while nothing is wrong in it
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
	Wanted    []arrow           `json:"wanted"` // the loads at the start that the target asks for
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

// sides are the words that a file may use for one and the same side of a tooth.
var sides = [...][2]string{{"buccal", "labial"}, {"lingual", "palatal"}}

// sameSide are other keys for the same side: a file may name it by either word, a field has one.
func sameSide(key string) []string {
	table, name := key[:strings.LastIndex(key, ".")+1], key[strings.LastIndex(key, ".")+1:]
	if name == "min" || name == "max" || name == "value" || name == "tolerance" || name == "weight" {
		at := strings.LastIndex(strings.TrimSuffix(table, "."), ".") + 1
		table, name = key[:at], key[at:]
	}
	for _, pair := range sides {
		for i, word := range pair {
			if rest, found := strings.CutPrefix(name, word+"_"); found {
				return []string{table + pair[1-i] + "_" + rest}
			}
		}
	}
	return nil
}

// wireKeys name one wire; wire.choose stands in their place.
var wireKeys = []string{"wire.alloy", "wire.thickness_mm", "wire.width_mm", "wire.diameter_mm"}

// withImplied takes out what an entry takes the place of.
func withImplied(set []entry) []entry {
	var list []entry
	for _, e := range set {
		switch {
		case e.Value == "":
		case e.Key == "wire.choose":
			for _, key := range wireKeys {
				list = append(list, entry{Key: key})
			}
		case slices.Contains(wireKeys, e.Key):
			list = append(list, entry{Key: "wire.choose"})
		}
		list = append(list, e)
	}
	return list
}

func (a *api) form(w http.ResponseWriter, r *http.Request) {
	q, ok := request[formRequest](w, r)
	if !ok {
		return
	}
	text := []byte(q.Text)
	for _, e := range withImplied(q.Set) {
		for _, other := range sameSide(e.Key) {
			if edited, err := casefile.Edit(text, casefile.Entry{Key: other}); err == nil {
				text = edited
			}
		}
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
		for _, other := range sameSide(e.Key) {
			out.Values[other] = unquoted(e.Value)
		}
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
	if teeth == out.chosenTeeth() { // those of an example are not the case's
		out.TeethText = teethText(b, teeth)
	}
	for name, groups := range map[string][]group{"measure": out.Measure, "want": out.Want, "kind": out.Kind} {
		n := 0
		for i, f := range out.Faults {
			if slices.ContainsFunc(groups, func(g group) bool { return g.shows(f.Key) }) {
				out.Faults[i].Step = name
				n++
			}
		}
		if n > 0 {
			out.Open[name] = b.Say("%d to fill in or mend", n)
		}
	}
	out.Cautions = out.cautions(b, teeth)
	plan := out.plan(teeth)
	out.Mouth = plan.draw(b, plan.now, true)
	out.Wanted = out.wanted(b, plan)
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

// shows tells whether a fault is shown in a group: that of a field, or of a whole table that its
// fields are in.
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

// chosenTeeth are those that the case names, 0 for one that it does not.
func (f formAnswer) chosenTeeth() tooth.Pair {
	read := func(key string) tooth.Number {
		n, _ := strconv.Atoi(f.Values[key])
		return tooth.Number(n)
	}
	return tooth.Pair{Active: read("teeth.active"), Anchor: read("teeth.anchor")}
}

// teeth are the two of the case; where one is not chosen yet, those of an example.
func (f formAnswer) teeth() tooth.Pair {
	p := f.chosenTeeth()
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
