package optimize

import (
	"springwright/design"
	"springwright/optimize/hand"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// A load outside its window costs as much at this share of the window's width as an
	// aimed load at the edge of its tolerance, and loads are kept this much of that inside their
	// windows, to leave room for rounding (choices).
	windowSlack, windowMargin = 0.02, 0.5

	// Stress weighs from this share of the largest that is allowed on, as much as an aimed load at
	// the edge of its tolerance for every step of so much (choices: a margin for bends that are
	// sharper than drawn).
	stressWanted, stressSlack = 0.8, 0.05
)

// loadTerm is a window of the target, and what its row is measured by.
type loadTerm struct {
	hand.Term
	slack  float64 // of the load, N or N·mm
	weight float64 // of its row
}

func loadTerms(c design.Case) []loadTerm {
	var terms []loadTerm
	for _, t := range hand.Terms(c) {
		terms = append(terms, newLoadTerm(t))
	}
	return terms
}

func newLoadTerm(t hand.Term) loadTerm {
	slack := windowSlack * t.Width()
	if t.Window.Aimed {
		slack = t.Width() / 2
	}
	weight := t.Window.Weight
	if weight <= 0 {
		weight = 1
	}
	return loadTerm{t, max(slack, hand.LeastSlack), weight}
}

// row is the term's row for a load and its slope by the load.
func (t loadTerm) row(load float64) (k kind, value, slope float64) {
	slope = t.weight / t.slack
	if t.Window.Aimed {
		return kind{part: aims, scale: 1 / t.weight}, slope * (load - (t.Window.Min+t.Window.Max)/2), slope
	}
	margin := t.margin()
	k = kind{part: limits, edge: t.weight * (margin / t.slack), scale: 1 / t.weight}
	low, high := t.Window.Min+margin-load, load-t.Window.Max+margin
	if low > high {
		return k, slope * low, -slope
	}
	return k, slope * high, slope
}

// margin is how far inside its window a load is kept.
func (t loadTerm) margin() float64 {
	return min(windowMargin*t.slack, (t.Window.Max-t.Window.Min)/4)
}

// putLoads puts the rows of the target at a position.
func (o *objective) putLoads(r *rows, position int) {
	active, anchor := o.path.Loads()
	if position == 0 {
		o.first = active
		if r.slopes != nil {
			for j := range o.firstSlopes {
				o.firstSlopes[j], _ = o.path.LoadSlopes(&o.slopes[j])
			}
		}
	}
	judged := o.judge.At(position, active, anchor, o.first)
	for _, term := range o.loads {
		if term.Position != position {
			continue
		}
		load := o.c.Target.Value(term.Quantity, judged)
		k, value, slope := term.row(load)
		r.loads = append(r.loads, loadRow{r.next, load - value/slope, 1 / slope})
		if !r.put(k, value) {
			continue
		}
		r.setSlopes(func(j int) float64 {
			active, anchor := o.path.LoadSlopes(&o.slopes[j])
			change := o.judge.At(position, active, anchor, o.firstSlopes[j])
			return slope * o.c.Target.Slope(term.Quantity, judged, change)
		})
	}
}

// putStress puts the row of the largest stress at a position.
func (o *objective) putStress(r *rows) {
	worst, node := 0.0, 0
	for i, n := range o.nodes {
		if ratio := o.strength.Ratio(n.MomentNMM); ratio > worst {
			worst, node = ratio, i
		}
	}
	allowed := o.c.Limits.StressRatio()
	wanted := stressWanted * allowed
	if !r.put(kind{part: limits, edge: (allowed - wanted) / stressSlack, scale: 1}, (worst-wanted)/stressSlack) {
		return
	}
	const probeNMM = 1e-4 // a ten-thousandth of what a wire bears: far above rounding, far below a change of the slope
	moment := o.nodes[node].MomentNMM
	gradient := r3.Vec{
		X: (o.strength.Ratio(r3.Add(moment, r3.Vec{X: probeNMM})) - worst) / probeNMM,
		Y: (o.strength.Ratio(r3.Add(moment, r3.Vec{Y: probeNMM})) - worst) / probeNMM,
		Z: (o.strength.Ratio(r3.Add(moment, r3.Vec{Z: probeNMM})) - worst) / probeNMM,
	}
	r.setSlopes(func(j int) float64 {
		return r3.Dot(gradient, o.nodeSlope(node, j).MomentNMM) / stressSlack
	})
}
