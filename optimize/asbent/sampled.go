package asbent

import (
	"math"
	"slices"

	"springwright/design"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/mat"
)

// sampledSprings stand for all where corrections are held against each other by exact solves: with the
// same springs for each, a difference of a few per cent shows (choice).
const sampledSprings = 48

// best bends springs as they may have come out, corrects each and solves it, and takes the corrections
// that serve most of them; then looks beside those on the grid.
func (s *search) best(candidates []found) (choice, bool) {
	var all []found
	for _, f := range candidates {
		if !slices.ContainsFunc(all, func(k found) bool { return k.tried == f.tried }) {
			all = append(all, s.sample(f.tried))
		}
	}
	better(all)
	if len(all) == 0 || s.err != nil || math.IsInf(all[0].merit, -1) {
		return choose(), false
	}
	at := all[0]
	for _, next := range s.beside(at.tried) {
		if s.sensible(next) {
			if there := s.sample(next); there.merit > at.merit {
				at = there
			}
		}
	}
	return at.tried, s.err == nil
}

// sample is a correction with its merit in sampledSprings, solved.
func (s *search) sample(t choice) found {
	if f, ok := s.sampled[t]; ok {
		return f
	}
	f := found{t, math.Inf(-1)}
	if s.fits(t) {
		f.merit = s.sampledShare(t) - s.trouble(t)
	}
	s.sampled[t] = f
	return f
}

// fits tells whether a correction keeps the room that the spring as bent keeps.
func (s *search) fits(t choice) bool {
	asBent, err := s.m.exceeded(s.ctx, s.mean.Steps, nil)
	if err == nil {
		var made Outcome
		if made.Exceeded, err = s.m.exceeded(s.ctx, s.changed(t), s.corrections(t)); err == nil {
			return !made.Outgrows(Outcome{Exceeded: asBent})
		}
	}
	s.err = err
	return false
}

// sampledShare is what share of sampledSprings meets the target, those at the edge of a window counted half.
func (s *search) sampledShare(t choice) float64 {
	corrections := s.corrections(t)
	n := min(sampledSprings, len(s.values))
	met := make([]float64, n)
	sources := s.m.hand.Sources()
	if err := s.m.each(s.ctx, n, func(b *hand.Bench, i int) {
		numbers := s.m.numbers(i)
		came := s.m.cameOut(s.e.draw(numbers[:sources]))
		came.Steps = corrected(came.Steps, s.off(corrections, numbers[sources:]))
		if o := b.Solve(came); o.Seated {
			met[i] = hand.SmoothlyMet(o.Worst(s.terms))
		}
	}); err != nil {
		s.err = err
	}
	sum := 0.0
	for _, m := range met {
		sum += m
	}
	return sum / float64(n)
}

// closed are the corrections that bring the free end nearest to where it is drawn, one at each place or
// pair of places: loads hang on little else, and so does whether the wire can be seated at all. Distances
// and turns are measured by what the eye tells of them; shifts of the end are taken as linear.
func (s *search) closed(pairs bool) []found {
	sd := design.SkilledBender()
	scale := [6]float64{sd.CheckSDMM, sd.CheckSDMM, sd.CheckSDMM, sd.CheckSDRad, sd.CheckSDRad, sd.CheckSDRad}
	missed := func(corrections []Correction) *mat.VecDense {
		v := mat.NewVecDense(6, nil)
		for k, d := range off(s.m.end, freeEnd(corrected(s.mean.Steps, corrections))) {
			v.SetVec(k, d/scale[k])
		}
		return v
	}
	base := s.corrections(s.base)
	now := missed(base)
	var columns []*mat.VecDense
	for _, p := range s.places {
		by := missed([]Correction{{Place: p, ByRad: secantRad}})
		by.SubVec(by, now)
		by.ScaleVec(1/secantRad, by)
		columns = append(columns, by)
	}
	var all []found
	add := func(places ...int) {
		a := mat.NewDense(6, len(places), nil)
		for k, p := range places {
			a.SetCol(k, columns[p].RawVector().Data)
		}
		var x mat.VecDense
		if x.SolveVec(a, now) != nil { // two places that move the end alike
			return
		}
		t := s.base
		for k, p := range places {
			steps := math.Round(-x.AtVec(k) / s.stepRad)
			most := float64(s.most(p))
			t[k] = tried{p, int(math.Max(-most, math.Min(most, steps)))}
		}
		if s.sensible(t) {
			all = append(all, found{t, -mat.Norm(missed(s.corrections(t)), 2)})
		}
	}
	for p := range s.bends {
		if !pairs {
			add(p)
			continue
		}
		for q := p + 1; q < s.bends; q++ {
			add(p, q)
		}
	}
	better(all)
	return all[:min(looked, len(all))]
}
