package export

import (
	"errors"

	"springwright/export/plane"
	"springwright/export/schematic"
	"springwright/export/sheet"
	"springwright/export/words"
)

const measuringRowMM = 5.0

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
		f.say("Drawn for the patient's lower left. Elsewhere the drawing is mirrored or upside down; the words hold everywhere."),
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
		{"K", "room_distal_mm", "the same distally, behind the last tooth", ""},
	}
}

// measuringPage is the drawings and below them the boxes.
type measuringPage struct{}

func (p measuringPage) draw(f *flow) error {
	f.newPage("Measuring")
	places := askTable(f, f.say("measure"), f.say("which way"), f.say("now"), f.say("goal"), askedPlaces())
	slots := askTable(f, f.say("slot or tube"), "", f.say("anchor"), f.say("active"), askedSlots())
	room := askTable(f, f.say("room for the spring"), "", "", "", askedRoom())
	const apart = 1.5
	boxes := places.HeightMM() + slots.HeightMM() + room.HeightMM() + 3*fieldRowMM + 4*apart
	drawings := f.leftMM() - boxes
	const side = 0.58 // of the drawings' height
	at := f.take(side*drawings - apart)
	schematic.Cheek(f.page, f.say, boxUnder(at.X, at.Y, f.area.Width(), side*drawings-2*apart))
	at = f.take((1 - side) * drawings)
	const viewsApart = 3.0
	width, height := f.area.Width()-viewsApart, (1-side)*drawings-apart
	schematic.BitingSide(f.page, f.say, boxUnder(at.X, at.Y, 0.6*width, height))
	schematic.Behind(f.page, f.say, boxUnder(at.X+0.6*width+viewsApart, at.Y, 0.4*width, height))

	third := f.area.Width() / 3
	at = f.take(fieldRowMM + apart)
	for i, label := range [...]words.Phrase{"Case code", "Active tooth", "Anchor tooth"} {
		drawFields(f, plane.Point{X: at.X + third*float64(i), Y: at.Y}, third-4, 24, []field{{label: f.say(label)}})
	}
	places.Draw(f.page, f.take(places.HeightMM()+apart))
	slots.Draw(f.page, f.take(slots.HeightMM()))
	at = f.take(2*fieldRowMM + apart)
	drawChoices(f, at, 37, 0, f.say("Wire enters the active slot"), []choice{
		{text: f.say("from the anchor")}, {text: f.say("from behind")}, {text: f.say("hooked on") + ` (hold = "hook")`},
	})
	drawFields(f, plane.Point{X: at.X, Y: at.Y - fieldRowMM}, f.area.Width(), 37, []field{{label: f.say("Wire, alloy and size")}})
	room.Draw(f.page, f.take(room.HeightMM()))
	if len(f.doc.Pages) != 1 {
		return errors.New("the measuring sheet does not fit on one page")
	}
	return nil
}

// askTable is a table with boxes to write in. With both heads empty it has one wide box a row.
func askTable(f *flow, what, sense, first, second string, rows []asked) sheet.Table {
	t := sheet.Table{RowMM: measuringRowMM, Columns: []sheet.Column{
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
