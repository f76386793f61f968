package optimize

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// The least points of small random forms are those that looking at every point finds.
func TestLatticeFindsTheLeastPointsOfAll(t *testing.T) {
	t.Parallel()
	numbers := rand.New(rand.NewPCG(3, 1))
	for range 50 {
		l := randomLattice(numbers, 4)
		want := everyPoint(l)
		got := l.least(6, math.MaxInt)
		if len(got) != min(6, len(want)) {
			t.Fatalf("%d points, want %d", len(got), min(6, len(want)))
		}
		for i, p := range got {
			if math.Abs(p.value-want[i].value) > 1e-9 || math.Abs(l.value(p.at)-p.value) > 1e-9 {
				t.Errorf("point %d is %v with %v, which is worth %v; the least are %v", i, p.at, p.value, l.value(p.at), want[:len(got)])
			}
		}
	}
}

// With few visits it still returns points that are better than the origin, within bounds.
func TestLatticeStopsEarly(t *testing.T) {
	t.Parallel()
	numbers := rand.New(rand.NewPCG(3, 2))
	for range 20 {
		l := randomLattice(numbers, 8)
		for _, p := range l.least(5, 40) {
			if math.Abs(l.value(p.at)-p.value) > 1e-9 || p.value >= 0 {
				t.Errorf("%v is said to be worth %v, is worth %v", p.at, p.value, l.value(p.at))
			}
			for j, v := range p.at {
				if v < l.lower[j] || v > l.upper[j] {
					t.Errorf("%v is out of bounds %v to %v", p.at, l.lower, l.upper)
				}
			}
		}
	}
}

func TestLatticeOfNoUseIsEmpty(t *testing.T) {
	t.Parallel()
	singular := lattice{form: [][]float64{{0}}, pull: []float64{1}, lower: []int{-1}, upper: []int{1}}
	if p := singular.least(3, 100); p != nil {
		t.Errorf("a form without a least point has %v", p)
	}
	atRest := lattice{form: [][]float64{{1}}, pull: []float64{0.2}, lower: []int{-1}, upper: []int{1}}
	if p := atRest.least(3, 100); p != nil {
		t.Errorf("better than the best point are %v", p)
	}
}

// randomLattice has a positive form, a pull of a few steps and narrow bounds.
func randomLattice(numbers *rand.Rand, n int) lattice {
	root := make([][]float64, n+2)
	for i := range root {
		root[i] = make([]float64, n)
		for j := range root[i] {
			root[i][j] = numbers.NormFloat64() * math.Exp(numbers.NormFloat64())
		}
	}
	l := lattice{form: make([][]float64, n)}
	for i := range n {
		l.form[i] = make([]float64, n)
		for j := range n {
			for _, row := range root {
				l.form[i][j] += row[i] * row[j]
			}
		}
		l.pull = append(l.pull, 3*l.form[i][i]*numbers.NormFloat64())
		l.lower, l.upper = append(l.lower, -numbers.IntN(3)), append(l.upper, numbers.IntN(4))
	}
	return l
}

func (l *lattice) value(at []int) float64 {
	var sum float64
	for i, v := range at {
		sum -= l.pull[i] * float64(v)
		for j, w := range at {
			sum += l.form[i][j] * float64(v*w) / 2
		}
	}
	return sum
}

// everyPoint lists all points below 0 but the origin, best first.
func everyPoint(l lattice) []point {
	var all []point
	at := slices.Clone(l.lower)
	for {
		if v := l.value(at); v < 0 {
			all = append(all, point{slices.Clone(at), v})
		}
		j := 0
		for ; j < len(at); j++ {
			if at[j]++; at[j] <= l.upper[j] {
				break
			}
			at[j] = l.lower[j]
		}
		if j == len(at) {
			break
		}
	}
	slices.SortFunc(all, func(a, b point) int { return compare(a.value, b.value) })
	return all
}
