package lattice

import (
	"cmp"
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
		got := l.Least(6, math.MaxInt)
		if len(got) != min(6, len(want)) {
			t.Fatalf("%d points, want %d", len(got), min(6, len(want)))
		}
		for i, p := range got {
			if math.Abs(p.Value-want[i].Value) > 1e-9 || math.Abs(l.value(p.At)-p.Value) > 1e-9 {
				t.Errorf("point %d is %v with %v, which is worth %v; the least are %v", i, p.At, p.Value, l.value(p.At), want[:len(got)])
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
		for _, p := range l.Least(5, 40) {
			if math.Abs(l.value(p.At)-p.Value) > 1e-9 || p.Value >= 0 {
				t.Errorf("%v is said to be worth %v, is worth %v", p.At, p.Value, l.value(p.At))
			}
			for j, v := range p.At {
				if v < l.Lower[j] || v > l.Upper[j] {
					t.Errorf("%v is out of bounds %v to %v", p.At, l.Lower, l.Upper)
				}
			}
		}
	}
}

func TestLatticeOfNoUseIsEmpty(t *testing.T) {
	t.Parallel()
	singular := Form{Quadratic: [][]float64{{0}}, Pull: []float64{1}, Lower: []int{-1}, Upper: []int{1}}
	if p := singular.Least(3, 100); p != nil {
		t.Errorf("a form without a least point has %v", p)
	}
	atRest := Form{Quadratic: [][]float64{{1}}, Pull: []float64{0.2}, Lower: []int{-1}, Upper: []int{1}}
	if p := atRest.Least(3, 100); p != nil {
		t.Errorf("better than the best point are %v", p)
	}
}

// randomLattice has a positive form, a pull of a few steps and narrow bounds.
func randomLattice(numbers *rand.Rand, n int) Form {
	root := make([][]float64, n+2)
	for i := range root {
		root[i] = make([]float64, n)
		for j := range root[i] {
			root[i][j] = numbers.NormFloat64() * math.Exp(numbers.NormFloat64())
		}
	}
	l := Form{Quadratic: make([][]float64, n)}
	for i := range n {
		l.Quadratic[i] = make([]float64, n)
		for j := range n {
			for _, row := range root {
				l.Quadratic[i][j] += row[i] * row[j]
			}
		}
		l.Pull = append(l.Pull, 3*l.Quadratic[i][i]*numbers.NormFloat64())
		l.Lower, l.Upper = append(l.Lower, -numbers.IntN(3)), append(l.Upper, numbers.IntN(4))
	}
	return l
}

func (l *Form) value(at []int) float64 {
	var sum float64
	for i, v := range at {
		sum -= l.Pull[i] * float64(v)
		for j, w := range at {
			sum += l.Quadratic[i][j] * float64(v*w) / 2
		}
	}
	return sum
}

// everyPoint lists all points below 0 but the origin, best first.
func everyPoint(l Form) []Point {
	var all []Point
	at := slices.Clone(l.Lower)
	for {
		if v := l.value(at); v < 0 {
			all = append(all, Point{slices.Clone(at), v})
		}
		j := 0
		for ; j < len(at); j++ {
			if at[j]++; at[j] <= l.Upper[j] {
				break
			}
			at[j] = l.Lower[j]
		}
		if j == len(at) {
			break
		}
	}
	slices.SortFunc(all, func(a, b Point) int { return cmp.Compare(a.Value, b.Value) })
	return all
}
