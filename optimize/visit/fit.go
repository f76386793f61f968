package visit

import (
	"context"
	"errors"
	"math"
	"sync"

	"springwright/design/timeline"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// observation is one number that was measured at a visit.
type observation struct {
	visit  int // index
	anchor bool
	along  tooth.Component
	value  float64
	sd     float64
}

// modelShare is which part of a movement the model is wrong by, beside its guesses: chewing, neighbours,
// what the ligament does in time (choice).
const modelShare = 0.15

// observations are what was measured after the spring was seated. Where the slots were then is measured,
// too, and its error counts in each.
func (m *model) observations() []observation {
	var all []observation
	first, hand := m.job.Visits[0], m.job.Case.Bender
	for i, v := range m.job.Visits[1:] {
		for k := range tooth.Components {
			seen, began := v.PlaceSDMM, hand.SlotSDMM
			anchor := v.AnchorSDMM
			if k.Couple() {
				seen, began, anchor = v.TurnSDRad, hand.SlotSDRad, v.AnchorSDRad
			}
			if v.Known[k] {
				value := v.Now.At(k)
				all = append(all, observation{i + 1, false, k, value, norm(seen, began, modelShare*(value-first.Now.At(k)))})
			}
			if v.AnchorKnown[k] {
				all = append(all, observation{i + 1, true, k, v.Anchor[k], norm(anchor, modelShare*v.Anchor[k])})
			}
		}
	}
	return all
}

func norm(parts ...float64) float64 { return floats.Norm(parts, 2) }

// predicted is what an observation should be by a trace.
func (m *model) predicted(o observation, t trace) float64 {
	at := t.arrivals[o.visit]
	if o.anchor {
		l := tooth.Load{ForceN: at.Anchor.SlotMM, CoupleNMM: at.Anchor.Rotation}
		return l.Component(o.along)
	}
	return m.placement(at).At(o.along)
}

// fit is the most likely numbers, and the inverse of their covariance.
type fit struct {
	z      []float64
	factor mat.Cholesky
	trace  trace
	around []nearby // one for each number
	doubts []timeline.Doubt
}

// nearby is what becomes of the teeth where one number is another by so much.
type nearby struct {
	by    float64
	trace trace
}

const (
	differenceZ = 0.2 // standard deviations: far above what the steps in time are off by
	mostPasses  = 10
	settledZ    = 0.03 // of a standard deviation: tells nobody anything
	doubtedSDs  = 4    // as for readings of a spring: one of 16,000 is off so far by chance (choice)
)

// estimate minimises |z|² + Σ((measured − predicted)/sd)² from a first guess by Gauss's and Newton's steps,
// cut where they do not lower it. Without observations it stays there.
func (m *model) estimate(ctx context.Context, from []float64, all []observation, ahead int) (*fit, error) {
	f := &fit{z: append([]float64(nil), from...)}
	var err error
	if f.trace, err = m.follow(ctx, f.z, 0); err != nil {
		return nil, err
	}
	sum := func(z []float64, t trace) float64 {
		s := floats.Dot(z, z)
		for _, o := range all {
			r := (o.value - m.predicted(o, t)) / o.sd
			s += r * r
		}
		return s
	}
	now := sum(f.z, f.trace)
	for pass, lower := 0, len(all) > 0; lower && pass < mostPasses; pass++ {
		lower = false
		if err := m.lookAround(ctx, f, 0); err != nil {
			return nil, err
		}
		information, right := m.normal(f, all)
		var step mat.VecDense
		if !f.factor.Factorize(information) || f.factor.SolveVecTo(&step, mat.NewVecDense(m.parts, right)) != nil {
			return nil, errApart
		}
		by := step.RawVector().Data
		for cut := 1.0; cut > 0.05 && floats.Norm(by, math.Inf(1)) > settledZ; cut /= 2 {
			next := make([]float64, m.parts)
			floats.AddScaledTo(next, f.z, cut, by)
			t, err := m.follow(ctx, next, 0)
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			if err != nil {
				continue
			}
			if s := sum(next, t); s < now {
				f.z, f.trace, now, lower = next, t, s, true
				break
			}
		}
	}
	if f.trace, err = m.follow(ctx, f.z, ahead); err != nil {
		return nil, err
	}
	if err := m.lookAround(ctx, f, ahead); err != nil {
		return nil, err
	}
	if information, _ := m.normal(f, all); !f.factor.Factorize(information) {
		return nil, errApart
	}
	for _, o := range all {
		if sds := math.Abs(o.value-m.predicted(o, f.trace)) / o.sd; sds > doubtedSDs {
			f.doubts = append(f.doubts, timeline.Doubt{Visit: m.job.Visits[o.visit].Number, Anchor: o.anchor, Along: o.along, SDs: sds})
		}
	}
	return f, nil
}

var errApart = errors.New("what was measured does not tell the guesses apart")

// normal are the normal equations of a step away from a fit.
func (m *model) normal(f *fit, all []observation) (*mat.SymDense, []float64) {
	information, right := mat.NewSymDense(m.parts, nil), make([]float64, m.parts)
	for j := range m.parts {
		information.SetSym(j, j, 1)
		right[j] = -f.z[j]
	}
	row := mat.NewVecDense(m.parts, nil)
	for _, o := range all {
		now := m.predicted(o, f.trace)
		for j, n := range f.around {
			row.SetVec(j, (m.predicted(o, n.trace)-now)/(n.by*o.sd))
		}
		information.SymRankOne(information, 1, row)
		floats.AddScaled(right, (o.value-now)/o.sd, row.RawVector().Data)
	}
	return information, right
}

// lookAround follows the teeth with each number changed by itself, one way or, where they are not followed
// there, the other.
func (m *model) lookAround(ctx context.Context, f *fit, ahead int) error {
	f.around = make([]nearby, m.parts)
	errs := make([]error, m.parts)
	next := make(chan int)
	var all sync.WaitGroup
	for range min(m.job.workers(), m.parts) {
		all.Go(func() {
			for j := range next {
				for _, by := range [...]float64{differenceZ, -differenceZ} {
					z := append([]float64(nil), f.z...)
					z[j] += by
					f.around[j].by = by
					if f.around[j].trace, errs[j] = m.follow(ctx, z, ahead); errs[j] == nil {
						break
					}
				}
			}
		})
	}
	for j := range m.parts {
		next <- j
	}
	close(next)
	all.Wait()
	return errors.Join(errs...)
}

// sds are the standard deviations of what is told of a trace.
func (f *fit) sds(values func(trace) []float64) []float64 {
	out := values(f.trace)
	slopes := mat.NewDense(len(out), len(f.z), nil)
	for j, n := range f.around {
		for k, v := range values(n.trace) {
			slopes.Set(k, j, (v-out[k])/n.by)
		}
	}
	for k := range out {
		var x mat.VecDense
		row := slopes.RowView(k)
		// The factor of a matrix not below the identity is regular.
		_ = f.factor.SolveVecTo(&x, row)
		out[k] = math.Sqrt(max(0, mat.Dot(row, &x)))
	}
	return out
}

// fits are the guesses as they were and as they are now.
func (m *model) fits(f *fit) []timeline.Fit {
	var covariance mat.SymDense
	_ = f.factor.InverseTo(&covariance)
	var list []timeline.Fit
	for j, p := range m.parameters {
		sd := math.Sqrt(covariance.At(j, j))
		list = append(list, timeline.Fit{
			Kind: p.kind, Prior: p.prior, PriorLow: p.at(-1), PriorHigh: p.at(1),
			Value: p.at(f.z[j]), Low: p.at(f.z[j] - sd), High: p.at(f.z[j] + sd),
		})
	}
	return list
}
