package visit

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/timeline"
	"springwright/design/tooth"
)

// patient is one whose teeth move otherwise than predicted.
type patient struct {
	job  Job
	m    *model
	true []float64 // numbers of the model's parameters, in their standard deviations
}

// newPatient takes a case, its spring and what is true of it, in the place of the guesses.
func newPatient(t *testing.T, c design.Case, s spring.Spring, truth map[timeline.FitKind]float64) *patient {
	t.Helper()
	p := &patient{job: Job{Case: c, Springs: 24, Seed: 1, Visits: []design.Visit{{
		Number: 1, Date: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Done: design.SeatedFirst, SpringFile: "spring.toml", Spring: s,
		Now: c.Now, PlaceSDMM: 0.1, TurnSDRad: 1 * degree,
	}}}}
	m, err := newModel(p.job)
	if err != nil {
		t.Fatal(err)
	}
	p.m, p.true = m, make([]float64, len(m.parameters))
	for i, g := range m.parameters {
		if v, ok := truth[g.kind]; ok {
			p.true[i] = (v - g.prior) / g.sd
			if g.ratio {
				p.true[i] = math.Log(v/g.prior) / g.sd
			}
		}
	}
	return p
}

// sees lets the spring work until some days after the last visit, and measures; noise nil: exactly.
func (p *patient) sees(t *testing.T, days int, done design.Deed, anchor bool, noise *rand.Rand) effect.Standing {
	t.Helper()
	last := p.job.Visits[len(p.job.Visits)-1]
	v := design.Visit{
		Number: last.Number + 1, Date: last.Date.AddDate(0, 0, days), Done: done, SpringFile: last.SpringFile, Spring: last.Spring,
		PlaceSDMM: 0.2, TurnSDRad: 2 * degree, AnchorSDMM: 0.3, AnchorSDRad: 2 * degree,
	}
	job := p.job
	job.Visits = append(job.Visits[:len(job.Visits):len(job.Visits)], v)
	m, err := newModel(job)
	if err != nil {
		t.Fatal(err)
	}
	z := make([]float64, m.parts)
	copy(z, p.true)
	trace, err := m.follow(context.Background(), z, 0)
	if err != nil {
		t.Fatal(err)
	}
	at := trace.arrivals[len(trace.arrivals)-1]
	off := func(sd float64) float64 {
		if noise == nil {
			return 0
		}
		return sd * noise.NormFloat64()
	}
	v.Now = m.placement(at)
	moved := tooth.Load{ForceN: at.Anchor.SlotMM, CoupleNMM: at.Anchor.Rotation}
	for k := range tooth.Components {
		sd, anchorSD := v.PlaceSDMM, v.AnchorSDMM
		if k.Couple() {
			sd, anchorSD = v.TurnSDRad, v.AnchorSDRad
		}
		v.Known[k] = true
		v.Now.Set(k, v.Now.At(k)+off(sd))
		if anchor {
			v.AnchorKnown[k], v.Anchor[k] = true, moved.Component(k)+off(anchorSD)
		}
	}
	p.job.Visits = append(p.job.Visits, v)
	return at
}

func readCase(t *testing.T, name string) design.Case {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	c, err := casefile.ReadCase(name, data)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func readSpring(t *testing.T, name string) spring.Spring {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	s, err := casefile.ReadSpring(name, data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
