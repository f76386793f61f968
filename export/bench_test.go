package export

import "testing"

// BenchmarkSheet is all pages of one design as PDF.
func BenchmarkSheet(b *testing.B) {
	job := testJob()
	for b.Loop() {
		if _, err := Sheet(job); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSVG is all pages of one design as SVG.
func BenchmarkSVG(b *testing.B) {
	job := testJob()
	for b.Loop() {
		if _, err := SVG(job); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStraightWire is what the block beside the loads adds to a design.
func BenchmarkStraightWire(b *testing.B) {
	job := testJob()
	for b.Loop() {
		if _, err := NewStraightWire(b.Context(), job.Case, job.Spring); err != nil {
			b.Fatal(err)
		}
	}
}
