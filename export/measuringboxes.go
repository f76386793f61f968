package export

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/family"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// halvesApartMM is between two tables beside each other.
const halvesApartMM = 2.5

// askedForces and askedCouples are the loads that may be wanted on the active tooth, a row for
// each sense.
func askedForces() []asked {
	return []asked{
		{"", "intrusive_n", "towards the root tip", ""},
		{"", "extrusive_n", "towards the biting edge", ""},
		{"", "mesial_n", "to the front", ""},
		{"", "distal_n", "to the back", ""},
		{"", "buccal_n", "towards cheek or lip", ""},
		{"", "lingual_n", "towards tongue or palate", ""},
	}
}

func askedCouples() []asked {
	return []asked{
		{"", "crown_mesial_nmm", "crown mesial", ""},
		{"", "crown_distal_nmm", "crown distal", ""},
		{"", "buccal_crown_torque_nmm", "crown to cheek or lip", ""},
		{"", "lingual_crown_torque_nmm", "crown inwards", ""},
		{"", "mesial_in_nmm", "mesial side inwards", ""},
		{"", "mesial_out_nmm", "mesial side outwards", ""},
	}
}

// loadBoxes are boxes for the loads that are wanted: forces at the left, couples at the right.
type loadBoxes struct {
	f               *flow
	forces, couples sheet.Table
}

func loadBoxesOf(f *flow, rowMM float64) loadBoxes {
	const (
		forceWordsMM, forceKeyMM   = 36.0, 19.0
		coupleWordsMM, coupleKeyMM = 31.0, 37.0
	)
	boxMM := (f.area.Width() - halvesApartMM - forceWordsMM - forceKeyMM - coupleWordsMM - coupleKeyMM) / 4
	table := func(what string, wordsMM, keyMM float64, unit string, rows []asked) sheet.Table {
		t := sheet.Table{RowMM: rowMM, Columns: []sheet.Column{
			{Head: what, WidthMM: wordsMM},
			{Head: f.say("key in the case file"), WidthMM: keyMM},
			{Head: f.say("start") + "\n" + unit, WidthMM: boxMM, Ruled: true},
			{Head: f.say("travel") + "\n" + unit, WidthMM: boxMM, Ruled: true},
		}}
		if keyMM == forceKeyMM {
			t.Columns[1].Head = f.say("key")
		}
		for _, r := range rows {
			t.Rows = append(t.Rows, []string{f.say(r.what), r.key})
		}
		return t
	}
	return loadBoxes{
		f,
		table(f.say("wanted: push, from – to"), forceWordsMM, forceKeyMM, "N", askedForces()),
		table(f.say("tip, torque, turn"), coupleWordsMM, coupleKeyMM, "N·mm", askedCouples()),
	}
}

func (b loadBoxes) heightMM() float64 { return b.forces.HeightMM() }

func (b loadBoxes) draw(at plane.Point) {
	b.forces.Draw(b.f.page, at)
	b.dashes(at, b.forces)
	for _, c := range b.forces.Columns {
		at.X += c.WidthMM
	}
	at.X += halvesApartMM
	b.couples.Draw(b.f.page, at)
	b.dashes(at, b.couples)
}

// dashes stand between "from" and "to" in each box.
func (b loadBoxes) dashes(at plane.Point, t sheet.Table) {
	const dashMM = 1.2
	y := at.Y - t.HeadMM() + t.RowMM/2
	for range t.Rows {
		y -= t.RowMM
		x := at.X
		for _, c := range t.Columns {
			if middle := x + c.WidthMM/2; c.Ruled {
				b.f.page.Line(sheet.Mark, plane.Point{X: middle - dashMM/2, Y: y}, plane.Point{X: middle + dashMM/2, Y: y})
			}
			x += c.WidthMM
		}
	}
}

// kindBoxes are boxes to tick for the kind of spring, each with a small drawing and the word of
// the case file.
type kindBoxes struct {
	f     *flow
	rowMM float64
}

const kindColumns = 2

func (b kindBoxes) rows() int {
	return (len(design.Families()) + kindColumns - 1) / kindColumns
}

func (b kindBoxes) table(first int) sheet.Table {
	t := sheet.Table{RowMM: b.rowMM, Columns: []sheet.Column{
		{WidthMM: 5}, {WidthMM: 14}, {Head: b.f.say("kind of spring"), WidthMM: 36}, {Head: "spring ="},
	}}
	t.Fill(3, (b.f.area.Width()-halvesApartMM)/kindColumns)
	for _, kind := range design.Families()[first:min(first+b.rows(), len(design.Families()))] {
		t.Rows = append(t.Rows, []string{"", "", b.f.words.Name(kind.Name), `"` + kind.Name + `"`})
	}
	return t
}

func (b kindBoxes) heightMM() float64 { return b.table(0).HeightMM() }

func (b kindBoxes) draw(at plane.Point) {
	const boxMM, insetMM = 2.6, 1.2
	kinds := design.Families()
	for first := 0; first < len(kinds); first += b.rows() {
		t := b.table(first)
		t.Draw(b.f.page, at)
		y := at.Y - t.HeadMM()
		for i := range t.Rows {
			middle := y - t.RowMM/2
			b.f.page.Rectangle(sheet.Mark, boxUnder(at.X+insetMM, middle+boxMM/2, boxMM, boxMM))
			room := boxUnder(at.X+t.Columns[0].WidthMM, y-insetMM/2, t.Columns[1].WidthMM-1, t.RowMM-insetMM)
			if poses, err := family.Sketch(kinds[first+i]); err == nil { // a test draws them all
				b.f.page.Polyline(sheet.Mark, sketchIn(room, poses))
			}
			y -= t.RowMM
		}
		for _, c := range t.Columns {
			at.X += c.WidthMM
		}
		at.X += halvesApartMM
	}
}

// sketchIn lays a wire, seen from the side, into a box.
func sketchIn(room plane.Box, poses []beam.Pose) []plane.Point {
	low, high := plane.Point{X: math.Inf(1), Y: math.Inf(1)}, plane.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range poses {
		low = plane.Point{X: min(low.X, p.At.X), Y: min(low.Y, p.At.Z)}
		high = plane.Point{X: max(high.X, p.At.X), Y: max(high.Y, p.At.Z)}
	}
	const leastMM = 0.1 // the height of a straight wire
	scale := min(room.Width()/(high.X-low.X), (room.Max.Y-room.Min.Y)/max(high.Y-low.Y, leastMM))
	middle := low.Add(high).Times(0.5)
	var points []plane.Point
	for _, p := range poses {
		points = append(points, room.Centre().Add(plane.Point{X: p.At.X, Y: p.At.Z}.Sub(middle).Times(scale)))
	}
	return points
}
