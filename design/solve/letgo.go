package solve

import (
	"math"

	"springwright/design/spring"

	"gonum.org/v1/gonum/mat"
)

const (
	letGoSteps = 40
	// longestLetGoRad is the longest step.
	longestLetGoRad = 0.1
	// nudge is the share of the play by which the wire is first pushed to the side that it is
	// drawn to, lest it balance on an edge: a plane loop that would fall out of its plane has
	// no couple there, and goes to the positive side.
	nudge = 0.05
	// flattest is the smallest stiffness, as a share of the largest, that a step reckons
	// with: against less, nothing but friction keeps the wire.
	flattest = 1e-6
)

// letGo finds contacts by letting the wire turn in its slots from where it is, always held,
// against the couples that hold it: down the slope of its energy by Newton's steps, negative
// stiffness taken as positive, each angle kept between its walls. Unlike a wire with wrong
// contacts, one that is held is stable on the way; where it comes to rest, settle finishes.
func (f *slotFollower) letGo(seat spring.Seat) (contacts, bool) {
	f.problem.solve = f.solveAt(seat)
	angle, held := loadsIn(f.solver)
	for i, play := range f.problem.play {
		push := nudge * math.Min(play, 1)
		if held[i] > coupleSlackNMM {
			push = -push
		}
		angle[i] = f.between(i, angle[i]+push)
	}
	for range letGoSteps {
		var couple angles
		var err error
		if angle, couple, err = f.hold(seat, [2 * perSlot]bool{}, angle); err != nil {
			return contacts{}, false
		}
		touching := f.touching(angle, couple)
		next, falls, ok := f.downhill(angle, couple, touching)
		if !ok {
			return contacts{}, false
		}
		if !falls {
			held := f.solver.Configuration()
			if found, ok, _ := f.problem.settle(touching); ok {
				return found, true
			}
			f.solver.Restore(held)
		}
		angle = next
	}
	return contacts{}, false
}

// downhill returns the angles after one step. falls tells that the wire is far from rest: it
// has negative stiffness, or it has yet to turn by more than a little.
func (f *slotFollower) downhill(angle, couple angles, touching contacts) (next angles, falls, ok bool) {
	stiffness, ok := f.solver.SlotStiffness()
	if !ok {
		return angle, false, false
	}
	var free []int
	for i, c := range touching {
		if c == spring.Free {
			free = append(free, i)
		}
	}
	if len(free) == 0 {
		return angle, false, true
	}
	reduced := mat.NewSymDense(len(free), nil)
	for i, a := range free {
		for j, b := range free[:i+1] {
			reduced.SetSym(i, j, (stiffness[a][b]+stiffness[b][a])/2)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(reduced, true) {
		return angle, false, false
	}
	values := eigen.Values(nil)
	var modes mat.Dense
	eigen.VectorsTo(&modes)
	largest := math.Max(math.Abs(values[0]), math.Abs(values[len(values)-1]))
	var step angles
	for m, value := range values {
		falls = falls || value < -flattest*largest
		var along float64
		for i, a := range free {
			along -= modes.At(i, m) * couple[a]
		}
		along /= math.Max(math.Abs(value), flattest*largest)
		for i, a := range free {
			step[a] += along * modes.At(i, m)
		}
	}
	var size float64
	for _, v := range step {
		size = math.Hypot(size, v)
	}
	const little = 1e-3 // rad
	falls = falls || size > little
	share := math.Min(1, longestLetGoRad/size)
	for i := range angle {
		if touching[i] == spring.Free {
			angle[i] = f.between(i, angle[i]+share*step[i])
		}
	}
	return angle, falls, true
}

// between keeps angle i between its walls.
func (f *slotFollower) between(i int, angleRad float64) float64 {
	if play := f.problem.play[i]; play > tightRad {
		return math.Max(-play, math.Min(play, angleRad))
	}
	return 0
}

// touching are the contacts of a wire that lies at angles and is held there by couples.
func (f *slotFollower) touching(angle, couple angles) (c contacts) {
	for i, play := range f.problem.play {
		switch {
		case play <= tightRad:
			c[i] = spring.Tied
		case angle[i] >= play-angleSlackRad && couple[i] <= 0:
			c[i] = spring.PlusWall
		case angle[i] <= angleSlackRad-play && couple[i] >= 0:
			c[i] = spring.MinusWall
		default:
			c[i] = spring.Free
		}
	}
	return c
}
