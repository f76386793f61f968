package optimize

import (
	"math"

	"springwright/design/beam"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// rows fills residuals and, where there is one, their Jacobian, row after row.
type rows struct {
	r          []float64
	jacobian   *mat.Dense
	parameters int
	next       int
}

// slopes is how many derivatives a row has: none without a Jacobian.
func (w *rows) slopes() int {
	if w.jacobian == nil {
		return 0
	}
	return w.parameters
}

func (w *rows) put(residual float64) {
	w.r[w.next] = residual
	w.next++
}

func (w *rows) add(row, j int, slope float64) { w.jacobian.Set(row, j, w.jacobian.At(row, j)+slope) }

// setLast sets a derivative of the row put last.
func (w *rows) setLast(j int, slope float64) {
	if w.jacobian != nil {
		w.jacobian.Set(w.next-1, j, slope)
	}
}

func (o *objective) loadResiduals(w *rows, position int) {
	end := o.solver.End()
	active := o.spring.ActiveLoad(o.solver.EndLoad(), end)
	if position == 0 {
		o.first = active
		for j := range w.slopes() {
			o.firstSlopes[j] = o.spring.ActiveLoad(o.slopes[j].End, end)
		}
	}
	judged := o.judge.at(position, active, o.spring.AnchorLoad(o.solver.BaseLoad()), o.first)
	for _, term := range o.loads {
		if term.position != position {
			continue
		}
		value := o.c.Target.Value(term.quantity, judged)
		residual, slope := term.residual(value)
		o.worst = max(o.worst, term.misses(value))
		w.put(residual)
		if slope == 0 {
			continue
		}
		for j := range w.slopes() {
			change := o.judge.at(position, o.spring.ActiveLoad(o.slopes[j].End, end), o.spring.AnchorLoad(o.slopes[j].Base), o.firstSlopes[j])
			w.setLast(j, slope*o.c.Target.Slope(term.quantity, judged, change))
		}
	}
}

func (o *objective) reachResiduals(w *rows, position int) {
	for _, term := range o.reaches {
		if term.position != position {
			continue
		}
		reachMM, far, near := term.reach(o.nodes)
		if !o.excess(w, reachMM-term.limitMM) {
			continue
		}
		for j := range w.slopes() {
			shift := o.solver.NodeSlope(far, j, &o.slopes[j]).ShiftMM
			if term.extent {
				shift = r3.Sub(shift, o.solver.NodeSlope(near, j, &o.slopes[j]).ShiftMM)
			}
			w.setLast(j, r3.Dot(term.axis, shift)/slackMM)
		}
	}
}

// excess puts one row for a length beyond its limit, and tells whether it weighs. It begins
// to weigh a little before the limit, so that the search comes to rest on the allowed side.
func (o *objective) excess(w *rows, excessMM float64) bool {
	if excessMM > exactMM {
		o.worst = max(o.worst, 1+excessMM/slackMM)
	}
	residual := max(0, (excessMM+marginMM)/slackMM)
	w.put(residual)
	return residual > 0
}

// crowded tells whether any limit on the unloaded wire weighs: if none does, nobody asks
// how its nodes move.
func (o *objective) crowded() bool {
	for _, term := range o.reaches {
		if reachMM, _, _ := term.reach(o.nodes); term.position < 0 && reachMM-term.limitMM > -marginMM {
			return true
		}
	}
	return o.gap.nearest(o.nodes).excessMM > -marginMM
}

// reach returns how far the steps of a term reach along its axis, or how far they extend
// along it, and the nodes that reach farthest and least far.
func (t reachTerm) reach(nodes []beam.Node) (reachMM float64, far, near int) {
	farMM, nearMM := math.Inf(-1), math.Inf(1)
	for i, n := range nodes {
		// The first step begins at the node that ends the step before it.
		begins := i+1 < len(nodes) && nodes[i+1].Piece == t.first
		if (n.Piece < t.first || n.Piece > t.last) && !begins {
			continue
		}
		d := r3.Dot(t.axis, n.Pose.At)
		if d > farMM {
			farMM, far = d, i
		}
		if d < nearMM {
			nearMM, near = d, i
		}
	}
	if t.extent {
		return farMM - nearMM, far, near
	}
	return farMM, far, near
}

func (o *objective) stressResidual(w *rows) {
	worst, node := 0.0, 0
	for i, n := range o.nodes {
		if ratio := o.strength.Ratio(n.MomentNMM); ratio > worst {
			worst, node = ratio, i
		}
	}
	if worst <= stressWanted {
		w.put(0)
		return
	}
	w.put((worst - stressWanted) / stressSlack)
	if worst > 1 {
		o.worst = max(o.worst, 1+(worst-1)/stressSlack)
	}
	const probeNMM = 1e-4
	moment := o.nodes[node].MomentNMM
	gradient := r3.Vec{
		X: (o.strength.Ratio(r3.Add(moment, r3.Vec{X: probeNMM})) - worst) / probeNMM,
		Y: (o.strength.Ratio(r3.Add(moment, r3.Vec{Y: probeNMM})) - worst) / probeNMM,
		Z: (o.strength.Ratio(r3.Add(moment, r3.Vec{Z: probeNMM})) - worst) / probeNMM,
	}
	for j := range w.slopes() {
		motion := o.solver.NodeSlope(node, j, &o.slopes[j])
		w.setLast(j, r3.Dot(gradient, motion.MomentNMM)/stressSlack)
	}
}
