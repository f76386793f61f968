package desk

import (
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/export/words"

	"gonum.org/v1/gonum/spatial/r3"
)

// Loads below these are drawn as none: no gauge shows them.
const leastShownN, leastShownNMM = 0.02, 0.2

// charts are the loads on both teeth over the travel: those that the target asks for and those
// worth naming, each above 0 in the sense that its name says.
func charts(b *words.Book, c design.Case, e solve.Evaluation) []chart {
	var list []chart
	record := e.Record
	for _, anchor := range [...]bool{false, true} {
		member, windows := c.Teeth.ActiveMember(), c.Target.Travel
		if anchor {
			member, windows = c.Teeth.AnchorMember(), c.Target.Anchor
		}
		for _, k := range [...]tooth.Component{tooth.ForceZ, tooth.ForceX, tooth.ForceY, tooth.CoupleY, tooth.CoupleX, tooth.CoupleZ} {
			q, least := target.OfActive(k), leastShownN
			if anchor {
				q = target.OfAnchor(k)
			}
			if k.Couple() {
				least = leastShownNMM
			}
			w := windows.ForceN[k%tooth.CoupleX]
			if k.Couple() {
				w = windows.CoupleNMM[k%tooth.CoupleX]
			}
			values, largest := make([]float64, len(record.Positions)), 0.0
			for i, p := range record.Positions {
				load := p.Active
				if anchor {
					load = p.Anchor
				}
				if values[i] = load.Component(k); math.Abs(values[i]) > math.Abs(largest) {
					largest = values[i]
				}
			}
			if !w.Asked() && math.Abs(largest) < least {
				continue
			}
			sign := math.Copysign(1, largest)
			one := chart{Key: chartKey(anchor, k), Sign: sign, Label: b.LoadName(member, k, sign), Unit: q.Unit()}
			if anchor {
				one.Label = b.Say("%s on anchor tooth %d", one.Label, int(c.Teeth.Anchor))
			}
			one.Text = b.Say("%s, over the travel", one.Label)
			for i, p := range record.Positions {
				one.Travel = append(one.Travel, rounded(p.TravelLeftMM, 3))
				one.Values = append(one.Values, rounded(sign*values[i], 4))
			}
			if !w.Free() && !c.Target.AtResistance {
				low, high := sign*w.Min, sign*w.Max
				one.Band = &[2]*float64{finite(min(low, high)), finite(max(low, high))}
			}
			list = append(list, one)
		}
	}
	return list
}

// chartKey names a load of a chart.
func chartKey(anchor bool, k tooth.Component) string {
	if anchor {
		return fmt.Sprintf("anchor.%d", int(k))
	}
	return fmt.Sprintf("active.%d", int(k))
}

// finite is a number, or nil for an infinite one: JSON has none.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// arrows are the loads on both teeth as they are seen from the cheek.
func arrows(b *words.Book, c design.Case, p spring.Position, at design.Placement, see seen) []arrow {
	anchor := r3.Vec{X: -c.AnchorSlot.LengthMM / 2}
	list := loadArrows(b, p.Active, r3.Add(anchor, at.CentreMM), see)
	return append(list, loadArrows(b, p.Anchor, anchor, see)...)
}

const (
	mmPerNewton  = 10.0 // of an arrow
	mostArrowMM  = 9.0
	arcRadiusMM  = 3.4
	radPerNMM    = 0.35 // of an arc
	mostArcRad   = 5.0
	arrowHeadMM  = 0.9
	arcPieces    = 24
	leastArrowMM = 1.2
)

func loadArrows(b *words.Book, l tooth.Load, centre r3.Vec, see seen) []arrow {
	var list []arrow
	from := see.point(centre)
	f := see.point(l.ForceN)
	if size := math.Hypot(f[0], f[1]); size >= leastShownN {
		long := min(mostArrowMM, max(leastArrowMM, size*mmPerNewton))
		unit := [2]float64{f[0] / size, f[1] / size}
		tip := [2]float64{from[0] + unit[0]*long, from[1] + unit[1]*long}
		list = append(list, arrow{Points: [][2]float64{from, tip}, Head: head(tip, unit), Text: b.Number(size, 2) + " N", At: beyond(tip, unit)})
	}
	if m := l.CoupleNMM.Y; math.Abs(m) >= leastShownNMM {
		// A couple about +y turns z towards x; the page sees x and z with their signs.
		left := -math.Copysign(1, m) * see.view.XSign * see.view.ZSign
		sweep := left * min(mostArcRad, math.Abs(m)*radPerNMM)
		var arc [][2]float64
		for i := range arcPieces + 1 {
			angle := math.Pi/2 + sweep*float64(i)/arcPieces
			arc = append(arc, [2]float64{from[0] + arcRadiusMM*math.Cos(angle), from[1] + arcRadiusMM*math.Sin(angle)})
		}
		end := math.Pi/2 + sweep
		way := [2]float64{-math.Sin(end) * left, math.Cos(end) * left}
		list = append(list, arrow{
			Points: arc, Head: head(arc[arcPieces], way),
			Text: b.Number(math.Abs(m), 1) + " N·mm", At: beyond(arc[arcPieces], way),
		})
	}
	return list
}

// beyond is where the text of an arrow stands.
func beyond(tip, along [2]float64) [2]float64 {
	const textMM = 1.3
	return [2]float64{rounded(tip[0]+along[0]*textMM, 2), rounded(tip[1]+along[1]*textMM, 2)}
}

// head is an arrow's head behind its tip.
func head(tip, along [2]float64) [][2]float64 {
	back := [2]float64{tip[0] - along[0]*arrowHeadMM, tip[1] - along[1]*arrowHeadMM}
	side := [2]float64{-along[1] * arrowHeadMM * 0.45, along[0] * arrowHeadMM * 0.45}
	tip = [2]float64{tip[0] + along[0]*0.2, tip[1] + along[1]*0.2}
	return [][2]float64{tip, {back[0] + side[0], back[1] + side[1]}, {back[0] - side[0], back[1] - side[1]}}
}
