package photo

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// homography is a perspective map of the plane, rows first: (x, y) goes to
// (h0·x + h1·y + h2, h3·x + h4·y + h5) / (h6·x + h7·y + h8).
type homography [9]float64

func (h *homography) apply(p r2.Vec) r2.Vec {
	w := h[6]*p.X + h[7]*p.Y + h[8]
	return r2.Vec{X: (h[0]*p.X + h[1]*p.Y + h[2]) / w, Y: (h[3]*p.X + h[4]*p.Y + h[5]) / w}
}

func (h *homography) times(o *homography) (product homography) {
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				product[3*i+j] += h[3*i+k] * o[3*k+j]
			}
		}
	}
	return product
}

// inverse is the adjugate, which serves as well, as a homography's scale means nothing.
func (h *homography) inverse() homography {
	return homography{
		h[4]*h[8] - h[5]*h[7], h[2]*h[7] - h[1]*h[8], h[1]*h[5] - h[2]*h[4],
		h[5]*h[6] - h[3]*h[8], h[0]*h[8] - h[2]*h[6], h[2]*h[3] - h[0]*h[5],
		h[3]*h[7] - h[4]*h[6], h[1]*h[6] - h[0]*h[7], h[0]*h[4] - h[1]*h[3],
	}
}

// scaled has a last number of 1.
func (h homography) scaled() homography {
	for i := range h {
		h[i] /= h[8]
	}
	h[8] = 1
	return h
}

var errDegenerate = errors.New("the points do not define a perspective")

// homographyOf is the perspective that takes points from to points to, four or more, by the
// direct linear transformation of normalised points (Hartley & Zisserman, Multiple View
// Geometry, 2nd ed. 2004, algorithm 4.2).
func homographyOf(from, to []r2.Vec) (homography, error) {
	if len(from) < 4 || len(from) != len(to) {
		return homography{}, errDegenerate
	}
	normFrom, fromOK := normalising(from)
	normTo, toOK := normalising(to)
	if !fromOK || !toOK {
		return homography{}, errDegenerate
	}
	a := mat.NewDense(2*len(from), 9, nil)
	for i := range from {
		p, q := normFrom.apply(from[i]), normTo.apply(to[i])
		a.SetRow(2*i, []float64{p.X, p.Y, 1, 0, 0, 0, -q.X * p.X, -q.X * p.Y, -q.X})
		a.SetRow(2*i+1, []float64{0, 0, 0, p.X, p.Y, 1, -q.Y * p.X, -q.Y * p.Y, -q.Y})
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDFullV) {
		return homography{}, errDegenerate
	}
	var v mat.Dense
	svd.VTo(&v)
	values := svd.Values(nil)
	// A second null space: three of four points on a line.
	if values[7] < 1e-9*values[0] {
		return homography{}, errDegenerate
	}
	var h homography
	for i := range h {
		h[i] = v.At(i, 8)
	}
	back := normTo.inverse()
	h = back.times(&h)
	h = h.times(&normFrom)
	if h[8] == 0 || !finite(h[:]...) {
		return homography{}, errDegenerate
	}
	return h.scaled(), nil
}

// normalising moves points about the origin, on average √2 away.
func normalising(points []r2.Vec) (homography, bool) {
	var middle r2.Vec
	for _, p := range points {
		middle = r2.Add(middle, r2.Scale(1/float64(len(points)), p))
	}
	var away float64
	for _, p := range points {
		away += r2.Norm(r2.Sub(p, middle)) / float64(len(points))
	}
	s := math.Sqrt2 / away
	return homography{s, 0, -s * middle.X, 0, s, -s * middle.Y, 0, 0, 1}, away > 0 && finite(s)
}
