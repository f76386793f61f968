package casefile

import (
	"springwright/design/effect"
	"springwright/design/quantity"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// driftJSON is what becomes of both teeth with the anchor held in one way.
type driftJSON struct {
	Joined    []tooth.Number `json:"joined"`
	Held      string         `json:"held"`
	HoldRatio figure         `json:"hold_ratio"`
	Withheld  *string        `json:"withheld,omitempty"`
	*drivenJSON
}

// drivenJSON is a drift that could be predicted.
type drivenJSON struct {
	PlannedMM      figure     `json:"planned_mm"`
	ReachedMM      figure     `json:"reached_mm"`
	PlannedDeg     figure     `json:"planned_deg"`
	ReachedDeg     figure     `json:"reached_deg"`
	End            string     `json:"end"`
	AnchorSlotMM   vectorJSON `json:"anchor_slot_mm"`
	AnchorRotation vectorJSON `json:"anchor_rotation_vector_deg"`
	GeometryClass  []string   `json:"geometry_class,omitempty"`
}

func (w *recordWriter) drift(o effect.AnchorOutcome) driftJSON {
	out := driftJSON{Joined: append([]tooth.Number{}, o.Anchorage.Joined...), Held: o.Anchorage.Held.String(), HoldRatio: w.number("hold_ratio", o.HoldRatio)}
	if o.Fault != nil {
		reason := o.Fault.Error()
		out.Withheld = &reason
		return out
	}
	d, lost := o.Drift, o.Drift.AnchorLost()
	out.drivenJSON = &drivenJSON{
		PlannedMM: w.number("planned_mm", d.PlannedMM), ReachedMM: w.number("reached_mm", d.ReachedMM),
		PlannedDeg: w.number("planned_deg", quantity.Degree.Outside(r3.Norm(d.Planned))), ReachedDeg: w.number("reached_deg", quantity.Degree.Outside(d.ReachedRad)),
		End:            d.End.String(),
		AnchorSlotMM:   w.vector("anchor_slot_mm", lost.SlotMM),
		AnchorRotation: w.vector("anchor_rotation_vector_deg", r3.Scale(quantity.Degree.Outside(1), lost.Rotation)),
	}
	if n := len(d.Steps); n > 0 {
		out.GeometryClass = []string{d.Steps[0].Class().String(), d.Steps[n-1].Class().String()}
	}
	return out
}
