package desk

import (
	"math"
	"strconv"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/quantity"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// drawing is what the page draws: lines in mm as they are seen from the cheek, x to the right
// and y up.
type drawing struct {
	Box     [4]float64 `json:"box"` // left, bottom, width, height
	Label   string     `json:"label"`
	Shapes  []shape    `json:"shapes"`
	Letters []lettered `json:"letters"`
	Teeth   []lettered `json:"teeth"`
}

type shape struct {
	Class  string       `json:"class"`
	Points [][2]float64 `json:"points"`
	Closed bool         `json:"closed"`
}

// lettered is a letter of the measuring sheet, or the number of a tooth.
type lettered struct {
	Letter string     `json:"letter"`
	At     [2]float64 `json:"at"`
}

// cover widens the box to lines that are drawn over it.
func (d *drawing) cover(lines ...[][2]float64) {
	all := drawing{Shapes: []shape{{Points: [][2]float64{{d.Box[0], d.Box[1]}, {d.Box[0] + d.Box[2], d.Box[1] + d.Box[3]}}}}}
	for _, l := range lines {
		for _, p := range l { // with the rim that its handles need
			all.Shapes = append(all.Shapes, shape{Points: [][2]float64{{p[0] - 1, p[1] - 1}, {p[0] + 1, p[1] + 1}}})
		}
	}
	d.Box = boxOf(all, 0)
}

// seen turns places of the mechanics into places on the page.
type seen struct{ view bend.View }

func (s seen) point(p r3.Vec) [2]float64 {
	x, y := s.view.Page(p)
	return [2]float64{x, y}
}

func (s seen) points(list []r3.Vec) [][2]float64 {
	out := make([][2]float64, len(list))
	for i, p := range list {
		out[i] = s.point(p)
	}
	return out
}

func (s seen) wire(poses []beam.Pose) [][2]float64 {
	out := make([][2]float64, len(poses))
	for i, p := range poses {
		out[i] = s.point(p.At)
	}
	return out
}

// Mean sizes of crowns and roots, mm, rounded (from memory): a drawing to find one's way in, no
// measurement.
var crownWidthMM = [...]float64{8, 7, 7.5, 7, 7, 10.5, 10, 9}

const (
	crownBelowMM = 4.0                   // from the slot to the biting edge
	neckMM       = 3.5                   // from the slot to the neck
	rootMM       = 11.0                  // from the neck to the tip
	numberMM     = neckMM + rootMM + 1.8 // from the slot to the tooth's number, beyond its root
)

// toothOutline is a tooth about its slot's centre: x along the arch, z towards the root tip.
func toothOutline(n tooth.Number) []r3.Vec {
	half := crownWidthMM[n.Place()-1] / 2
	tip := neckMM + rootMM
	right := []r3.Vec{{X: 0, Z: -crownBelowMM}, {X: 0.7 * half, Z: -crownBelowMM + 0.2}, {X: half, Z: -1}, {X: 0.75 * half, Z: neckMM}}
	switch {
	case n.Molar():
		right = append(right, r3.Vec{X: 0.7 * half, Z: 0.7 * tip}, r3.Vec{X: 0.62 * half, Z: tip}, r3.Vec{X: 0.4 * half, Z: tip}, r3.Vec{X: 0.15 * half, Z: 0.62 * tip})
	default:
		right = append(right, r3.Vec{X: 0.4 * half, Z: 0.75 * tip}, r3.Vec{X: 0.15 * half, Z: tip})
	}
	outline := append([]r3.Vec(nil), right...)
	for i := len(right) - 1; i > 0; i-- {
		outline = append(outline, r3.Vec{X: -right[i].X, Z: right[i].Z})
	}
	return outline
}

// placed is an outline at a centre, turned.
func placed(outline []r3.Vec, centre, rotation r3.Vec) []r3.Vec {
	out := make([]r3.Vec, len(outline))
	for i, p := range outline {
		out[i] = r3.Add(centre, beam.Rotate(rotation, p))
	}
	return out
}

func slotOutline(lengthMM float64) []r3.Vec {
	x, z := math.Max(lengthMM, 0.6)/2, 0.5
	return []r3.Vec{{X: -x, Z: -z}, {X: x, Z: -z}, {X: x, Z: z}, {X: -x, Z: z}}
}

// plan is what is drawn of a case, whole or not yet: lengths in mm, places of the active slot's
// centre from the anchor's on the axes of the mechanics.
type plan struct {
	teeth                          tooth.Pair
	now, goal                      design.Placement
	anchorLengthMM, activeLengthMM float64
	foldMM, mesialMM, distalMM     float64 // above the goal, and from the active slot's centre
}

// plan reads what there is of a case; what is missing is drawn as in an example.
func (f formAnswer) plan(teeth tooth.Pair) plan {
	at := func(table string, from design.Placement) design.Placement {
		sensed := func(k tooth.Component, unit quantity.Unit, now float64, toward, against string) float64 {
			const none = math.MaxFloat64
			if v := f.quantityOf(table+"."+toward, unit, none); v != none {
				return v * teeth.ClinicalSign(k)
			}
			if v := f.quantityOf(table+"."+against, unit, none); v != none {
				return -v * teeth.ClinicalSign(k)
			}
			return now
		}
		out, in := teeth.Active.OutwardWord(), teeth.Active.InwardWord()
		from.CentreMM.X = f.quantityOf(table+".along_mm", quantity.Millimetre, from.CentreMM.X)
		from.CentreMM.Z = sensed(tooth.ForceZ, quantity.Millimetre, from.CentreMM.Z, "apical_mm", "occlusal_mm")
		from.CentreMM.Y = sensed(tooth.ForceY, quantity.Millimetre, from.CentreMM.Y, out+"_mm", in+"_mm")
		from.Rotation.Y = sensed(tooth.CoupleY, quantity.Degree, from.Rotation.Y, "crown_mesial_tip_deg", "crown_distal_tip_deg")
		return from
	}
	p := plan{
		teeth:          teeth,
		anchorLengthMM: f.quantityOf("anchor_slot.length_mm", quantity.Millimetre, 3),
		activeLengthMM: f.quantityOf("active_slot.length_mm", quantity.Millimetre, 3),
		foldMM:         f.quantityOf("limits.fold_depth_mm", quantity.Millimetre, 9) - f.quantityOf("limits.gum_clearance_mm", quantity.Millimetre, 1),
		mesialMM:       f.quantityOf("limits.room_mesial_mm", quantity.Millimetre, 5),
		distalMM:       f.quantityOf("limits.room_distal_mm", quantity.Millimetre, 5),
	}
	p.now = at("now", design.Placement{CentreMM: r3.Vec{X: 12}})
	p.goal = at("goal", p.now)
	return p
}

// planOf is the plan of a whole case.
func planOf(c design.Case) plan {
	return plan{c.Teeth, c.Now, c.Goal, c.AnchorSlot.LengthMM, c.ActiveSlot.LengthMM, c.Limits.LoopHeightMM, c.Limits.RoomMesialMM, c.Limits.RoomDistalMM}
}

// draw draws both teeth with the active one at a placement, the room, and the letters of the
// measuring sheet. The origin is that of the mechanics, where the wire leaves the anchor slot.
func (p plan) draw(b *words.Book, at design.Placement, letters bool) drawing {
	s := seen{bend.ViewOf(p.teeth)}
	anchor := r3.Vec{X: -p.anchorLengthMM / 2}
	centre := r3.Add(anchor, at.CentreMM)
	goal := r3.Add(anchor, p.goal.CentreMM)
	d := drawing{Letters: []lettered{}, Label: b.Say("Both teeth, seen from the cheek")}
	named := func(n tooth.Number, at r3.Vec) {
		d.Teeth = append(d.Teeth, lettered{strconv.Itoa(int(n)), s.point(at)})
	}
	named(p.teeth.Anchor, r3.Add(anchor, r3.Vec{Z: numberMM}))
	named(p.teeth.Active, r3.Add(centre, beam.Rotate(at.Rotation, r3.Vec{Z: numberMM})))
	add := func(class string, closed bool, list ...r3.Vec) {
		d.Shapes = append(d.Shapes, shape{class, s.points(list), closed})
	}
	add("tooth", true, placed(toothOutline(p.teeth.Anchor), anchor, r3.Vec{})...)
	add("tooth", true, placed(toothOutline(p.teeth.Active), centre, at.Rotation)...)
	add("slot", true, placed(slotOutline(p.anchorLengthMM), anchor, r3.Vec{})...)
	add("slot", true, placed(slotOutline(p.activeLengthMM), centre, at.Rotation)...)

	fold := goal.Z + p.foldMM
	mesial := p.teeth.MesialSign()
	mesialX, distalX := centre.X+mesial*p.mesialMM, centre.X-mesial*p.distalMM
	left, right := math.Min(anchor.X-6, math.Min(mesialX, distalX)), math.Max(centre.X+6, math.Max(mesialX, distalX))
	add("limit", false, r3.Vec{X: left, Z: fold}, r3.Vec{X: right, Z: fold})
	for _, x := range [...]float64{mesialX, distalX} {
		add("limit", false, r3.Vec{X: x, Z: fold}, r3.Vec{X: x, Z: centre.Z - 1})
	}
	if letters {
		put := func(letter string, p r3.Vec) { d.Letters = append(d.Letters, lettered{letter, s.point(p)}) }
		between := (anchor.X + centre.X) / 2
		put("A", r3.Vec{X: between, Z: math.Min(anchor.Z, centre.Z) - 2})
		put("B", r3.Vec{X: centre.X - 5.8, Z: (anchor.Z + centre.Z) / 2})
		put("C", r3.Add(centre, r3.Vec{X: -2.6, Z: -2.6}))
		put("D", r3.Add(centre, r3.Vec{Z: 5.5}))
		put("E", r3.Add(centre, r3.Vec{X: 2.6, Z: -2.6}))
		put("F", r3.Add(centre, r3.Vec{Z: 2.4}))
		put("G", r3.Add(anchor, r3.Vec{Z: 2.2}))
		put("H", r3.Add(anchor, r3.Vec{Z: -2.2}))
		put("I", r3.Vec{X: anchor.X - 3.2, Z: fold - 1.6})
		put("J", r3.Vec{X: mesialX - mesial*1.4, Z: fold - 1.5})
		put("K", r3.Vec{X: distalX + mesial*1.4, Z: fold - 1.5})
	}
	d.Box = boxOf(d, 1)
	for _, n := range d.Teeth {
		d.cover([][2]float64{n.At})
	}
	return d
}

// boxOf is what a drawing covers, with a rim.
func boxOf(d drawing, rimMM float64) [4]float64 {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, s := range d.Shapes {
		for _, p := range s.Points {
			for k := range 2 {
				low[k], high[k] = math.Min(low[k], p[k]), math.Max(high[k], p[k])
			}
		}
	}
	return [4]float64{low[0] - rimMM, low[1] - rimMM, high[0] - low[0] + 2*rimMM, high[1] - low[1] + 2*rimMM}
}
