package export

import (
	"errors"

	"springwright/export/plane"
	"springwright/export/schematic"
	"springwright/export/sheet"
	"springwright/export/words"
)

// Rows to write in are as high as the paper lets them be: leastRowMM is what a number by hand
// needs, more than mostRowMM none (choice).
const (
	leastRowMM = 4.2
	mostRowMM  = 5.2
)

// Measuring returns the blank form for what is measured at the chair or on the model, as
// one PDF file and as SVG. The letters are those in the comments of the demo case, and
// the boxes stand in the order in which a case file asks for them.
func Measuring(frame Frame) (file []byte, pages [][]byte, err error) {
	doc, err := frame.measuring()
	if err != nil {
		return nil, nil, err
	}
	words := words.NewBook(frame.Language)
	return frame.written(doc, words.Say("Measuring sheet"), words.Say("What to measure for a case, to be filled in by hand"))
}

func (frame Frame) measuring() (*sheet.Document, error) {
	var found faults
	frame.check(found.add)
	if err := found.err(); err != nil {
		return nil, err
	}
	f, err := frame.flow()
	if err != nil {
		return nil, err
	}
	f.top.head = headText{f.say("Measuring sheet"), f.say("what to measure at the chair or on the model"), []string{
		f.say("Lengths in mm to a tenth, angles in whole degrees. Distances run from the centre of one slot or tube to the centre of the other."),
		f.say("Letters as in the comments of the demo case file. Of two rows fill in the one whose words are true: no sign is needed."),
		f.say("Drawn for the patient's lower left, the anchor in front. Elsewhere the drawing is mirrored or upside down; the words hold everywhere."),
	}}
	if err := (measuringPage{}).draw(f); err != nil {
		return nil, err
	}
	return f.finished()
}

// asked is one row of the form. What has two senses has a row for each: the number goes into
// the row whose words are true, and no sign is needed.
type asked struct {
	letter, key string
	what, sense words.Phrase
}

func askedPlaces() []asked {
	return []asked{
		{"A", "along_mm", "slot to slot along the arch, centre to centre", ""},
		{"B", "apical_mm", "height step of the active slot", "towards the root tip"},
		{"B", "occlusal_mm", "", "towards the biting edge"},
		{"C", "buccal_mm", "in/out offset of the active slot", "towards cheek or lip"},
		{"C", "lingual_mm", "", "towards tongue or palate"},
		{"D", "crown_mesial_tip_deg", "tip of the active tooth against the anchor", "crown mesial"},
		{"D", "crown_distal_tip_deg", "", "crown distal"},
		{"E", "buccal_crown_torque_deg", "torque of the active tooth against the anchor", "crown to cheek or lip"},
		{"E", "lingual_crown_torque_deg", "", "crown inwards"},
		{"F", "mesial_in_rotation_deg", "rotation of the active tooth against the anchor", "mesial side inwards"},
		{"F", "mesial_out_rotation_deg", "", "mesial side outwards"},
	}
}

func askedSlots() []asked {
	return []asked{
		{"G", "height_mm", "clear height, across the thickness of the wire", ""},
		{"H", "length_mm", "length, along the wire", ""},
	}
}

func askedRoom() []asked {
	return []asked{
		{"I", "fold_depth_mm", "from the active slot's goal level to the fold of the cheek", ""},
		{"J", "room_mesial_mm", "from the centre of the active slot mesially to what is in the way", ""},
		{"K", "room_distal_mm", "the same distally, whichever side the anchor stands on", ""},
	}
}

// measuringPage is the drawings and below them the boxes.
type measuringPage struct{}

func (p measuringPage) draw(f *flow) error {
	f.newPage("Measuring")
	const (
		apart      = 1.2
		rowMM      = 5.6  // of a line to write on
		drawingsMM = 38.0 // all three beside each other
	)
	tables := func(rowMM float64) (places, slots, room sheet.Table, loads loadBoxes, kinds kindBoxes) {
		places = askTable(f, rowMM, f.say("measure"), f.say("which way"), f.say("now"), f.say("goal"), askedPlaces())
		slots = askTable(f, rowMM, f.say("slot or tube"), "", f.say("anchor"), f.say("active"), askedSlots())
		room = askTable(f, rowMM, f.say("room for the spring"), "", "", "", askedRoom())
		return places, slots, room, loadBoxesOf(f, rowMM), kindBoxes{f, rowMM}
	}
	heightMM := func(rowMM float64) float64 {
		places, slots, room, loads, kinds := tables(rowMM)
		return places.HeightMM() + slots.HeightMM() + room.HeightMM() + loads.heightMM() + kinds.heightMM()
	}
	spareMM := f.leftMM() - drawingsMM - 3*rowMM - 6*apart
	rows := heightMM(2) - heightMM(1)
	tableRowMM := (spareMM-heightMM(1))/rows + 1
	if tableRowMM < leastRowMM {
		return errors.New("the measuring sheet does not fit on one page")
	}
	places, slots, room, loads, kinds := tables(min(tableRowMM, mostRowMM))

	at := f.take(drawingsMM + apart)
	const viewsApart = 2.0
	shares := [...]float64{150, 104, 68} // of the width: the drawings' own widths
	unit := (f.area.Width() - 2*viewsApart) / (shares[0] + shares[1] + shares[2])
	for i, draw := range [...]func(*sheet.Page, schematic.Say, plane.Box){schematic.Cheek, schematic.BitingSide, schematic.Behind} {
		width := unit * shares[i]
		draw(f.page, f.say, boxUnder(at.X, at.Y, width, drawingsMM))
		at.X += width + viewsApart
	}

	third := f.area.Width() / 3
	at = f.take(rowMM + apart)
	for i, label := range [...]words.Phrase{"Case code", "Active tooth", "Anchor tooth"} {
		drawFields(f, plane.Point{X: at.X + third*float64(i), Y: at.Y}, third-4, 24, []field{{label: f.say(label)}})
	}
	places.Draw(f.page, f.take(places.HeightMM()+apart))
	slots.Draw(f.page, f.take(slots.HeightMM()))
	const labelMM = 38
	drawChoices(f, f.take(rowMM), labelMM, 0, f.say("Wire enters the active slot")+" (enter)", []choice{
		{text: caseWord(f, "from the anchor", "from the anchor")}, {text: caseWord(f, "from the far side", "from behind")}, {text: f.say("hooked on") + ` (hold = "hook")`},
	})
	drawFields(f, f.take(rowMM+apart), f.area.Width(), labelMM, []field{{label: f.say("Wire, alloy and size")}})
	room.Draw(f.page, f.take(room.HeightMM()+apart))
	loads.draw(f.take(loads.heightMM() + apart))
	kinds.draw(f.take(kinds.heightMM()))
	if len(f.doc.Pages) != 1 {
		return errors.New("the measuring sheet does not fit on one page")
	}
	return nil
}

// caseWord is a phrase with the word that the case file has for it.
func caseWord(f *flow, phrase words.Phrase, word string) string {
	quoted := `"` + word + `"`
	if said := f.say(phrase); said != word {
		return said + " " + quoted
	}
	return quoted
}

// askTable is a table with boxes to write in. With both heads empty it has one wide box a row.
func askTable(f *flow, rowMM float64, what, sense, first, second string, rows []asked) sheet.Table {
	t := sheet.Table{RowMM: rowMM, Columns: []sheet.Column{
		{WidthMM: 7},
		{Head: what},
		{Head: sense, WidthMM: 36},
		{Head: f.say("key in the case file"), WidthMM: 40},
		{Head: first, WidthMM: 15, Ruled: true},
		{Head: second, WidthMM: 15, Ruled: second != ""},
	}}
	if sense == "" {
		t.Columns[2].WidthMM = 0
	}
	t.Fill(1, f.area.Width())
	last := ""
	for _, r := range rows {
		letter := r.letter
		if letter == last {
			letter = ""
		}
		last = r.letter
		t.Rows = append(t.Rows, []string{letter, f.say(r.what), f.say(r.sense), r.key})
	}
	return t
}
