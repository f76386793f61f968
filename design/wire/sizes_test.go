package wire

import (
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

func TestSizesInMillimetres(t *testing.T) {
	t.Parallel()
	// Three decimals of a millimetre, as wire tables print them.
	published := map[float64]float64{12: 0.305, 14: 0.356, 16: 0.406, 17: 0.432, 18: 0.457, 19: 0.483, 20: 0.508, 21: 0.533, 21.5: 0.546, 22: 0.559, 25: 0.635, 28: 0.711}
	for _, s := range Sizes() {
		for _, side := range [][2]float64{{s.ThicknessMil, s.ThicknessMM()}, {s.WidthMil, s.WidthMM()}, {s.DiameterMil, s.DiameterMM()}} {
			if want := published[side[0]]; !scalar.EqualWithinAbs(side[1], want, 0.00051) {
				t.Errorf("%v: %g mil is %g mm, want %g", s, side[0], side[1], want)
			}
		}
		if s.Round() != (s.ThicknessMil == 0) || s.Round() != (s.WidthMil == 0) {
			t.Errorf("%+v is neither round nor rectangular", s)
		}
		if s.ThicknessMil > s.WidthMil {
			t.Errorf("%v: thickness above width", s)
		}
	}
}

func TestSizeText(t *testing.T) {
	t.Parallel()
	for want, s := range map[string]Size{
		"0.014 in":          {DiameterMil: 14},
		"0.017 × 0.025 in":  {ThicknessMil: 17, WidthMil: 25},
		"0.0215 × 0.028 in": {ThicknessMil: 21.5, WidthMil: 28},
	} {
		if got := s.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	if got := (Size{ThicknessMil: 17}).ThicknessMM(); got != 0.4318 {
		t.Errorf("17 mil is %v mm, want 0.4318", got)
	}
}
