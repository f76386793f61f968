package sheet

import (
	"strings"
	"testing"
)

func TestNumbersKeepTheirUnits(t *testing.T) {
	doc, err := NewDocument(210, 297)
	if err != nil {
		t.Fatal(err)
	}
	const text = "intrusive force over the travel 0.11 to 0.54 N (limit ± 0.60 N); 6.7 N·mm, 25 % off, 0.2 mm; a card of 85.60 × 53.98 mm."
	style := Style{SizePt: BodyPt}
	for width := 26.0; width < 120; width++ {
		lines := doc.Wrap(text, width, style)
		if got := strings.Join(lines, " "); got != text {
			t.Fatalf("in %v mm the text became %q", width, got)
		}
		for _, line := range lines {
			switch first, _, _ := strings.Cut(line, " "); strings.TrimRight(first, ",.;)") {
			case "N", "N·mm", "%", "mm", "0.60", "×", "53.98":
				t.Errorf("in %v mm a line begins with %q", width, first)
			}
		}
	}
}
