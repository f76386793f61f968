package export

import "testing"

// BenchmarkSheets is all pages of one design as PDF and as SVG.
func BenchmarkSheets(b *testing.B) {
	job := testJob()
	for b.Loop() {
		if _, _, err := Sheets(job); err != nil {
			b.Fatal(err)
		}
	}
}
