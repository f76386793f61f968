package sheet

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestPlain(t *testing.T) {
	p := Plain{Columns: 34}
	p.Paragraph("case 1.25")
	p.Paragraph("Cut at 60.6 mm. A number stays with its unit: 2.5 mm.")
	p.Paragraph("")
	p.Table(Table{
		Columns: []Column{{Head: "step", Align: Right}, {Head: "mark\nmm", Align: Right}, {WidthMM: 2}, {Head: "way"}, {Head: "note"}},
		Rows: [][]string{
			{"1", "−0.25", "", "left", "then runs apical, 12° lingual"},
			{"10", "12.50", "", "right"},
		},
	})
	// A last column of numbers is not wrapped.
	p.Table(Table{Columns: []Column{{Head: "bend"}, {Head: "mm", Align: Right}}, Rows: [][]string{{"a", "1"}, {"bb", "22"}}})
	want := `case 1.25
Cut at 60.6 mm. A number stays
with its unit: 2.5 mm.

         mark
  step     mm  way    note
     1  −0.25  left   then runs
                      apical, 12°
                      lingual
    10  12.50  right
  bend  mm
  a      1
  bb    22
`
	if diff := cmp.Diff(want, p.String()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
