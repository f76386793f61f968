package photo

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// Perspectives as other programs reckon them.
func TestHomographyAgainstOtherPrograms(t *testing.T) {
	for name, test := range map[string]struct {
		from, to  []r2.Vec
		want      homography
		tolerance float64 // of the printed digits, as a share
	}{
		// ImageMagick 6.9.11: convert -size 10x10 xc: -verbose -distort Perspective
		// '30,40 4,124 30,123 85,122 85,123 100,123 85,2 100,30' null:
		"four points": {
			[]r2.Vec{{X: 30, Y: 40}, {X: 30, Y: 123}, {X: 85, Y: 123}, {X: 85, Y: 2}},
			[]r2.Vec{{X: 4, Y: 124}, {X: 85, Y: 122}, {X: 100, Y: 123}, {X: 100, Y: 30}},
			homography{-1.79807, -2.77774, 163.344, -1.34468, -3.37855, 122.541, -0.0105285, -0.0277774, 1},
			1e-5,
		},
		// The normalised direct linear transformation in numpy 1.24.2, of points with an error.
		"seven points": {
			[]r2.Vec{{X: 7, Y: 7}, {X: 1993, Y: 31}, {X: 1931, Y: 1377}, {X: 43, Y: 1291}, {X: 1000, Y: 700}, {X: 1500, Y: 350}, {X: 400, Y: 1000}},
			[]r2.Vec{{X: -0.124, Y: 53.839}, {X: 83.579, Y: 48.533}, {X: 86.483, Y: -5.593}, {X: 4.258, Y: 1.193}, {X: 44.333, Y: 24.004}, {X: 64.305, Y: 36.926}, {X: 19.21, Y: 12.837}},
			homography{4.30083363e-02, 2.07969826e-03, -4.22843920e-01, -1.68392970e-03, -4.09661298e-02, 5.41593940e+01, 1.10225275e-05, -2.39537791e-05, 1},
			1e-7,
		},
	} {
		got, err := homographyOf(test.from, test.to)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, want := range test.want {
			if math.Abs(got[i]-want) > test.tolerance*math.Abs(want) {
				t.Errorf("%s: number %d is %.9g, want %.9g", name, i, got[i], want)
			}
		}
		back := got.inverse()
		for _, p := range test.from {
			if d := r2.Norm(r2.Sub(back.apply(got.apply(p)), p)); d > 1e-8 {
				t.Errorf("%s: there and back is %g off", name, d)
			}
		}
	}
}

func TestDegenerateHomographies(t *testing.T) {
	square := []r2.Vec{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}
	for name, from := range map[string][]r2.Vec{
		"three on a line": {{}, {X: 1}, {X: 2}, {Y: 1}},
		"one point":       {{X: 2, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 2}},
		"too few":         {{}, {X: 1}, {Y: 1}},
	} {
		if h, err := homographyOf(from, square); err == nil {
			t.Errorf("%s: %v, want an error", name, h)
		}
	}
}

// A bar behind a blur: its steepest places as the blurred bar has them, worked out on a fine grid.
func TestWidthBehindBlur(t *testing.T) {
	const width, step = 0.43, 1e-4
	for _, blur := range [...]float64{0.02, 0.1, 0.15, 0.2} {
		at, most := 0.0, 0.0
		for u := 0.0; u < 1; u += step {
			slope := math.Exp(-math.Pow((u-width/2)/blur, 2)/2) - math.Exp(-math.Pow((u+width/2)/blur, 2)/2)
			if slope > most {
				at, most = u, slope
			}
		}
		if got := widthBehindBlur(2*at, blur); math.Abs(got-width) > 0.003 {
			t.Errorf("blurred by %g: %.4f mm, want %g ± 0.003 (the grid, magnified)", blur, got, width)
		}
	}
}
