package optimize

import (
	"slices"

	"springwright/optimize/lsq"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// surrogate is a landscape about a point to second order. It costs a small part of the
// landscape's own.
type surrogate struct {
	at   []float64
	here *rows
	bend []*mat.Dense // change of the slopes by each number, nil where it is fixed
	now  *mat.Dense   // room for the slopes where nobody wants them
	// What the last rows are of: what is known of the shape is known everywhere.
	shape []shapeTerm
}

// newSurrogate differences the slopes of a landscape over a step of each number, 0 where it is
// fixed. It reports false where the landscape cannot be looked at.
func newSurrogate(land landscape, at, step []float64) (*surrogate, bool) {
	return surrogateOf(land, at, step, func(_ int, _ float64, x []float64, r *rows) bool {
		return land.look(x, onGrid(), lsq.ToTheEnd, r)
	})
}

// newModels is newSurrogate of an objective together with the model of the spread, nil for a perfect
// bender, from the same springs.
func newModels(p *problem, o *objective, at, step []float64) (land *surrogate, spread *spreadModel, ok bool) {
	land, ok = surrogateOf(o, at, step, func(j int, by float64, x []float64, r *rows) bool {
		l, ok := o.lookInHand(p, x, r)
		switch {
		case !ok || p.sample == nil:
		case j < 0:
			spread = spreadModelAt(p, l)
		default:
			spread.difference(j, by, l)
		}
		return ok
	})
	return land, spread, ok
}

// surrogateOf is newSurrogate by what look tells of the point, −1, and of those where number j is off by so much.
func surrogateOf(land landscape, at, step []float64, look func(j int, by float64, x []float64, r *rows) bool) (*surrogate, bool) {
	n, m := land.size()
	s := &surrogate{at: at, shape: shapeOfLand(land), here: newSlopedRows(land), bend: make([]*mat.Dense, n), now: mat.NewDense(m, n, nil)}
	if !look(-1, 0, at, s.here) {
		return nil, false
	}
	x := slices.Clone(at)
	for j := range n {
		if step[j] == 0 {
			continue
		}
		there := newSlopedRows(land)
		// The other way, and half as far, where the wire cannot be seated there; what cannot be
		// differenced at all stays as it is.
		for _, by := range [...]float64{step[j], -step[j], step[j] / 2, -step[j] / 2} {
			x[j] = at[j] + by
			if !look(j, by, x, there) {
				continue
			}
			there.slopes.Sub(there.slopes, s.here.slopes)
			there.slopes.Scale(1/by, there.slopes)
			s.bend[j] = there.slopes
			break
		}
		x[j] = at[j]
	}
	s.meanMixed()
	return s, true
}

// shapeOfLand is what the last rows of an objective are of.
func shapeOfLand(land landscape) []shapeTerm {
	if o, ok := land.(*objective); ok {
		return o.shape
	}
	return nil
}

// meanMixed makes the mixed derivatives, which are found twice, alike.
func (s *surrogate) meanMixed() {
	for j := range s.bend {
		for k := range j {
			if s.bend[j] == nil || s.bend[k] == nil {
				continue
			}
			for i := range s.here.values {
				both := (s.bend[j].At(i, k) + s.bend[k].At(i, j)) / 2
				s.bend[j].Set(i, k, both)
				s.bend[k].Set(i, j, both)
			}
		}
	}
}

func (s *surrogate) size() (numbers, rows int) { return len(s.at), len(s.here.values) }

// look implements landscape: r = r₀ + (J₀ + J(x))·(x − x₀)/2 with the slopes J(x).
func (s *surrogate) look(x []float64, _ weights, _ float64, r *rows) bool {
	slopes := r.slopes
	if slopes == nil {
		slopes = s.now
	}
	slopes.Copy(s.here.slopes)
	now := slopes.RawMatrix()
	for j, b := range s.bend {
		if d := x[j] - s.at[j]; d != 0 && b != nil {
			for i := range now.Rows {
				floats.AddScaled(slopes.RawRowView(i), d, b.RawRowView(i))
			}
		}
	}
	n := len(x)
	first := s.here.slopes.RawMatrix().Data
	for i := range r.values {
		sum := s.here.values[i]
		slope := slopes.RawRowView(i)
		for j := range n {
			sum += (first[i*n+j] + slope[j]) / 2 * (x[j] - s.at[j])
		}
		r.values[i] = sum
	}
	copy(r.kinds, s.here.kinds)
	for i, t := range s.shape {
		row := len(r.values) - len(s.shape) + i
		r.values[row] = t.off(x) / t.scale
		t.setSlopes(slopes.RawRowView(row), x)
	}
	r.next, r.loads = len(r.values), append(r.loads[:0], s.here.loads...)
	return true
}
