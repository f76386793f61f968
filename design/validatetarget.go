package design

import (
	"fmt"
	"math"

	"springwright/design/quantity"
	"springwright/design/target"
	"springwright/design/tooth"
)

// windowKeys name the windows of a load by the sense that tooth.Pair.ClinicalSign counts as
// above 0, as case files do.
var windowKeys = [tooth.Components]string{
	"mesial_n", "buccal_n", "intrusive_n", "buccal_crown_torque_nmm", "crown_mesial_nmm", "mesial_in_nmm",
}

// What a target may let an anchor lose: from what a calliper reads, and about a tenth of what a
// bracket is off by (Balut et al., AJODO 1992;102:62), to more than any anchor should (choice).
const (
	LeastAnchorLossMM = 0.1
	MostAnchorLossMM  = 10
	LeastAnchorTipDeg = 0.5
	MostAnchorTipDeg  = 45
)

func (v *validation) checkTarget() {
	t := v.Target
	asked := !t.MomentToForceMM.Free() || t.MaxRateNPerMM > 0
	for _, table := range [...]struct {
		key, field string
		target.LoadWindow
	}{{"target.start.", "Case.Target.Start.", t.Start}, {"target.travel.", "Case.Target.Travel.", t.Travel}, {"target.anchor.", "Case.Target.Anchor.", t.Anchor}} {
		for k := range tooth.Components {
			w, field, i := table.ForceN[k%tooth.CoupleX], "ForceN", k%tooth.CoupleX
			if k.Couple() {
				w, field = table.CoupleNMM[i], "CoupleNMM"
			}
			asked = asked || w.Asked()
			key, sign := fmt.Sprintf("%s%s[%d]", table.field, field, i), 1.0 // which way is which only the teeth tell
			if v.teethKnown {
				key, sign = table.key+windowKeys[k], v.Teeth.ClinicalSign(k)
			}
			v.checkWindow(key, w, sign)
		}
	}
	v.checkWindow("target.travel.moment_to_force_mm", t.MomentToForceMM, 1)
	if !asked {
		v.blame(targetKey, "leaves every load free", "give at least one window, such as AtLeast, AtMost, Within or About")
	}
	if along := t.Travel.ForceN[0]; !t.MomentToForceMM.Free() && (along.Free() || along.Misses(0) <= 0) {
		v.blame("target.travel.moment_to_force_mm", "is asked for without a force along the arch that keeps its sense",
			"give mesial_n or distal_n here, too, with a window that does not hold 0")
	}
	moved := v.movedMM()
	v.between("target.force_until_mm", t.ForceUntilMM, quantity.Millimetre, 0, 20)
	if t.ForceUntilMM > 0 && t.ForceUntilMM >= moved && v.moves() {
		v.blame("target.force_until_mm", fmt.Sprintf("%s is not below the travel of %s", millimetres(t.ForceUntilMM), millimetres(moved)),
			"the force would never be asked for: give less")
	}
	v.unlessZero("target.anchor_loss_mm", t.AnchorLossMM, quantity.Millimetre, LeastAnchorLossMM, MostAnchorLossMM)
	v.unlessZero("target.anchor_tip_deg", t.AnchorTipRad, quantity.Degree, LeastAnchorTipDeg, MostAnchorTipDeg)
	v.between("target.travel.max_rate_n_per_mm", t.MaxRateNPerMM, plain, 0, 20)
	if t.MaxRateNPerMM > 0 && moved < leastMovementMM {
		v.blame("target.travel.max_rate_n_per_mm", "is asked for, but the slot only turns", "a rate needs a travel: leave it out")
	}
	if t.AtResistance {
		for _, of := range [...]struct {
			key string
			at  tooth.Resistance
		}{{"resistance.active", v.Resistance.Active}, {"resistance.anchor", v.Resistance.Anchor}} {
			if of.at == (tooth.Resistance{}) {
				v.blame(of.key, "is missing", "the windows are for the loads there: tooth.ResistanceOf has the usual place")
			}
		}
	}
}

// checkWindow refuses a window that nothing can meet. sign turns its numbers into those of
// the key.
func (v *validation) checkWindow(key string, w target.Window, sign float64) {
	v.unlessZero(key+".weight", w.Weight, plain, 0.01, 100)
	low, high := w.Min, w.Max
	if sign < 0 {
		low, high = 0-w.Max, 0-w.Min // 0 stays +0
	}
	switch {
	case w.Free() && !(w.Aimed && w.Min == 0):
	case w.Min >= w.Max:
		v.impossible = true
		v.blame(key+".max", fmt.Sprintf("%s is not above min, %s", end(high), end(low)),
			"swap the two, or widen the window; one that lacks an end is AtLeast or AtMost")
	case w.Aimed && math.IsInf(w.Max-w.Min, 0):
		v.blame(key, "is aimed at the middle of a window that lacks an end", "write About, or leave Aimed out")
	}
}

// end is an end of a window as text.
func end(v float64) string {
	if math.IsInf(v, 0) {
		return fmt.Sprint(v)
	}
	return quantity.Format(v)
}
