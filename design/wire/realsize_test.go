package wire

import (
	"math"
	"testing"
)

// edged is the wire with edges of a share of its thickness.
func edged(w Wire, share float64) Wire {
	w.CornerRadiusMM = share * w.ThicknessMM
	return w
}

// The ends of the range are what each of the two measurements asks for.
func TestEdgeRadiusSpansWhatWasMeasured(t *testing.T) {
	t.Parallel()
	r := EdgeRadiusShare()
	w := cornerWire()
	sharp, round := w.Section(), edged(w, r.Max).Section()
	if loss := 1 - round.EA/sharp.EA; loss < 0.07 || loss > 0.08 {
		t.Errorf("largest radius: %.3f of the area lost, measured were 0.07 to 0.08", loss)
	}
	for _, loss := range []float64{1 - round.EI2/sharp.EI2, 1 - round.EI3/sharp.EI3} {
		if loss < 0.15 || loss > 0.19 {
			t.Errorf("largest radius: %.3f of the bending stiffness lost, measured were 0.15 to 0.19", loss)
		}
	}
	thin := w
	thin.ThicknessMM, thin.WidthMM = 0.4064, 0.5588
	slot, known := RealSlotHeightMM(0.4572)
	if !known {
		t.Fatal("no size of 0.018 in slots")
	}
	for _, share := range []float64{r.Min, 0.17} {
		play, err := edged(thin, share).TorsionalPlayRad(slot)
		if deg := play * 180 / math.Pi; err != nil || deg < 8.3 || deg > 10.25 { // half a digit more
			t.Errorf("radius of %g of the thickness: play %.2f°, measured were 8.3 to 10.2: %v", share, deg, err)
		}
	}
}

// What real sizes do to stiffness and play of usual wires.
func TestRealSizes(t *testing.T) {
	t.Parallel()
	w := cornerWire()
	if got := w.RealSize(); got.CornerRadiusMM != EdgeRadiusShare().Value*w.ThicknessMM || got.ThicknessMM != w.ThicknessMM || got.WidthMM != w.WidthMM {
		t.Errorf("real size: %+v", got)
	}
	sharp, real := w.Section(), w.RealSize().Section()
	for name, c := range map[string]struct{ got, want float64 }{ // numbers of this model, to a digit of the doc comment
		"second order": {1 - real.EI2/sharp.EI2, 0.070},
		"first order":  {1 - real.EI3/sharp.EI3, 0.075},
		"torsion":      {1 - real.GJ/sharp.GJ, 0.015},
	} {
		if math.Abs(c.got-c.want) > 0.005 {
			t.Errorf("%s: %.4f of the stiffness lost, want %.3f", name, c.got, c.want)
		}
	}
	round := w
	round.ThicknessMM, round.WidthMM, round.DiameterMM = 0, 0, 0.4
	if round.RealSize() != round {
		t.Errorf("round wire: %+v", round.RealSize())
	}
	for _, s := range SlotSizes() {
		h := s.HeightMM
		if !(h.Min <= h.Value && h.Value <= h.Max) || h.Source == "" || math.Abs(h.Value/s.NominalMM()-1) > 0.05 {
			t.Errorf("%g mil: %+v", s.NominalMil, h)
		}
		for _, written := range []float64{s.NominalMM(), math.Round(100*s.NominalMM()) / 100} {
			if got, known := RealSlotHeightMM(written); !known || got != h.Value {
				t.Errorf("%g mm: %g, %v", written, got, known)
			}
		}
	}
	for _, mm := range []float64{0, 0.45, 0.476, 0.5, 0.64, math.NaN()} {
		if got, known := RealSlotHeightMM(mm); known {
			t.Errorf("%g mm is taken for a nominal height: %g", mm, got)
		}
	}
}
