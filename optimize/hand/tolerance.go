package hand

import (
	"math"
	"sync"
	"sync/atomic"

	"springwright/design/spring"
	"springwright/design/tooth"
)

// No tolerance is looked for beyond what nobody would call the same spring, and none closer than a
// protractor and a ruler tell (choices).
const (
	largestToleranceRad = 10 * math.Pi / 180
	largestToleranceMM  = 2
	closeRad            = 0.25 * math.Pi / 180
	closeMM             = 0.05
)

// tolerances tells for each step of the path by how much it alone may be off before the target is missed,
// all else as drawn. It is nil where the spring as drawn misses it, and on so many goroutines the same on
// any number of them.
func (h *Hand) tolerances(workers int) ([]spring.Tolerance, error) {
	drawn := bent{steps: append(spring.Steps(nil), h.path...), stiffness: 1}
	benches := make([]*bench, workers)
	for i := range benches {
		var err error
		if benches[i], err = newBench(h); err != nil {
			return nil, err
		}
	}
	if !benches[0].meets(&drawn) {
		return nil, nil
	}
	out := make([]spring.Tolerance, len(h.path))
	var next atomic.Int64
	var group sync.WaitGroup
	for _, b := range benches {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(out); i = int(next.Add(1)) - 1 {
				out[i] = spring.Tolerance{Angle: h.path[i].Kind != spring.Straight, Less: b.tolerance(i, -1), More: b.tolerance(i, 1)}
			}
		})
	}
	group.Wait()
	return out, nil
}

// tolerance is by how much step i may be more, or by sign −1 less, mm or rad.
func (b *bench) tolerance(i int, sign float64) float64 {
	step := b.h.path[i]
	most, near := largestToleranceRad, closeRad
	if step.Kind == spring.Straight {
		most, near = largestToleranceMM, closeMM
		if sign < 0 {
			most = min(most, step.LengthMM)
		}
	} else if sign < 0 {
		most = min(most, math.Abs(step.AngleRad))
	}
	meets := func(off float64) bool { return b.meets(b.off(i, sign*off)) }
	if meets(most) {
		return most
	}
	low, high := 0.0, most
	for high-low > near {
		if middle := (low + high) / 2; meets(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// off is the spring whose step i alone is off, in size, by so many mm or rad.
func (b *bench) off(i int, by float64) *bent {
	b.bent = bent{steps: append(b.bent.steps[:0], b.h.path...), stiffness: 1}
	if step := &b.bent.steps[i]; step.Kind == spring.Straight {
		step.LengthMM += by
	} else {
		step.AngleRad += math.Copysign(by, by*step.AngleRad)
	}
	return &b.bent
}

// meets tells whether a bent spring meets the whole target.
func (b *bench) meets(s *bent) bool {
	met := true
	seated := b.follow(s, func(int, tooth.Load, tooth.Load) {}, func(term int, value float64) bool {
		met = b.h.terms[term].Window.Misses(value) <= 0
		return met
	})
	return seated && met
}
