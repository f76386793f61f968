package asbent

import "math"

// tried is a correction by the numbers of its place and of its step on the grid.
type tried struct{ place, steps int }

var nothing = tried{-1, 0}

// choice is what is corrected: up to MostCorrected bends, and last the seat.
type choice [MostCorrected + 1]tried

const seat = MostCorrected // its place in a choice

// choose is a choice of bends.
func choose(bends ...tried) choice {
	var t choice
	for k := range t {
		t[k] = nothing
	}
	copy(t[:seat], bends)
	return t
}

// seated is a choice with the seat moved by so many steps of its grid.
func (s *search) seated(t choice, steps int) choice {
	t[seat] = nothing
	if steps != 0 && s.bends < len(s.places) {
		t[seat] = tried{s.bends, steps}
	}
	return t
}

// allowed tells whether a bend stays one in its own sense, and a seat leaves pliers their room.
func (s *search) allowed(corrections []Correction) bool {
	for _, c := range corrections {
		step := s.mean.Steps[c.Step]
		if c.Seat && c.ByMM < 0 && step.LengthMM+c.ByMM < s.m.shortestMM() {
			return false
		}
		if !c.Seat && c.Opens() && math.Abs(step.AngleRad) < -c.ByRad {
			return false
		}
	}
	return true
}

// grid is by how much a place moves at once, rad or mm.
func (s *search) grid(place int) float64 {
	if s.places[place].Seat {
		return seatStepMM
	}
	return s.stepRad
}

// corrections are those of numbers on the grid.
func (s *search) corrections(t choice) []Correction {
	var out []Correction
	for _, one := range t {
		if one.place < 0 || one.steps == 0 {
			continue
		}
		c := Correction{Place: s.places[one.place]}
		if by := float64(one.steps) * s.grid(one.place); c.Seat {
			c.ByMM = by
		} else {
			c.ByRad = by
		}
		out = append(out, c)
	}
	return out
}

// fromBase is what a choice moves from the base: its parts, and the seat also where it goes back.
func (s *search) fromBase(t choice) choice {
	if moved := t[seat].steps - s.base[seat].steps; moved != 0 {
		t[seat] = tried{s.bends, moved}
	} else {
		t[seat] = nothing
	}
	return t
}

// sensible tells whether a correction is one, and allowed.
func (s *search) sensible(t choice) bool {
	for _, one := range t {
		if one.place >= 0 && (one.steps == 0 || max(one.steps, -one.steps) > s.most(one.place)) {
			return false
		}
	}
	if t[0].place >= 0 && t[0].place == t[1].place {
		return false
	}
	return s.allowed(s.corrections(t))
}

// seats are the seats that are tried with a bend, in steps of their grid.
func (s *search) seats() []int {
	all := []int{0}
	for k := 1; s.bends < len(s.places) && k <= s.most(s.bends); k++ {
		all = append(all, k, -k)
	}
	return all
}

// beside are the corrections one step of the grid away.
func (s *search) beside(t choice) []choice {
	var out []choice
	for _, by := range [...]int{-1, 1} {
		for k := range t[:seat] {
			next := t
			if next[k].steps += by; next[k].place >= 0 {
				out = append(out, next)
			}
		}
		if next := s.seated(t, t[seat].steps+by); next != t {
			out = append(out, next)
		}
	}
	return out
}

// most is the largest correction of a place in steps of its grid.
func (s *search) most(place int) int {
	if place < len(s.places) && s.places[place].Seat {
		return int(largestSeatMM / seatStepMM)
	}
	return int(largestCorrectionRad/s.stepRad + 1e-9)
}
