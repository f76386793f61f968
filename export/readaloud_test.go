package export

import (
	"fmt"
	"strings"
	"testing"
)

// The structure as poppler finds it, a reader that knows nothing of ours: the bend table row by
// row and cell by cell, every drawing with its words.
func TestSheetsCanBeReadAloud(t *testing.T) {
	for name, job := range map[string]Job{"flat": testJob(), "spatial": spatialJob()} {
		t.Run(name, func(t *testing.T) {
			file, _, err := Sheets(job)
			if err != nil {
				t.Fatal(err)
			}
			path := write(t, t.TempDir(), "sheet.pdf", file)
			execute(t, tool(t, "qpdf"), "--check", path)
			if about := execute(t, tool(t, "pdfinfo"), path); !strings.Contains(about, "Tagged:          yes") || !strings.Contains(about, "Metadata Stream: yes") {
				t.Errorf("not a tagged file: %s", about)
			}
			read := execute(t, tool(t, "pdfinfo"), "-struct-text", path)
			of, _, err := begin(job)
			if err != nil {
				t.Fatal(err)
			}
			table := bendTexts{of}.bendTable()
			var want strings.Builder
			for _, row := range table.Rows {
				want.WriteString("TR ")
				for _, cell := range row {
					want.WriteString("TD ")
					if cell != "" {
						fmt.Fprintf(&want, "%q ", cell)
					}
				}
			}
			_, rest, found := strings.Cut(strings.Join(strings.Fields(read), " "), `"`+table.Columns[len(table.Columns)-1].Head+`" `)
			if got := rest[:min(len(rest), want.Len())]; !found || got != want.String() {
				t.Errorf("the bend table is read as %q, want %q", got, want.String())
			}
			if place := strings.Index(read, "H1 (block)"); place < 0 || place > strings.Index(read, "H2 (block)") {
				t.Error("the first page does not start with its title")
			}
			tree := execute(t, tool(t, "qpdf"), "--qdf", "--object-streams=disable", path, "-")
			if drawings, told := strings.Count(tree, "/S /Figure"), strings.Count(tree, "/Alt "); drawings == 0 || told != drawings {
				t.Errorf("%d drawings, %d told in words", drawings, told)
			}
		})
	}
}
