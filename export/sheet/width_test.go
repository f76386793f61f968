package sheet

import (
	"math"
	"testing"
)

// The width of a text is what the drawing package makes of it, shaped.
func TestWidthIsThatOfTheShapedText(t *testing.T) {
	doc, err := NewDocument(210, 297)
	if err != nil {
		t.Fatal(err)
	}
	for _, style := range [...]Style{{SizePt: SmallPt}, {SizePt: BodyPt, Bold: true}, {SizePt: TitlePt}} {
		for _, text := range [...]string{
			"", "AVATAR To Ty LT “first” ’", "office, ffi, fl", "0.432 × 0.635 mm (0.017 × 0.025 in), ±2°, −0.07 N·mm", "açúcar, ângulo, señal, Größe",
		} {
			// Both add up the same widths, in another order.
			if got, want := doc.WidthOf(text, style), doc.face(style).TextWidth(text); math.Abs(got-want) > 1e-9 {
				t.Errorf("%q is %v mm wide, want %v", text, got, want)
			}
		}
	}
}
