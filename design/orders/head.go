package orders

import (
	"fmt"
	"strings"
)

// NewTable is a list to begin with: what each column holds, as comments, the row that names the columns, and an
// example that works. In English lists cells are divided by commas; with semicolons numbers may have decimal
// commas, as spreadsheets of most other languages write them.
func NewTable(semicolons bool) []byte {
	divider, point := ",", "."
	if semicolons {
		divider, point = ";", ","
	}
	var b strings.Builder
	b.WriteString("\ufeff") // without it spreadsheets take ± for two other letters
	// In quotes a comment stays one cell, whatever divides the cells.
	line := func(format string, args ...any) {
		b.WriteString(`"` + strings.ReplaceAll(fmt.Sprintf(format, args...), `"`, "") + "\"\n")
	}
	line("# Orders of a laboratory: a row is an order. Lines that begin with # are comments and may be taken out.")
	line("# Codes only: never a patient's name. A cell that is left empty leaves what the preset or case file says.")
	line("# Columns may stand in any order and be left out or added. Those that there are:")
	last := ""
	for _, c := range columns() {
		name := c.name
		if c.letter != "" {
			name = c.letter + " " + name
		}
		if c.about == last {
			line("#   %s", name)
		} else {
			line("#   %s: %s", name, c.about)
		}
		last = c.about
	}
	line("# A letter before a name is that of the measuring sheet. Lengths are in mm, angles in degrees, forces in N, couples in N·mm,")
	line("# or carry a unit of their own: 0.022in, 40gf. Windows of loads: 0.3 to 0.6, or 0 ± 0.12, or free.")
	heads := []string{orderColumn, dueColumn, presetColumn, sideColumn, wireColumn, "A now.along_mm", "B now.occlusal_mm", "I limits.fold_depth_mm", "target.start.intrusive_n"}
	row := []string{"example-1", "14:00", "demo", "both", "", "12.5", "1.5", "10.0", "0.30 to 0.60"}
	for i := range row {
		row[i] = strings.ReplaceAll(row[i], ".", point)
	}
	b.WriteString(strings.Join(heads, divider) + "\n" + strings.Join(row, divider) + "\n")
	return []byte(b.String())
}
