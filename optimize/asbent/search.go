package asbent

import (
	"cmp"
	"context"
	"math"
	"slices"

	"springwright/design/spring"
	"springwright/optimize/hand"
)

const (
	degree = math.Pi / 180
	// largestCorrectionRad is beyond what a bent spring is worth correcting: bend a new one (choice).
	largestCorrectionRad = 15 * degree
	// secantRad is over which a correction's effect is solved: what one mostly is (choice).
	secantRad = 3 * degree
	// A seat moves by a quarter of a millimetre, which a calliper tells well, and by a millimetre at most, for which
	// a leg that is left long has the wire; it comes to lie as the calliper is read, to 0.1 mm (choices).
	seatStepMM    = 0.25
	largestSeatMM = 1.0
	seatSDMM      = 0.1
	seatSecantMM  = 0.5
	// ErrorShare is what a correction is off by, beside a bend: a small bend beside one that is there
	// already is read as a difference, by the same protractor (choice).
	ErrorShare = 0.5
)

// What a correction has to gain in the share of springs that meet the target to be taken before another
// (choices).
const (
	perDegree        = 0.002 // more of bending
	againstLast      = 0.02  // against the direction of the last bend: a flat wire may yield there from half its yield stress on
	againstLastBrisk = 0.10  // the same in a wire that breaks where it is bent to and fro
	perFresh         = 0.01  // a bend that the drawing does not have
	perSeat          = 0.01  // another depth in the slot than the sheet shows
	// LeastGain is what a correction has to gain to be worth making at all.
	LeastGain = 0.03
)

// correctionSDRad is what a correction is off by.
func (m *model) correctionSDRad() float64 {
	if sd := m.job.Measured.CorrectionSDRad; sd > 0 {
		return sd
	}
	return ErrorShare * m.job.Case.Bender.AngleSDRad
}

// search finds corrections.
type search struct {
	m      *model
	e      *estimate
	mean   hand.CameOut
	bends  int     // how many of the places are bent
	places []Place // the seat, where there is one, is the last
	terms  []hand.Term
	// base is the seat about which corrections are looked for: as bent, or the nearest in which the wire finds rest.
	base choice
	// values of the terms of springs as they may have come out, in that seat; nil for one that finds no rest.
	values [][]float64
	own    [][]float64 // standard normal numbers of the corrections' errors, of each spring
	now    []float64   // values of the mean; nil where it finds no rest
	// slopes of the terms by a rad or mm at each place, opened and closed; nil where there is no rest.
	slopes  [][2][]float64
	stepRad float64
	errorSD float64
	bench   *hand.Bench
	solved  map[choice]hand.Outcome
	sampled map[choice]found
	ctx     context.Context
	err     error // of ctx
}

// newSearch solves what corrections do to the mean of an estimate; outcomes are those of springs as bent.
func (m *model) newSearch(ctx context.Context, e *estimate, outcomes []hand.Outcome) (*search, error) {
	s := &search{
		m: m, e: e, mean: m.cameOut(e.mean), places: m.placesOf(), terms: m.hand.Terms(), base: choose(),
		stepRad: m.job.Case.Search.AngleStepRad, errorSD: m.correctionSDRad(),
		solved: map[choice]hand.Outcome{}, sampled: map[choice]found{}, ctx: ctx,
	}
	if s.stepRad <= 0 {
		s.stepRad = degree
	}
	var err error
	if s.bench, err = m.hand.NewBench(); err != nil {
		return nil, err
	}
	s.bends = len(s.places)
	if place, ok := m.seatOf(); ok && !m.job.BendsAlone {
		s.places = append(s.places, place)
	}
	now := s.exact(s.base)
	for k := 1; !now.Seated && k <= s.most(s.bends); k++ {
		// A loop that came out short hits the slot that it slides in, and one that came out long is too long.
		for _, way := range [...]int{1, -1} {
			if t := s.seated(choose(), way*k); s.sensible(t) && !now.Seated {
				if now = s.exact(t); now.Seated {
					s.base = t
				}
			}
		}
	}
	if s.base != choose() {
		outcomes = make([]hand.Outcome, len(outcomes))
		if err := m.each(ctx, len(outcomes), func(b *hand.Bench, i int) {
			came := m.cameOut(e.draw(m.numbers(i)[:m.hand.Sources()]))
			came.Steps = corrected(came.Steps, s.corrections(s.base))
			outcomes[i] = b.Solve(came)
		}); err != nil {
			return nil, err
		}
	}
	for i, o := range outcomes {
		s.own = append(s.own, m.numbers(i)[m.hand.Sources():])
		if o.Seated {
			s.values = append(s.values, o.Values)
		} else {
			s.values = append(s.values, nil)
		}
	}
	s.slopes = make([][2][]float64, len(s.places))
	if !now.Seated {
		return s, nil
	}
	s.now = now.Values
	sides := make([][]float64, 2*len(s.places))
	err = m.each(ctx, len(sides), func(b *hand.Bench, i int) {
		way := float64(2*(i%2) - 1)
		place := s.places[i/2]
		one, by := Correction{Place: place, ByRad: way * secantRad}, way*secantRad
		if place.Seat {
			by = way * seatSecantMM
			one = Correction{Place: place, ByMM: by}
		}
		made := append(s.corrections(s.base), one)
		if !s.allowed(made) {
			return
		}
		came := s.mean
		came.Steps = corrected(came.Steps, made)
		if o := b.Solve(came); o.Seated {
			for t, v := range o.Values {
				sides[i] = append(sides[i], (v-s.now[t])/by)
			}
		}
	})
	for i := range s.slopes {
		s.slopes[i] = [2][]float64{sides[2*i], sides[2*i+1]}
	}
	return s, err
}

// slope is how the terms change by a rad or mm of a correction from the base.
func (s *search) slope(t tried) []float64 {
	side := 0
	if t.steps > 0 {
		side = 1
	}
	return s.slopes[t.place][side]
}

// share is what share of the springs would meet the target, in every every-th of them; shift is how much the
// mean's loads change. A spring at the edge of a window counts half, so that small steps show.
func (s *search) share(t choice, shift []float64, every int) float64 {
	var by [len(t)][]float64
	for k, one := range s.fromBase(t) {
		if one.place >= 0 {
			by[k] = s.slope(one)
		}
	}
	errorSD := [len(t)]float64{s.errorSD, s.errorSD, seatSDMM}
	sum, n := 0.0, 0
	for i := 0; i < len(s.values); i += every {
		n++
		values := s.values[i]
		if values == nil {
			continue
		}
		worst := -1.0
		for k, term := range s.terms {
			v := values[k] + shift[k]
			for j, slopes := range by {
				if slopes != nil {
					v += slopes[k] * errorSD[j] * s.own[i][j]
				}
			}
			if worst = max(worst, term.Beyond(v)); hand.SmoothlyMet(worst) == 0 {
				break
			}
		}
		sum += hand.SmoothlyMet(worst)
	}
	return sum / float64(n)
}

// linear is how much the mean's loads change by the linear model.
func (s *search) linear(t choice, shift []float64) {
	for k := range shift {
		shift[k] = 0
	}
	for _, one := range s.fromBase(t) {
		if one.place < 0 {
			continue
		}
		by := float64(one.steps) * s.grid(one.place)
		for k, slope := range s.slope(one) {
			shift[k] += by * slope
		}
	}
}

// merit is the share less what a correction has to gain to be worth its trouble; where no spring at all
// would meet the target, nearer is better.
func (s *search) merit(t choice, shift []float64, every int) float64 {
	worst := 0.0
	for k, term := range s.terms {
		worst = max(worst, term.Beyond(s.now[k]+shift[k]))
	}
	return s.share(t, shift, every) - farWeight*math.Min(worst, farthest) - s.trouble(t)
}

// trouble is what corrections have to gain.
func (s *search) trouble(t choice) float64 {
	trouble := 0.0
	for _, c := range s.corrections(t) {
		trouble += perDegree * math.Abs(c.ByRad) / degree
		switch {
		case c.Seat:
			trouble += perSeat
		case c.Fresh:
			trouble += perFresh
		case c.Opens() && s.m.spring.Wire.BreaksBentBack():
			trouble += againstLastBrisk
		case c.Opens():
			trouble += againstLast
		}
	}
	return trouble
}

// A load that is missed by half its window's width weighs as much as some per cent of the springs: less
// than what tells two corrections apart that bring any spring into the windows (choice).
const (
	farWeight = 0.02
	farthest  = 1000.0
)

// possible tells whether the linear model knows a correction, and that it is allowed.
func (s *search) possible(t choice) bool {
	for _, one := range s.fromBase(t) {
		if one.place >= 0 && s.slope(one) == nil {
			return false
		}
	}
	return s.sensible(t)
}

// found is a correction with its merit.
type found struct {
	tried choice
	merit float64
}

// better sorts the best first, of equal ones that which was looked at first.
func better(all []found) {
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(b.merit, a.merit) })
}

// exact is what a correction does to the mean, solved.
func (s *search) exact(t choice) hand.Outcome {
	if o, ok := s.solved[t]; ok {
		return o
	}
	came := s.mean
	came.Steps = corrected(came.Steps, s.corrections(t))
	o := s.bench.Solve(came)
	s.solved[t] = o
	return o
}

// exactly is a correction with the merit of the exact change of the mean.
func (s *search) exactly(t choice) (found, bool) {
	if !s.possible(t) {
		return found{}, false
	}
	o := s.exact(t)
	if !o.Seated {
		return found{}, false
	}
	shift := make([]float64, len(s.now))
	for k, v := range o.Values {
		shift[k] = v - s.now[k]
	}
	return found{t, s.merit(t, shift, 1)}, true
}

// single finds the best correction at one place, with the seat that suits it, or of the seat alone.
func (s *search) single() (best choice, ok bool) {
	shift := make([]float64, len(s.now))
	var each []found
	// The best of choices that the linear model knows, by all springs.
	add := func(choices ...choice) {
		var at []found
		for _, t := range choices {
			if s.now != nil && t != choose() && s.possible(t) {
				s.linear(t, shift)
				at = append(at, found{t, s.merit(t, shift, 1)})
			}
		}
		if better(at); len(at) > 0 {
			each = append(each, at[0])
		}
	}
	for _, k := range s.seats() {
		add(s.seated(choose(), k))
	}
	for p := range s.bends {
		for _, way := range [...]int{-1, 1} {
			var asSeated, moved []choice
			for steps := 1; steps <= s.most(p); steps++ {
				for _, k := range s.seats() {
					if t := s.seated(choose(tried{p, way * steps}), k); k == s.base[seat].steps {
						asSeated = append(asSeated, t)
					} else {
						moved = append(moved, t)
					}
				}
			}
			add(asSeated...)
			add(moved...)
		}
	}
	better(each)
	return s.best(append(s.climb(each[:min(looked, len(each))]), s.closed(false)...))
}

// looked are the best by a cheap model that are looked at with more care (choice).
const looked = 5

// climb solves what corrections do to the mean exactly, and those beside them on the grid as long as that
// is better. The best come first.
func (s *search) climb(from []found) []found {
	var all []found
	for _, f := range from {
		at, seated := s.exactly(f.tried)
		if !seated {
			continue
		}
		for moved, steps := true, 0; moved && steps < 4; steps++ {
			moved = false
			for _, next := range s.beside(at.tried) {
				if there, seated := s.exactly(next); seated && there.merit > at.merit {
					at, moved = there, true
				}
			}
		}
		all = append(all, at)
	}
	better(all)
	return all
}

// changed is the wire of the mean with corrections.
func (s *search) changed(t choice) spring.Steps {
	return corrected(s.mean.Steps, s.corrections(t))
}
