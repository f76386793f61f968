package solve

import (
	"errors"
	"fmt"
	"math"

	"springwright/design/spring"
)

// ErrNoContact means that the wire was found at rest neither between the walls of its slots
// nor on any of them.
var ErrNoContact = errors.New("no state of the play in the slots is in equilibrium")

const (
	// tightRad is play too small to tell from none.
	tightRad = 1e-9
	// How far an angle may lie beyond a wall, and how hard a wall may pull, where the
	// conditions still count as met: the solver's own accuracy.
	angleSlackRad  = 1e-10
	coupleSlackNMM = 1e-9

	settleTogether = 6  // rounds in which all wrong contacts change at once
	settleRounds   = 30 // rounds in all; then the contacts are tried one after the other
)

// gapProblem is the search for the contacts of a wire in two slots with play. For each
// angle, either the wire lies between two walls and has no couple, or it lies on a wall that
// pushes it away:
//
//	free:    |angle| ≤ play,   couple = 0
//	wall ±:  angle = ±play,    ∓couple ≥ 0
//
// The solver is asked for the wire with contacts as given, so whatever it answers fulfils
// the equalities; the search is for contacts with which the inequalities hold as well.
type gapProblem struct {
	play  angles // 0: tied
	solve func(contacts) (angle, couple angles, err error)
}

// startFrom guesses the contacts of a wire let go by slots that held it tied by couples: it
// turns against the couple that held it until a wall stops it.
func (g *gapProblem) startFrom(couple angles) (c contacts) {
	for i, play := range g.play {
		switch {
		case play <= tightRad:
			c[i] = spring.Tied
		case math.IsInf(play, 1) || math.Abs(couple[i]) <= coupleSlackNMM:
			c[i] = spring.Free
		case couple[i] > 0:
			c[i] = spring.MinusWall
		default:
			c[i] = spring.PlusWall
		}
	}
	return c
}

// corrected returns the contact that angle i should have after a solution, and by how much
// the present one is wrong (a pure number, 0: not at all).
func (g *gapProblem) corrected(i int, now spring.Contact, angle, couple float64) (spring.Contact, float64) {
	switch over := math.Abs(angle) - g.play[i]; {
	case now == spring.Free && over > angleSlackRad:
		if angle > 0 {
			return spring.PlusWall, over / g.play[i]
		}
		return spring.MinusWall, over / g.play[i]
	case now == spring.PlusWall && couple > coupleSlackNMM, now == spring.MinusWall && couple < -coupleSlackNMM:
		return spring.Free, math.Abs(couple)
	}
	return now, 0
}

// settle finds contacts by changing the wrong ones (an active-set method), from given ones
// on. It reports false where that goes round in circles or the solver fails; err is then
// the solver's last error or nil.
func (g *gapProblem) settle(c contacts) (_ contacts, ok bool, err error) {
	seen := map[contacts]bool{}
	for round := range settleRounds {
		if seen[c] && round >= settleTogether {
			return c, false, nil
		}
		seen[c] = true
		angle, couple, err := g.solve(c)
		if err != nil {
			return c, false, err
		}
		next, worst, at := c, 0.0, 0
		for i := range c {
			contact, wrong := g.corrected(i, c[i], angle[i], couple[i])
			next[i] = contact
			if wrong > worst {
				worst, at = wrong, i
			}
		}
		switch {
		case worst == 0:
			return c, true, nil
		case round < settleTogether:
			c = next
		default:
			c[at] = next[at]
		}
	}
	return c, false, nil
}

// enumerate tries all contacts, those that differ least from the given ones first.
func (g *gapProblem) enumerate(c contacts) (contacts, error) {
	var last error
	for changes := 0; changes <= len(c); changes++ {
		found, ok, err := g.tryChanges(c, 0, changes)
		if ok {
			return found, nil
		}
		if err != nil {
			last = err
		}
	}
	if last != nil {
		return c, fmt.Errorf("%w; the last state tried: %w", ErrNoContact, last)
	}
	return c, ErrNoContact
}

// tryChanges tries all ways of changing exactly so many of the contacts from angle i on.
func (g *gapProblem) tryChanges(c contacts, i, changes int) (_ contacts, ok bool, last error) {
	if changes == 0 {
		angle, couple, err := g.solve(c)
		if err != nil {
			return c, false, err
		}
		for k := range c {
			if _, wrong := g.corrected(k, c[k], angle[k], couple[k]); wrong > 0 {
				return c, false, nil
			}
		}
		return c, true, nil
	}
	for ; i < len(c); i++ {
		for _, other := range g.others(i, c[i]) {
			changed := c
			changed[i] = other
			found, ok, err := g.tryChanges(changed, i+1, changes-1)
			if ok {
				return found, true, nil
			}
			if err != nil {
				last = err
			}
		}
	}
	return c, false, last
}

// others are the contacts that angle i can have besides one.
func (g *gapProblem) others(i int, now spring.Contact) []spring.Contact {
	var all []spring.Contact
	switch play := g.play[i]; {
	case play <= tightRad:
		return nil
	case math.IsInf(play, 1):
		all = []spring.Contact{spring.Free}
	default:
		all = []spring.Contact{spring.Free, spring.PlusWall, spring.MinusWall}
	}
	others := all[:0:0]
	for _, c := range all {
		if c != now {
			others = append(others, c)
		}
	}
	return others
}
