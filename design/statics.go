package design

import (
	"math"

	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Imbalance is an equation of statics that no loads within the windows of a target fulfil. The
// wire rests on two teeth alone, so the forces on them are equal and opposite, and their
// couples and force times distance sum to nothing:
//
//	F_active + F_anchor = 0
//	C_active + C_anchor + arm × F_active = 0
//
// with arm from the point about which the anchor's couple is taken to that of the active one.
type Imbalance struct {
	// Component is the axis: of the forces, or of the couples. With Joint it has no meaning.
	Component tooth.Component
	// Joint tells that each equation could be fulfilled alone, but not all three of the couples
	// by one force.
	Joint bool
	// Hook tells that a hooked wire would have to put a couple on the active tooth.
	Hook           bool
	TravelLeftMM   float64
	Active, Anchor target.Window // what the target lets the component be on either tooth, N or N·mm
	// Arm is what force times distance can be, N·mm; of couples alone.
	Arm target.Window
	// Usual tells that one of the windows is a usual limit that nobody asked for.
	Usual bool
}

// Sum is what the left side of the equation can be.
func (i Imbalance) Sum() target.Window {
	return target.Window{Min: i.Active.Min + i.Anchor.Min + i.Arm.Min, Max: i.Active.Max + i.Anchor.Max + i.Arm.Max}
}

// Imbalances lists the equations of statics that the target forbids, those at the first
// position of the travel where there are any. Couples of a hooked wire are none.
func (c Case) Imbalances() []Imbalance {
	spring := c.SpringFor(spring.Path{})
	for i := range c.Positions {
		if found := c.imbalancesAt(spring, i); len(found) > 0 {
			return found
		}
	}
	return nil
}

func (c Case) imbalancesAt(spring spring.Spring, position int) []Imbalance {
	seat := spring.SeatAt(position)
	leftMM := r3.Norm(r3.Sub(spring.End.AtMM, seat.AtMM))
	window := func(q target.Quantity) target.Window {
		w := c.Target.WindowAt(q, leftMM, false)
		if position == 0 {
			start := c.Target.WindowAt(q, leftMM, true)
			w = target.Window{Min: max(w.Min, start.Min), Max: min(w.Max, start.Max), Usual: w.Usual && start.Free()}
		}
		return w
	}
	offset := c.JudgedOffset(seat)
	slot := r3.Add(spring.Centre(seat.Pose(spring.Heading)), r3.Vec{X: spring.AnchorSlotLengthMM / 2})
	arm := r3.Add(slot, offset)
	if c.Target.AtResistance {
		arm = r3.Sub(arm, c.AnchorOffset())
	}

	var found []Imbalance
	var force [3]target.Window
	for k := tooth.ForceX; k <= tooth.ForceZ; k++ {
		active, anchor := window(target.OfActive(k)), window(target.OfAnchor(k))
		force[k] = target.Window{Min: max(active.Min, -anchor.Max), Max: min(active.Max, -anchor.Min)}
		if force[k].Min > force[k].Max {
			found = append(found, Imbalance{Component: k, TravelLeftMM: leftMM, Active: active, Anchor: anchor, Usual: active.Usual || anchor.Usual})
		}
	}
	if len(found) > 0 {
		return found
	}
	joint := feasibility{force: force}
	for k := tooth.CoupleX; k <= tooth.CoupleZ; k++ {
		active, anchor := window(target.OfActive(k)), window(target.OfAnchor(k))
		if c.ActiveSlot.Hook {
			// About the slot there is no couple; about another point there is that of the force.
			own := crossRow(r3.Scale(-1, offset), k)
			if of := rangeOf(own, force); of.Min > active.Max || of.Max < active.Min {
				found = append(found, Imbalance{Component: k, Hook: true, TravelLeftMM: leftMM, Active: active, Arm: of, Usual: active.Usual})
				continue
			}
			joint.add(own, active.Min, active.Max)
			joint.add(crossRow(r3.Sub(arm, offset), k), -anchor.Max, -anchor.Min)
			active = rangeOf(own, force)
		}
		row := crossRow(arm, k)
		i := Imbalance{Component: k, TravelLeftMM: leftMM, Active: active, Anchor: anchor, Arm: rangeOf(row, force), Usual: active.Usual || anchor.Usual}
		if sum := i.Sum(); sum.Min > balanceNMM || sum.Max < -balanceNMM {
			found = append(found, i)
		}
		joint.add(row, -active.Max-anchor.Max, -active.Min-anchor.Min)
	}
	if len(found) == 0 && !joint.possible() {
		found = append(found, Imbalance{Joint: true, TravelLeftMM: leftMM})
	}
	return found
}

// balanceNMM is what rounding may leave of a sum that should be 0.
const balanceNMM = 1e-9

// crossRow is the row of arm × F for the couple k.
func crossRow(arm r3.Vec, k tooth.Component) [3]float64 {
	switch k {
	case tooth.CoupleX:
		return [3]float64{0, -arm.Z, arm.Y}
	case tooth.CoupleY:
		return [3]float64{arm.Z, 0, -arm.X}
	default:
		return [3]float64{-arm.Y, arm.X, 0}
	}
}

// rangeOf is what row · F can be for forces within their windows.
func rangeOf(row [3]float64, force [3]target.Window) target.Window {
	var w target.Window
	for i, factor := range row {
		switch {
		case factor > 0:
			w.Min, w.Max = w.Min+factor*force[i].Min, w.Max+factor*force[i].Max
		case factor < 0:
			w.Min, w.Max = w.Min+factor*force[i].Max, w.Max+factor*force[i].Min
		}
	}
	return w
}

// feasibility asks whether a force within its windows keeps some linear functions of it
// within theirs.
type feasibility struct {
	force [3]target.Window
	rows  [][3]float64
	spans []target.Window
}

func (f *feasibility) add(row [3]float64, least, most float64) {
	f.rows, f.spans = append(f.rows, row), append(f.spans, target.Window{Min: least, Max: most})
}

// boundN stands for a window without an end: no wire of this trade pushes so hard.
const boundN = 1e3

// possible looks at all corners: where a bounded set of inequalities has a solution, it has
// one in which as many as there are unknowns hold with equality.
func (f *feasibility) possible() bool {
	type plane struct {
		row [3]float64
		at  float64
	}
	var planes []plane
	put := func(row [3]float64, w target.Window) {
		for _, at := range [...]float64{w.Min, w.Max} {
			if !math.IsInf(at, 0) {
				planes = append(planes, plane{row, at})
			}
		}
	}
	for i, w := range f.force {
		var row [3]float64
		row[i] = 1
		put(row, target.Window{Min: max(w.Min, -boundN), Max: min(w.Max, boundN)})
	}
	for i, row := range f.rows {
		put(row, f.spans[i])
	}
	inside := func(force []float64) bool {
		const hair = 1e-9 // rounding
		holds := func(value float64, w target.Window) bool {
			return value >= w.Min-hair*(1+math.Abs(w.Min)) && value <= w.Max+hair*(1+math.Abs(w.Max))
		}
		for i, w := range f.force {
			if !holds(force[i], w) {
				return false
			}
		}
		for i, row := range f.rows {
			if !holds(row[0]*force[0]+row[1]*force[1]+row[2]*force[2], f.spans[i]) {
				return false
			}
		}
		return true
	}
	for i := range planes {
		for j := range i {
			for k := range j {
				a := mat.NewDense(3, 3, append(append(planes[i].row[:], planes[j].row[:]...), planes[k].row[:]...))
				var at mat.VecDense
				if at.SolveVec(a, mat.NewVecDense(3, []float64{planes[i].at, planes[j].at, planes[k].at})) != nil {
					continue // parallel
				}
				if inside(at.RawVector().Data) {
					return true
				}
			}
		}
	}
	return false
}
