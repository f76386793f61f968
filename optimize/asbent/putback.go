package asbent

import (
	"math"

	"springwright/design/beam"
	"springwright/design/bent"
	"springwright/design/report"
	"springwright/design/spring"
)

const (
	// putBackRad is what a bend is changed by at least, and the grid of it: half a degree is what a protractor
	// tells (choice).
	putBackRad = 0.5 * degree
	// backAgain is how much worse, as a share, a place may be that is bent on before one that is bent back (choice).
	backAgain = 0.25
	// worthLeft is the share of what was lost that a bend may leave: above, no one bend puts it back (choice).
	worthLeft = 0.5
)

// lost tells what a trial activation took of a wire, nil where nothing was read after it.
func (m *model) lost(a report.Activation, steps spring.Steps) *bent.Lost {
	after := m.job.Measured.After
	told, ok := a.LostOf(after)
	if !ok {
		return nil
	}
	l := &bent.Lost{Lost: told}
	if l.Within || l.Share <= 0 {
		return l
	}
	was := freeEnd(steps)
	// What a change of the wire leaves of the shift, in standard deviations of the readings.
	left := func(end beam.Pose) (at [6]float64, norm float64) {
		at = off(was, end)
		for _, r := range after {
			at[r.Along] += r.Off
			norm = math.Hypot(norm, at[r.Along]/r.SD)
		}
		return at, norm
	}
	_, before := left(was)
	best := worthLeft * before
	for _, place := range m.placesOf() {
		try := func(byRad float64) (at [6]float64, norm float64, end beam.Pose) {
			end = freeEnd(corrected(steps, []Correction{{Place: place, ByRad: byRad}}))
			at, norm = left(end)
			return at, norm, end
		}
		_, _, end := try(secantRad)
		slope := off(was, end)
		var along, all float64
		for _, r := range after {
			along -= r.Off * slope[r.Along] / (r.SD * r.SD)
			all += slope[r.Along] * slope[r.Along] / (r.SD * r.SD)
		}
		if all == 0 {
			continue
		}
		c := Correction{Place: place, ByRad: putBackRad * math.Round(along/all*secantRad/putBackRad)}
		if c.ByRad == 0 || math.Abs(c.ByRad) > largestCorrectionRad || c.Opens() && (m.spring.Wire.BreaksBentBack() || -c.ByRad > math.Abs(steps[c.Step].AngleRad)) {
			continue
		}
		at, norm, _ := try(c.ByRad)
		if c.Opens() {
			norm *= 1 + backAgain
		}
		if norm < best {
			best, l.Left = norm, at
			made := []Correction{c}
			l.Back = &Corrected{Corrections: made, WithLast: bent.WithLast(made)}
			l.Back.Spring = m.spring
			l.Back.Spring.Path, l.Back.Spring.Shortfall = spring.PathOf(corrected(steps, made)...), nil
		}
	}
	return l
}
