package optimize

import (
	"testing"

	"springwright/design"

	"gonum.org/v1/gonum/mat"
)

// BenchmarkDesign is a whole search on every core.
func BenchmarkDesign(b *testing.B) {
	for _, bench := range []struct {
		name string
		c    design.Case
	}{{"demo", demoCase(b)}, {"study", studyCase()}, {"spatial", spatialCase()}} {
		b.Run(bench.name, func(b *testing.B) {
			var springs int
			for b.Loop() {
				r, err := Search(b.Context(), bench.c, Options{})
				if err != nil {
					b.Fatal(err)
				}
				springs = r.Evaluations
			}
			b.ReportMetric(float64(springs), "springs/op")
		})
	}
}

// BenchmarkObjective is one spring solved over its whole travel.
func BenchmarkObjective(b *testing.B) {
	c := studyCase()
	s := newSearcher(b.Context(), c, design.RectangularLoop(c), Options{Workers: 1})
	best := s.continuous()
	if len(best) == 0 {
		b.Fatal("nothing solved")
	}
	worker := s.workers[0]
	n, m := worker.size()
	r := make([]float64, m)
	for _, bench := range []struct {
		name     string
		jacobian *mat.Dense
	}{{"residuals", nil}, {"with Jacobian", mat.NewDense(m, n, nil)}} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if !worker.residuals(best[0].x, r, bench.jacobian) {
					b.Fatal("cannot be solved")
				}
			}
		})
	}
}
