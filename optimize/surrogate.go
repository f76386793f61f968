package optimize

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// surrogate is the landscape of an objective about a point to second order. It costs a
// small part of the objective's own.
type surrogate struct {
	at       []float64
	r        []float64
	kinds    []rowKind
	jacobian *mat.Dense   // m × n
	bend     []*mat.Dense // change of the jacobian by each variable, nil where it is fixed
	now      *mat.Dense   // room for the jacobian where nobody wants it
	worst    float64
	terms    int // of the objective's loads
}

// newSurrogate differences the objective's jacobians over a step of each variable, 0 where
// it is fixed. It reports false where the objective cannot be evaluated.
func newSurrogate(o *objective, at, step []float64) (*surrogate, bool) {
	n, m := o.size()
	s := &surrogate{
		at: at, r: make([]float64, m), kinds: make([]rowKind, m),
		jacobian: mat.NewDense(m, n, nil), bend: make([]*mat.Dense, n), now: mat.NewDense(m, n, nil), terms: len(o.loads),
	}
	if !o.foresee(at, s.r, s.jacobian, s.kinds) {
		return nil, false
	}
	x := slices.Clone(at)
	r, kinds := make([]float64, m), make([]rowKind, m)
	for j := range n {
		if step[j] == 0 {
			continue
		}
		s.bend[j] = mat.NewDense(m, n, nil)
		x[j] = at[j] + step[j]
		if !o.foresee(x, r, s.bend[j], kinds) {
			return nil, false
		}
		s.bend[j].Sub(s.bend[j], s.jacobian)
		s.bend[j].Scale(1/step[j], s.bend[j])
		x[j] = at[j]
	}
	// Mixed derivatives are found twice.
	for j := range n {
		for k := range j {
			if s.bend[j] == nil || s.bend[k] == nil {
				continue
			}
			for i := range m {
				both := (s.bend[j].At(i, k) + s.bend[k].At(i, j)) / 2
				s.bend[j].Set(i, k, both)
				s.bend[k].Set(i, j, both)
			}
		}
	}
	return s, true
}

func (s *surrogate) size() (variables, residuals int) { return len(s.at), len(s.r) }

// foresee implements landscape.
func (s *surrogate) foresee(x, r []float64, jacobian *mat.Dense, kinds []rowKind) bool {
	copy(kinds, s.kinds)
	s.evaluate(x, r, jacobian)
	return true
}

// residuals implements leastSquares.
func (s *surrogate) residuals(x, r []float64, jacobian *mat.Dense, _ float64) bool {
	s.evaluate(x, r, jacobian)
	for i, k := range s.kinds {
		if k.limit && r[i] <= 0 {
			r[i] = 0
			if jacobian != nil {
				clear(jacobian.RawRowView(i))
			}
		}
	}
	return true
}

// missed implements landscape.
func (s *surrogate) missed() float64 { return s.worst }

// evaluate fills in r = r₀ + (J₀ + J(x))·(x − x₀)/2 and J(x).
func (s *surrogate) evaluate(x, r []float64, jacobian *mat.Dense) {
	if jacobian == nil {
		jacobian = s.now
	}
	jacobian.Copy(s.jacobian)
	now := jacobian.RawMatrix().Data
	for j, b := range s.bend {
		if d := x[j] - s.at[j]; d != 0 && b != nil {
			for i, v := range b.RawMatrix().Data {
				now[i] += d * v
			}
		}
	}
	s.worst = 0
	n := len(x)
	first := s.jacobian.RawMatrix().Data
	for i := range r {
		sum := s.r[i]
		for j := range n {
			sum += (first[i*n+j] + now[i*n+j]) / 2 * (x[j] - s.at[j])
		}
		r[i] = sum
		s.worst = max(s.worst, s.kinds[i].missed(sum))
	}
}

// loads are those that the terms of the objective judge, at x.
func (s *surrogate) loads(x []float64) []float64 {
	r := make([]float64, len(s.r))
	s.evaluate(x, r, nil)
	loads := make([]float64, s.terms)
	for i, k := range s.kinds {
		if k.loadPer != 0 {
			loads[k.term] = k.loadAt0 + k.loadPer*r[i]
		}
	}
	return loads
}
