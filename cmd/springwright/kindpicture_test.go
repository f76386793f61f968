package main

import (
	"strings"
	"testing"

	"springwright/design"
)

// TestKindPicturesAreWhole: a picture is one wire from the anchor slot to its end, without a gap,
// and fits a usual terminal.
func TestKindPicturesAreWhole(t *testing.T) {
	t.Parallel()
	const columns = 80
	listed, err := listKinds(design.Families())
	if err != nil {
		t.Fatal(err)
	}
	for i, kind := range design.Families() {
		picture := kindPicture(listed.Kinds[i].SketchMM, kind.Hooked)
		rows := strings.Split(strings.TrimSuffix(picture, "\n"), "\n")
		drawn := map[[2]int]bool{}
		for y, row := range rows {
			if len(row) > columns || row == "" {
				t.Errorf("%s: row %d is %q", kind.Name, y, row)
			}
			for x := range row {
				if row[x] != ' ' {
					drawn[[2]int{y, x}] = true
				}
			}
		}
		if slots := strings.Count(picture, drawnSlot); slots != map[bool]int{true: 1, false: 2}[kind.Hooked] || strings.Contains(picture, drawnHook) != kind.Hooked {
			t.Errorf("%s: %d slots\n%s", kind.Name, slots, picture)
		}
		// All that is drawn hangs together.
		var next [][2]int
		for at := range drawn {
			next = append(next, at)
			break
		}
		delete(drawn, next[0])
		for len(next) > 0 {
			at := next[len(next)-1]
			next = next[:len(next)-1]
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					if beside := [2]int{at[0] + dy, at[1] + dx}; drawn[beside] {
						delete(drawn, beside)
						next = append(next, beside)
					}
				}
			}
		}
		if len(drawn) > 0 {
			t.Errorf("%s is drawn in pieces:\n%s", kind.Name, picture)
		}
	}
}

func TestKindPictureLooksLikeItsWire(t *testing.T) {
	t.Parallel()
	line := [][2]float64{{0, 0}, {3, 0}, {3, 4}, {6, 4}, {6, 0}, {9, 0}}
	want := `
              /-----\
              |     |
              |     |
              |     |
  [====]------/     \-----[====]
`
	if got := kindPicture(line, false); got != want[1:] {
		t.Errorf("got\n%swant%s", got, want)
	}
}
