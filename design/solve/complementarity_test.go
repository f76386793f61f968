package solve

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
)

// linearGap is the play of a linear wire: couple = stiffness · (angle − rest) on the angles
// that are held, and the free ones turn until theirs is zero.
func linearGap(play, rest angles, stiffness [2 * perSlot][2 * perSlot]float64) gapProblem {
	return gapProblem{play: play, solve: func(c contacts) (angle, couple angles, err error) {
		for i := range c {
			switch c[i] {
			case spring.PlusWall:
				angle[i] = play[i]
			case spring.MinusWall:
				angle[i] = -play[i]
			}
		}
		// Gauss–Seidel on the free angles converges for positive definite stiffness.
		for range 4000 {
			for i := range c {
				if c[i] != spring.Free {
					continue
				}
				var sum float64
				for j := range c {
					if j != i {
						sum += stiffness[i][j] * (angle[j] - rest[j])
					}
				}
				angle[i] = rest[i] - sum/stiffness[i][i]
			}
		}
		for i := range c {
			for j := range c {
				couple[i] += stiffness[i][j] * (angle[j] - rest[j])
			}
		}
		return angle, couple, nil
	}}
}

// A linear wire with positive stiffness has one state, whatever the search starts from
// (linear complementarity with a P-matrix; Cottle, Pang and Stone, The Linear
// Complementarity Problem, 1992, theorem 3.3.7).
func TestContactsDoNotDependOnTheStart(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		var root, stiffness [2 * perSlot][2 * perSlot]float64
		var play, rest angles
		for i := range play {
			play[i], rest[i] = r.Float64(), 2*r.NormFloat64()
			for j := range play {
				root[i][j] = r.NormFloat64()
			}
		}
		play[r.IntN(len(play))] = 0
		for i := range play {
			for j := range play {
				for k := range play {
					stiffness[i][j] += root[i][k] * root[j][k]
				}
			}
			stiffness[i][i]++
		}
		g := linearGap(play, rest, stiffness)
		var want contacts
		for n, start := range []contacts{g.startFrom(angles{}), g.startFrom(angles{1, 1, 1, 1, 1, 1}), g.startFrom(angles{-1, 1, -1, 1, -1, 1})} {
			found, ok, err := g.settle(start)
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				if found, err = g.enumerate(start); err != nil {
					t.Fatal(err)
				}
			}
			if n == 0 {
				want = found
			} else if found != want {
				t.Errorf("from %v: %v, else %v", start, found, want)
			}
			angle, couple, _ := g.solve(found)
			for i := range found {
				if over := math.Abs(angle[i]) - play[i]; found[i] != spring.Tied && over > 1e-9 {
					t.Errorf("angle %d is %g beyond the wall", i, over)
				}
				if found[i] == spring.Free && math.Abs(couple[i]) > 1e-9 ||
					found[i] == spring.PlusWall && couple[i] > 1e-9 || found[i] == spring.MinusWall && couple[i] < -1e-9 {
					t.Errorf("contact %d is %v with couple %g", i, found[i], couple[i])
				}
			}
		}
	}
}

// A wire that pulls wherever it is has no state; neither has one that cannot be solved.
func TestNoContact(t *testing.T) {
	t.Parallel()
	pulls := gapProblem{play: angles{0.1, 0, 0, 0.1, 0, 0}, solve: func(c contacts) (angle, couple angles, err error) {
		for i := range c {
			switch c[i] {
			case spring.Free:
				angle[i] = 1
			case spring.PlusWall:
				angle[i], couple[i] = 0.1, 1
			case spring.MinusWall:
				angle[i], couple[i] = -0.1, -1
			}
		}
		return angle, couple, nil
	}}
	if _, ok, err := pulls.settle(pulls.startFrom(angles{})); ok || err != nil {
		t.Errorf("settled: %v, %v", ok, err)
	}
	if _, err := pulls.enumerate(pulls.startFrom(angles{})); !errors.Is(err, ErrNoContact) {
		t.Errorf("error %v, want ErrNoContact", err)
	}

	tries := 0
	fails := gapProblem{play: angles{0.1, 0.1, 0.1, 0.1, 0.1, math.Inf(1)}, solve: func(contacts) (angle, couple angles, err error) {
		tries++
		return angle, couple, beam.ErrUnstable
	}}
	_, err := fails.enumerate(fails.startFrom(angles{}))
	if !errors.Is(err, ErrNoContact) || !errors.Is(err, beam.ErrUnstable) {
		t.Errorf("error %v, want ErrNoContact and its cause", err)
	}
	if want := 3 * 3 * 3 * 3 * 3; tries != want {
		t.Errorf("%d states tried, want each of %d once", tries, want)
	}
}
