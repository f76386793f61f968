package optimize

import (
	"testing"

	"springwright/design"
	"springwright/design/family"
	"springwright/presets"

	"gonum.org/v1/gonum/mat"
)

// BenchmarkDesign is a whole search on every core: the demo, two invented cases and a case of
// every family.
func BenchmarkDesign(b *testing.B) {
	type named struct {
		name string
		c    design.Case
	}
	cases := []named{{"study", studyCase()}, {"spatial", spatialCase()}}
	for _, name := range presets.Names() {
		cases = append(cases, named{name, presetCase(b, name)})
	}
	for _, bench := range cases {
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
	s := newTrial(b, c, family.RectangularLoop(c))
	best, _ := s.polished(b)
	if len(best) == 0 {
		b.Fatal("nothing solved")
	}
	worker := s.worker
	n, m := worker.size()
	r := make([]float64, m)
	for _, bench := range []struct {
		name     string
		jacobian *mat.Dense
	}{{"residuals", nil}, {"with Jacobian", mat.NewDense(m, n, nil)}} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if !residuals(worker, best[0].x, r, bench.jacobian) {
					b.Fatal("cannot be solved")
				}
			}
		})
	}
}
