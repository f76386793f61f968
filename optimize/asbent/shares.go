package asbent

import (
	"context"
	"math/rand/v2"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/optimize/hand"
)

// What a bend and a straight are read to in Shares, one standard deviation: as readings are taken to be where nobody
// says (casefile.UsualAngleSDDeg, casefile.UsualLengthSDMM).
const (
	sharesAngleSDRad = 0.5 * degree
	sharesLengthSDMM = 0.1
	// sharesAbout is how many springs about each reading a correction is searched for: few, for it is done for every
	// spring (choice).
	sharesAbout = 96
)

// Shares bends n springs by the case's hand and counts those that meet the target: as bent, with the free end put
// right on the template, after all bends are read and one correction is made with its own error, and bent exactly as
// drawn; in the slots and with the wire as they really are. It takes some seconds of a processor a spring. The errors
// are those of Read, and hand.ErrSuperelastic.
func Shares(ctx context.Context, c design.Case, s spring.Spring, n int, seed uint64) (spring.Shares, error) {
	got := spring.Shares{Springs: n}
	m, err := newModel(Job{Case: c, Spring: s})
	if err != nil {
		return got, err
	}
	check := m.job.Case
	check.Bender.Checks = true
	checking := hand.New(check, s)
	one := make([][4]bool, n)
	err = m.each(ctx, n, func(b *hand.Bench, i int) {
		noise := rand.New(rand.NewPCG(seed, uint64(i)))
		z := make([]float64, m.hand.Sources())
		for j := range z {
			z[j] = noise.NormFloat64()
		}
		came := m.cameOut(z)
		one[i][0], one[i][1] = b.Solve(came).Met, b.Solve(checking.CameOut(z)).Met
		drawn := came
		drawn.Steps = m.drawn
		one[i][3] = b.Solve(drawn).Met
		j := Job{Case: c, Spring: s, Measured: m.readings(came, sharesAngleSDRad, sharesLengthSDMM, noise), Springs: sharesAbout, Seed: seed, Workers: 1}
		made, wrong := propose(ctx, j, false)
		if wrong == nil { // else there is nothing to correct by, and the spring stays as it is
			came.Steps = corrected(came.Steps, m.asMade(made, noise))
		}
		one[i][2] = b.Solve(came).Met
	})
	for _, met := range one {
		for k, to := range [...]*int{&got.AsBent, &got.Checked, &got.Corrected, &got.AsDrawn} {
			if met[k] {
				*to++
			}
		}
	}
	return got, err
}

// readings are those of a spring that came out, with noise.
func (m *model) readings(came hand.CameOut, angleSDRad, lengthSDMM float64, noise *rand.Rand) spring.Measured {
	var read spring.Measured
	for i, s := range came.Steps {
		sd := angleSDRad
		if s.Kind == spring.Straight {
			sd = lengthSDMM
		}
		read.Steps = append(read.Steps, spring.StepReading{Step: i, Value: size(s) + sd*noise.NormFloat64(), SD: sd})
	}
	b := m.job.Case.Bender
	for k, v := range off(m.end, freeEnd(came.Steps)) {
		one := spring.EndReading{Along: tooth.Component(k), SD: b.CheckSDMM}
		if one.Along.Couple() {
			one.SD = b.CheckSDRad
		}
		if one.SD == 0 {
			continue
		}
		one.Off = v + one.SD*noise.NormFloat64()
		read.End = append(read.End, one)
	}
	return read
}

// asMade are corrections with the errors of a hand.
func (m *model) asMade(by []Correction, noise *rand.Rand) []Correction {
	for k := range by {
		if by[k].Seat {
			by[k].ByMM += seatSDMM * noise.NormFloat64()
		} else {
			by[k].ByRad += m.correctionSDRad() * noise.NormFloat64()
		}
	}
	return by
}

// propose are the corrections of one reading, the best one or the best two; none where none gains enough.
func propose(ctx context.Context, j Job, pair bool) ([]Correction, error) {
	m, err := newModel(j)
	if err != nil {
		return nil, err
	}
	e, err := m.estimate()
	if err != nil {
		return nil, err
	}
	outcomes := make([]hand.Outcome, m.job.springs())
	err = m.each(ctx, len(outcomes), func(b *hand.Bench, i int) {
		outcomes[i] = b.Solve(m.cameOut(e.draw(m.numbers(i)[:m.hand.Sources()])))
	})
	if err != nil {
		return nil, err
	}
	s, err := m.newSearch(ctx, &e, outcomes)
	if err != nil {
		return nil, err
	}
	find := s.single
	if pair {
		find = s.double
	}
	best, ok := find()
	if !ok {
		return nil, s.err
	}
	if s.sampledShare(best) < s.sampledShare(choose())+LeastGain {
		if pair {
			return propose(ctx, j, false)
		}
		return nil, s.err
	}
	return s.corrections(best), s.err
}
