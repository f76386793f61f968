package desk

import (
	"context"
	"math"
	"time"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/quantity"
	"springwright/design/tooth"
	"springwright/export/words"
	"springwright/optimize"

	"gonum.org/v1/gonum/spatial/r3"
)

// wayOut is a change of a case that was tried and would do. Set are the fields that it fills; where
// there are none Field is what would have to be measured again: no click widens a mouth.
type wayOut struct {
	Text  string  `json:"text"`
	Set   []entry `json:"set"`
	Field string  `json:"field"`
}

// waysOut tries what would help where a search has failed, and says how far it is.
func waysOut(ctx context.Context, lines *lineWriter, b *words.Book, nearest optimize.Chosen) ([]wayOut, error) {
	last := time.Now()
	lines.write(progressLine{Text: b.Say("looking for a way out")})
	advice, err := optimize.Advise(ctx, nearest, optimize.Options{Progress: func(done, total int) {
		if now := time.Now(); now.Sub(last) >= between && total > 0 {
			last = now
			lines.write(progressLine{Share: float64(done) / float64(total), Text: b.Say("looking for a way out")})
		}
	}})
	list := []wayOut{}
	for _, n := range advice {
		text, _ := b.Notice(n)
		way := wayOut{Text: words.Capital(text) + ".", Set: []entry{}}
		way.fill(nearest.Case, n)
		list = append(list, way)
	}
	return list, err
}

// limitFields are where the limits stand in a case.
var limitFields = map[notice.Limit]string{
	notice.LoopWidthLimit:  "limits.loop_width_mm",
	notice.FoldLimit:       "limits.fold_depth_mm",
	notice.RoomMesialLimit: "limits.room_mesial_mm",
	notice.RoomDistalLimit: "limits.room_distal_mm",
	notice.BitingLimit:     "limits.biting_clearance_mm",
	notice.CheekLimit:      "limits.cheek_bulge_mm",
	notice.BendsLimit:      "limits.most_bends",
}

// fill puts in what a notice would have changed.
func (w *wayOut) fill(c design.Case, n notice.Notice) {
	set := func(key, value string) { w.Set = append(w.Set, entry{Key: key, Value: value}) }
	number := func(key string, v float64) { set(key, quantity.Format(rounded(v, 6))) }
	wireOf := func(n notice.NamedWire) {
		for _, side := range [...]struct {
			key string
			mm  float64
		}{{"wire.thickness_mm", n.ThicknessMM}, {"wire.width_mm", n.WidthMM}, {"wire.diameter_mm", n.DiameterMM}} {
			if side.mm == 0 {
				set(side.key, "")
			} else {
				number(side.key, side.mm)
			}
		}
		set("wire.choose", "")
		set("wire.alloy", n.Alloy)
	}
	switch n := n.(type) {
	case notice.LimitRelief:
		if key := limitFields[n.Limit]; n.Limit.Measured() {
			w.Field = key
		} else if key != "" {
			number(key, n.To)
		}
	case notice.HeightRelief:
		w.Field = limitFields[notice.FoldLimit]
	case notice.PreBendRelief:
		number("limits.largest_pre_bend_deg", n.ToRad*180/math.Pi)
	case notice.WireRelief:
		named := notice.NamedWire{Alloy: n.Alloy, ThicknessMM: n.Size.ThicknessMM(), WidthMM: n.Size.WidthMM(), DiameterMM: n.Size.DiameterMM()}
		if named.Alloy == "" {
			named.Alloy = c.Wire.Alloy
		}
		wireOf(named)
	case notice.FamilyRelief:
		set("spring", n.Family)
		if f, err := design.FamilyOf(n.Family); err == nil && !f.FromBehind {
			set("active_slot.enter", "")
		}
	case notice.EntryRelief:
		way := "from the anchor"
		if n.FromBehind {
			way = "from behind"
		}
		set("active_slot.enter", way)
	case notice.TwoSpringsRelief:
		if n.Wire != nil {
			wireOf(*n.Wire)
		}
		w.Set = append(w.Set, halfWay(c)...)
	}
}

// halfWay sets the goal of a case in the middle of its travel, for the first of two springs; the
// second one is a case of its own, measured again when the tooth is there.
func halfWay(c design.Case) []entry {
	half := func(now, goal r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(now, goal)) }
	at := half(c.Now.CentreMM, c.Goal.CentreMM)
	turn := r3.Scale(180/math.Pi, half(c.Now.Rotation, c.Goal.Rotation))
	out, in := c.Teeth.Active.OutwardWord(), c.Teeth.Active.InwardWord()
	list := []entry{{Key: "goal.along_mm", Value: quantity.Format(rounded(at.X, 4))}}
	for _, f := range []struct {
		component       tooth.Component
		value           float64
		toward, against string
	}{
		{tooth.ForceZ, at.Z, "apical_mm", "occlusal_mm"},
		{tooth.ForceY, at.Y, out + "_mm", in + "_mm"},
		{tooth.CoupleY, turn.Y, "crown_mesial_tip_deg", "crown_distal_tip_deg"},
		{tooth.CoupleX, turn.X, out + "_crown_torque_deg", in + "_crown_torque_deg"},
		{tooth.CoupleZ, turn.Z, "mesial_in_rotation_deg", "mesial_out_rotation_deg"},
	} {
		v := rounded(f.value*c.Teeth.ClinicalSign(f.component), 4)
		toward, against := "", quantity.Format(-v)
		if v >= 0 {
			toward, against = quantity.Format(v), ""
		}
		list = append(list, entry{Key: "goal." + f.toward, Value: toward}, entry{Key: "goal." + f.against, Value: against})
	}
	// As optimize.Advise has tried it.
	if until := r3.Norm(r3.Sub(at, c.Now.CentreMM)) / 2; c.Target.ForceUntilMM > until {
		list = append(list, entry{Key: "target.force_until_mm", Value: quantity.Format(rounded(until, 4))})
	}
	return list
}
