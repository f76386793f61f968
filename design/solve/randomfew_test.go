package solve

import (
	"context"
	"errors"
	"testing"
)

// Of the first random springs of every kind, and of some that were lost once or took up to a
// minute and a half, all that can be reached are solved, and their loads balance.
func TestRandomSpringsAreSolved(t *testing.T) {
	t.Parallel()
	hard := map[string][]int{
		"elastic": {19, 43, 136, 239, 249, 351, 393}, // drawn tight; slack
		"play":    {177, 225, 269, 666, 842},
		"slide":   {524, 587, 708},
		"tube":    {195, 428, 464, 529, 587}, // would slide in up to a bend; drawn tight
	}
	for _, k := range randomKinds() {
		t.Run(k.name, func(t *testing.T) {
			t.Parallel()
			numbers := hard[k.name]
			for n := range 25 {
				numbers = append(numbers, n)
			}
			solved := 0
			for _, n := range numbers {
				s := randomSpringOf(k, n)
				e, err := Evaluate(context.Background(), s, Options{AllowYield: true})
				if err != nil {
					if why := checkUnreachable(s, err); why != nil {
						t.Errorf("spring %d: %v; %v", n, err, why)
					}
					continue
				}
				solved++
				if err := outOfBalance(s, e); err != nil {
					t.Errorf("spring %d: %v", n, err)
				}
				if n%5 != 0 {
					continue
				}
				if err := againFiner(s, e); err != nil && !errors.Is(err, errUnchecked) {
					t.Errorf("spring %d: %v", n, err)
				}
			}
			t.Logf("%d of %d solved", solved, len(numbers))
			if least := len(numbers) * 3 / 4; solved < least {
				t.Errorf("%d of %d solved, want at least %d", solved, len(numbers), least)
			}
		})
	}
}

// All that looks for the state of the play in a seat stops at the bound on its work, whatever
// it does.
func TestWorkOnPlayIsBounded(t *testing.T) {
	t.Parallel()
	for _, n := range []int{666, 842} {
		s := randomSpringOf(randomKind{draw: randomPlaying}, n)
		solver, f := followerOf(t, s)
		_, _ = f.follow(s.Start) // solved or not
		const last = 100_000     // a solve that has begun is ended
		if n := solver.Crossings(); n > mostCrossings+last {
			t.Errorf("%d crossings, bound %d", n, mostCrossings)
		}
		f.limit = solver.Crossings() - 1
		f.problem.solve = f.solveAt(s.End)
		if _, _, err := f.problem.solve(contacts{}); err != ErrTooMuchWork {
			t.Errorf("beyond the bound: %v", err)
		}
	}
}
