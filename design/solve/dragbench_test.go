package solve

import (
	"context"
	"math"
	"slices"
	"testing"

	"springwright/design/spring"
)

// BenchmarkDrag evaluates a loop of which one bend after the other is dragged, a third of a degree at
// a time, tied and in tubes, slid to rest and cinched: milliseconds of one evaluation in the middle,
// and those that 95 and 99 of 100 stay below.
func BenchmarkDrag(b *testing.B) {
	var dragged [2][]spring.Spring
	steps := intrudingLoop().Path.Steps()
	for i, step := range steps {
		if step.Kind != spring.Bend {
			continue
		}
		for k := -8.0; k <= 8; k++ {
			moved := slices.Clone(steps)
			moved[i].AngleRad += k * math.Pi / 180 / 3
			s := intrudingLoop()
			s.Path = spring.PathOf(moved...)
			dragged[0] = append(dragged[0], s)
			s = inTubes(s, 0)
			s.SlidToRest = spring.SlideActive
			dragged[1] = append(dragged[1], s)
		}
	}
	var took [2][]float64
	b.ReportAllocs()
	for b.Loop() {
		for i := range dragged[0] {
			for k := range dragged {
				began := cpuTime(b)
				if _, err := Evaluate(context.Background(), dragged[k][i], Options{AllowYield: true}); err != nil {
					b.Fatal(err)
				}
				took[k] = append(took[k], (cpuTime(b)-began).Seconds()*1e3)
			}
		}
	}
	for k, name := range []string{"tied", "seated"} {
		slices.Sort(took[k])
		n := len(took[k])
		b.ReportMetric(took[k][n/2], name+"-ms-median")
		b.ReportMetric(took[k][n*95/100], name+"-ms-95")
		b.ReportMetric(took[k][n*99/100], name+"-ms-99")
	}
}
