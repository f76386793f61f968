package wire

import (
	"math"
	"testing"

	"springwright/design/fibre"

	"gonum.org/v1/gonum/floats/scalar"
)

// fibresOf cuts a wire finely enough for stresses at its rim and for where it yields first.
func fibresOf(w Wire) []fibre.Fibre {
	const rows = 2000
	if !w.Round() {
		return fibre.Rectangle(fibre.Kinematic{}, w.WidthMM, w.ThicknessMM, 1, 1, rows).Fibres
	}
	return fibre.Round(fibre.Kinematic{}, w.DiameterMM, 1, rows).Fibres
}

// A section of many fibres is bent to a curvature, let go and bent back: what the outermost
// fibre is left with, and where the first fibre yields the other way, by the law alone.
func TestReverseYieldAgainstFibres(t *testing.T) {
	t.Parallel()
	flat := loopWire() // beta-titanium, 65 GPa, 900 MPa, 0.4318 × 0.635 mm
	thick := flat
	thick.ThicknessMM, thick.WidthMM = flat.WidthMM, flat.ThicknessMM
	round := flat
	round.ThicknessMM, round.WidthMM, round.DiameterMM = 0, 0, 0.4064
	steel := flat
	steel.EMPa, steel.YieldMPa = 170000, 1400
	for _, test := range []struct {
		name     string
		w        Wire
		radiusMM float64
		left     float64 // of the outermost fibre, over yield; 0: not asked
	}{
		{"corner of usual pliers", flat, 0.97, -0.50},
		{"helix", flat, 1.3, -0.50},
		{"wide arc", flat, 8, 0},
		{"on edge", thick, 0.97, -0.50},
		{"steel", steel, 0.97, -0.50},
		{"round", round, 0.95, -0.69},
		{"round, wide arc", round, 6, 0},
	} {
		law := fibre.Kinematic{EMPa: test.w.EMPa, GMPa: test.w.EMPa / 2.6, YieldMPa: test.w.YieldMPa}
		fibres := fibresOf(test.w)
		states := make([]fibre.State, len(fibres))
		// at returns the moment at a curvature, the outermost stress and whether a fibre flows.
		at := func(curvature float64, keep bool) (moment, outermost float64, flows bool) {
			top := 0.0
			for i, f := range fibres {
				stress, _, to := law.Stress(fibre.Strain{Normal: curvature * f.Z}, states[i])
				moment += stress.Normal * f.AreaMM2 * f.Z
				flows = flows || to != states[i]
				if f.Z > top {
					top, outermost = f.Z, stress.Normal
				}
				if keep {
					states[i] = to
				}
			}
			return moment, outermost, flows
		}
		bent := 1 / test.radiusMM
		at(bent, true)
		low, high := -bent, bent // where the moment is gone
		for range 200 {
			middle := (low + high) / 2
			if moment, _, _ := at(middle, false); moment > 0 {
				high = middle
			} else {
				low = middle
			}
		}
		at(low, true)
		_, left, _ := at(low, false)
		if test.left != 0 && !scalar.EqualWithinAbs(left/test.w.YieldMPa, test.left, 0.005) { // its digits
			t.Errorf("%s: the outermost fibre is left with %.3f of the yield stress, want %.2f", test.name, left/test.w.YieldMPa, test.left)
		}
		from, to := low, low-3*bent // where the first fibre flows back
		for range 200 {
			if _, _, flows := at((from+to)/2, false); flows {
				to = (from + to) / 2
			} else {
				from = (from + to) / 2
			}
		}
		moment, _, _ := at(from, false)
		want := -moment / test.w.YieldMomentNMM().Y
		// The outermost of so many fibres lies a thousandth inside the rim.
		if got := test.w.ReverseYield(test.radiusMM, 2); !scalar.EqualWithinAbs(got, want, 2e-3) {
			t.Errorf("%s: yields against the bend at %.4f of the yield moment, fibres say %.4f", test.name, got, want)
		}
	}
}

func TestReverseYieldLimits(t *testing.T) {
	t.Parallel()
	w := loopWire()
	if got := w.ReverseYield(0, 2); got != 0.5 {
		t.Errorf("a sharp corner: %v, want 1/2", got)
	}
	elastic := 0.5 * w.EMPa * w.ThicknessMM / w.YieldMPa // no fibre yields
	if got := w.ReverseYield(elastic*1.001, 2); got != 1 {
		t.Errorf("an elastic bend: %v, want 1", got)
	}
	if got := w.ReverseYield(elastic*0.999, 2); math.Abs(got-1) > 0.01 {
		t.Errorf("a bend that has hardly yielded: %v, want about 1", got)
	}
	if first, second := w.ReverseYield(2, 1), w.ReverseYield(2, 2); !(first < second) {
		t.Errorf("first order %v, second order %v: the wider side leaves more", first, second)
	}
	// Yield and plastic torque of this section, 14.146 and 23.788 N·mm, worked out independently.
	if got, want := w.ReverseTwistYield(), 2-23.788/14.146; math.Abs(got-want) > 1e-3 {
		t.Errorf("twist: %v, want %v", got, want)
	}
	round := w
	round.DiameterMM, round.ThicknessMM, round.WidthMM = 0.4, 0, 0
	if got, want := round.ReverseTwistYield(), 2-4.0/3; math.Abs(got-want) > 1e-12 { // Tp/Ty of a disc
		t.Errorf("twist of a round wire: %v, want %v", got, want)
	}
	if got, want := round.ReverseYield(0, 1), 2-16/(3*math.Pi); math.Abs(got-want) > 1e-12 {
		t.Errorf("round: %v, want %v", got, want)
	}
}
