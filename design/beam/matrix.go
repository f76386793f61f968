package beam

import "math"

// vec6 is a force and a moment, or a turn and a shift, one after the other.
type vec6 [6]float64

// mat6 is a 6×6 matrix of rows. The solver's matrices never leave this size, and gonum's
// dense ones would allocate at every step.
type mat6 [6][6]float64

func (m *mat6) mul(v *vec6) (out vec6) {
	for i := range m {
		r := &m[i]
		out[i] = r[0]*v[0] + r[1]*v[1] + r[2]*v[2] + r[3]*v[3] + r[4]*v[4] + r[5]*v[5]
	}
	return out
}

// factors is a matrix decomposed with partial pivoting: P A = L U.
type factors struct {
	lu       mat6
	row      [6]int
	sign     float64 // of the row permutation
	singular bool
}

// factor decomposes m after scaling each row to a largest element of 1.
func factor(m *mat6) factors {
	f := factors{lu: *m, sign: 1}
	var scale vec6
	for i := range f.row {
		f.row[i] = i
		for _, v := range f.lu[i] {
			scale[i] = max(scale[i], math.Abs(v))
		}
		if scale[i] == 0 || math.IsNaN(scale[i]) || math.IsInf(scale[i], 0) {
			f.singular = true
			return f
		}
	}
	for k := range 6 {
		p, best := k, 0.0
		for i := k; i < 6; i++ {
			if v := math.Abs(f.lu[i][k]) / scale[i]; v > best {
				p, best = i, v
			}
		}
		if best < 1e-14 {
			f.singular = true
			return f
		}
		if p != k {
			f.lu[p], f.lu[k] = f.lu[k], f.lu[p]
			f.row[p], f.row[k] = f.row[k], f.row[p]
			scale[p], scale[k] = scale[k], scale[p]
			f.sign = -f.sign
		}
		inverse := 1 / f.lu[k][k]
		for i := k + 1; i < 6; i++ {
			q := f.lu[i][k] * inverse
			f.lu[i][k] = q
			for j := k + 1; j < 6; j++ {
				f.lu[i][j] -= q * f.lu[k][j]
			}
		}
	}
	return f
}

// solve returns x with A x = b.
func (f *factors) solve(b *vec6) (x vec6) {
	for i := range 6 {
		sum := b[f.row[i]]
		for j := range i {
			sum -= f.lu[i][j] * x[j]
		}
		x[i] = sum
	}
	for i := 5; i >= 0; i-- {
		sum := x[i]
		for j := i + 1; j < 6; j++ {
			sum -= f.lu[i][j] * x[j]
		}
		x[i] = sum / f.lu[i][i]
	}
	return x
}

// signOfDeterminant is +1 or −1, or 0 where the matrix is singular to working accuracy.
func (f *factors) signOfDeterminant() float64 {
	if f.singular {
		return 0
	}
	s := f.sign
	for i := range 6 {
		s = math.Copysign(s, s*f.lu[i][i])
	}
	return s
}
