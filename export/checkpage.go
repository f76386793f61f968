package export

import (
	"math"

	"springwright/design/photo"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r2"
)

// checkPage is the card on which a picture of the bent spring is taken; package photo reads it.
type checkPage struct{ *subject }

const (
	cardClearMM   = 6.0 // of paper round the card, by which its squares are told
	instructionMM = 5.6 // a line of instructions, numbered
)

func (p checkPage) draw(f *flow) error {
	p.layOut(f)
	return nil
}

// layOut draws the page and returns where the card's lower left corner is on it.
func (p checkPage) layOut(f *flow) (card plane.Point) {
	f.newPage("Check by picture")
	f.heading(f.say("Check by picture"), f.say("The bent spring, read from a picture of it on this card."))
	body := sheet.Style{SizePt: sheet.BodyPt}
	for _, text := range [...]string{
		f.say("1. Lay the bent spring flat inside the lines, its anchor end to the left. It touches neither lines nor squares."),
		f.say("2. Paper flat on a firm table, even light. No shadow's edge and no glare across the card, nothing else on it, no writing."),
		f.say("3. Take the picture from straight above, so near that the card fills it: all four squares whole and sharp."),
		f.say("4. The page must be printed at 100 %%: measure both bars, and give what they measure where it is not 100 mm."),
	} {
		f.paragraph(text, body, paragraphApartMM/2)
	}
	width, height := photo.CardWidthMM*f.scale.X, photo.CardHeightMM*f.scale.Y
	f.take(cardClearMM)
	f.need(height + cardClearMM)
	at := f.take(height + cardClearMM)
	at.X += (f.area.Width() - width) / 2
	at.Y -= height
	p.card(f, at)
	return at
}

// card draws the card, its lower left corner at at.
func (p checkPage) card(f *flow, at plane.Point) {
	on := func(q r2.Vec) plane.Point {
		return plane.Point{X: at.X + q.X*f.scale.X, Y: at.Y + q.Y*f.scale.Y}
	}
	for _, m := range photo.Marks() {
		var outline []plane.Point
		for _, q := range m.Corners() {
			outline = append(outline, on(q))
		}
		var dots [][]plane.Point
		for _, middle := range m.Dots {
			const sides = 64 // within 0.001 mm of round
			var dot []plane.Point
			for i := range sides {
				sin, cos := math.Sincos(-2 * math.Pi * float64(i) / sides)
				dot = append(dot, on(r2.Add(middle, r2.Scale(photo.DotMM/2, r2.Vec{X: cos, Y: sin}))))
			}
			dots = append(dots, dot)
		}
		f.page.Plate(outline, dots...)
	}
	for _, line := range photo.FrameLines() {
		along := r2.Unit(r2.Sub(line[1], line[0]))
		half := r2.Scale(photo.FrameMM/2, r2.Vec{X: -along.Y, Y: along.X})
		f.page.Plate([]plane.Point{on(r2.Sub(line[0], half)), on(r2.Sub(line[1], half)), on(r2.Add(line[1], half)), on(r2.Add(line[0], half))})
	}
	for _, b := range p.owner.Strip() {
		f.page.Plate([]plane.Point{on(b.Min), on(r2.Vec{X: b.Max.X, Y: b.Min.Y}), on(b.Max), on(r2.Vec{X: b.Min.X, Y: b.Max.Y})})
	}
	room := photo.CodeBox()
	small, code := sheet.Style{SizePt: sheet.SmallPt}, sheet.Style{SizePt: sheet.HeadPt, Bold: true}
	if p.owner.Valid() { // the strip takes half of the room
		code.SizePt = sheet.SmallPt
	}
	left, right := on(room.Min), on(room.Max)
	y := (left.Y + right.Y - code.CapMM()) / 2
	width := f.page.Text(plane.Point{X: left.X, Y: y}, "← "+f.say("anchor end"), small)
	code.Align = sheet.Right
	free := right.X - left.X - width - 3
	if strip := p.owner.Strip(); len(strip) > 0 {
		free = right.X - on(strip[len(strip)-1].Max).X - 1.5
	}
	f.page.Text(plane.Point{X: right.X, Y: y}, f.doc.Fit(p.headText().name, free, code), code)
}
