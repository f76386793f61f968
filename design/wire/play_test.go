package wire

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

// Play of usual wires by edge radius of 0, 0.0015 and 0.003 in, worked out independently.
// The second slot is the mean that Meling et al., Am J Orthod Dentofacial Orthop 1998;
// 113:387, measured in slots called 0.018 in; with it the play of 0.016 × 0.022 in lies in
// the 8.3–10.2° of Meling et al. 1997;111:310.
func TestTorsionalPlay(t *testing.T) {
	t.Parallel()
	const inch = 25.4
	for _, c := range []struct {
		thicknessIn, widthIn, slotIn float64
		wantDeg                      [3]float64
	}{
		{0.016, 0.022, 0.018, [3]float64{5.40, 6.28, 7.49}},
		{0.016, 0.022, 0.0187, [3]float64{7.40, 8.62, 10.30}},
		{0.016, 0.022, 0.022, [3]float64{17.95, 21.24, 25.99}},
		{0.016, 0.022, 0.0225, [3]float64{19.78, 23.51, 28.98}},
		{0.017, 0.025, 0.018, [3]float64{2.32, 2.64, 3.06}},
		{0.017, 0.025, 0.0187, [3]float64{3.99, 4.55, 5.27}},
		{0.017, 0.025, 0.022, [3]float64{12.48, 14.30, 16.72}},
		{0.017, 0.025, 0.0225, [3]float64{13.88, 15.93, 18.66}},
		{0.018, 0.025, 0.018, [3]float64{0, 0, 0}},
		{0.018, 0.025, 0.0187, [3]float64{1.62, 1.84, 2.14}},
		{0.018, 0.025, 0.022, [3]float64{9.82, 11.24, 13.12}},
		{0.019, 0.025, 0.022, [3]float64{7.24, 8.28, 9.65}},
		{0.021, 0.025, 0.022, [3]float64{2.33, 2.66, 3.08}},
		{0.021, 0.025, 0.0225, [3]float64{3.53, 4.03, 4.68}},
	} {
		for i, radiusIn := range []float64{0, 0.0015, 0.003} {
			w := Wire{ThicknessMM: c.thicknessIn * inch, WidthMM: c.widthIn * inch, CornerRadiusMM: radiusIn * inch}
			got, err := w.TorsionalPlayRad(c.slotIn * inch)
			if err != nil || !scalar.EqualWithinAbs(got/degree, c.wantDeg[i], 0.01) { // printed digits
				t.Errorf("%+v, radius %g in: %.3f°, error %v, want %.2f°", c, radiusIn, got/degree, err, c.wantDeg[i])
			}
		}
	}
}

func TestSecondOrderPlay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ wireIn, slotIn, lengthIn, wantDeg, tolDeg float64 }{
		{0.017, 0.018, 0.125, 0.458, 0.001},
		{0.017, 0.022, 0.125, 2.284, 0.001},
		{0.014, 0.022, 0.100, 4.549, 0.001},
		{0.014, 0.018, 0.0626, 3.63, 0.005}, // printed digits
	} {
		w := Wire{DiameterMM: c.wireIn * 25.4}
		got, err := w.SecondOrderPlayRad(c.slotIn*25.4, c.lengthIn*25.4)
		if err != nil || !scalar.EqualWithinAbs(got/degree, c.wantDeg, c.tolDeg) {
			t.Errorf("%+v: %.4f°, error %v", c, got/degree, err)
		}
		// The equation itself: the wire just touches both edges.
		if lhs, rhs := c.slotIn*math.Cos(got), c.wireIn+c.lengthIn*math.Sin(got); !scalar.EqualWithinAbs(lhs, rhs, 1e-14) {
			t.Errorf("%+v: S cos t = %g, d + W sin t = %g", c, lhs, rhs)
		}
	}
}

func TestPlayRefusals(t *testing.T) {
	t.Parallel()
	w := loopWire()
	if _, err := w.TorsionalPlayRad(0.43); !errors.Is(err, ErrTooThick) {
		t.Errorf("thick wire, torsion: error %v", err)
	}
	if _, err := w.SecondOrderPlayRad(0.43, 3); !errors.Is(err, ErrTooThick) {
		t.Errorf("thick wire, second order: error %v", err)
	}
	if _, err := w.TorsionalPlayRad(0.8); !errors.Is(err, ErrTurnsFreely) {
		t.Errorf("slot above the diagonal: error %v", err)
	}
	round := Wire{DiameterMM: 0.4}
	if _, err := round.TorsionalPlayRad(0.5); !errors.Is(err, ErrTurnsFreely) {
		t.Errorf("round wire: error %v", err)
	}
	if _, err := w.SecondOrderPlayRad(0.5588, -1); err == nil {
		t.Error("slot of negative length: no error")
	}
}

// A wire or slot without a size, or with one that has no end, has no play.
func TestPlayRefusesWhatHasNoSize(t *testing.T) {
	t.Parallel()
	inf, nan := math.Inf(1), math.NaN()
	good := Wire{ThicknessMM: 0.4, WidthMM: 0.56}
	for name, c := range map[string]struct {
		w            Wire
		slot, length float64
	}{
		"no width": {Wire{ThicknessMM: 0.4}, 0.5, 3}, "no thickness": {Wire{WidthMM: 0.56}, 0.5, 3}, "endless width": {Wire{ThicknessMM: 0.4, WidthMM: inf}, 0.5, 3},
		"width that is none": {Wire{ThicknessMM: 0.4, WidthMM: nan}, 0.5, 3}, "no slot": {good, 0, 3}, "slot below 0": {good, -1, 3}, "endless slot": {good, inf, 3}, "slot that is none": {good, nan, 3},
	} {
		if v, err := c.w.TorsionalPlayRad(c.slot); err == nil {
			t.Errorf("%s: turns by %v", name, v)
		}
		if v, err := c.w.SecondOrderPlayRad(c.slot, c.length); err == nil {
			t.Errorf("%s: tips by %v", name, v)
		}
	}
	for _, length := range []float64{-1, nan, inf} {
		if v, err := good.SecondOrderPlayRad(0.5, length); err == nil {
			t.Errorf("in a slot %v mm long it tips by %v", length, v)
		}
	}
	// A square that is rounded to a circle as high as the slot touches at once.
	if v, err := (Wire{ThicknessMM: 0.4, WidthMM: 0.4, CornerRadiusMM: 0.2}).TorsionalPlayRad(0.4); err != nil || v != 0 {
		t.Errorf("a circle that fills its slot turns by %v, %v", v, err)
	}
}
