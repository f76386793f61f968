package photo

import "gonum.org/v1/gonum/spatial/r2"

// Size of the card. It is about a bank card, 85.6 × 54 mm (ISO/IEC 7810, ID-1): a telephone
// that fills its picture with one gives 30 pixels and more to the millimetre. The rest of the
// geometry is a choice.
const (
	CardWidthMM  = 85.6
	CardHeightMM = 54.0
	// MarkMM is the side of a mark, a black square.
	MarkMM = 7.0
	// DotMM is the diameter of the white dots in a mark, which number it.
	DotMM = 1.4
	// FrameMM is the width of the line round the field.
	FrameMM = 0.4
	// stripMM is the height of the strip for the case's code, below the field.
	stripMM = 6.4

	dotApartMM  = 1.9 // from the mark's middle, across and up
	lineApartMM = 1.5 // between a mark and the line's end
)

// Mark is one of the card's four marks.
type Mark struct {
	Number int    // 1 to 4, and so many dots; clockwise from the upper left corner
	Min    r2.Vec // its lower left corner
	Dots   []r2.Vec
}

// Centre is the middle of the mark.
func (m Mark) Centre() r2.Vec { return r2.Add(m.Min, r2.Vec{X: MarkMM / 2, Y: MarkMM / 2}) }

// Corners are the corners of the mark, anticlockwise from the lower left one.
func (m Mark) Corners() [4]r2.Vec {
	return [4]r2.Vec{m.Min, {X: m.Min.X + MarkMM, Y: m.Min.Y}, {X: m.Min.X + MarkMM, Y: m.Min.Y + MarkMM}, {X: m.Min.X, Y: m.Min.Y + MarkMM}}
}

// Marks are the card's marks, number 1 first.
func Marks() [4]Mark {
	const right, top = CardWidthMM - MarkMM, CardHeightMM - MarkMM
	marks := [4]Mark{{Min: r2.Vec{Y: top}}, {Min: r2.Vec{X: right, Y: top}}, {Min: r2.Vec{X: right}}, {}}
	for i := range marks {
		m := &marks[i]
		m.Number = i + 1
		for _, d := range dotPattern(m.Number) {
			m.Dots = append(m.Dots, r2.Add(m.Centre(), r2.Scale(dotApartMM, d)))
		}
	}
	return marks
}

// dotPattern is where a mark's dots are, in units of dotApartMM from its middle.
func dotPattern(number int) []r2.Vec {
	a, b := r2.Vec{X: -1, Y: -1}, r2.Vec{X: 1, Y: 1}
	switch number {
	case 1:
		return []r2.Vec{{}}
	case 2:
		return []r2.Vec{a, b}
	case 3:
		return []r2.Vec{a, {}, b}
	default:
		return []r2.Vec{a, b, {X: -1, Y: 1}, {X: 1, Y: -1}}
	}
}

// FrameLines are the middles of the four lines round the field, from mark to mark: top, right,
// bottom, left.
func FrameLines() [4][2]r2.Vec {
	const clear = MarkMM + lineApartMM
	const left, right = FrameMM / 2, CardWidthMM - FrameMM/2
	const bottom, top = stripMM, CardHeightMM - FrameMM/2
	return [4][2]r2.Vec{
		{{X: clear, Y: top}, {X: CardWidthMM - clear, Y: top}},
		{{X: right, Y: CardHeightMM - clear}, {X: right, Y: clear}},
		{{X: CardWidthMM - clear, Y: bottom}, {X: clear, Y: bottom}},
		{{X: left, Y: clear}, {X: left, Y: CardHeightMM - clear}},
	}
}

// Field is the room for the spring inside the lines; the marks' corners of it are not for use.
func Field() r2.Box {
	lines := FrameLines()
	return r2.NewBox(lines[3][0].X+FrameMM/2, lines[2][0].Y+FrameMM/2, lines[1][0].X-FrameMM/2, lines[0][0].Y-FrameMM/2)
}

// CodeBox is the room for the case's code, which the reader does not look at.
func CodeBox() r2.Box {
	return r2.NewBox(MarkMM+lineApartMM, 0, CardWidthMM-MarkMM-lineApartMM, stripMM-FrameMM/2)
}
