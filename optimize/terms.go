package optimize

import (
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

func (o *objective) stressResidual(w *rows) {
	worst, node := 0.0, 0
	for i, n := range o.nodes {
		if ratio := o.strength.Ratio(n.MomentNMM); ratio > worst {
			worst, node = ratio, i
		}
	}
	allowed := o.c.Limits.StressRatio()
	wanted := stressWanted * allowed
	if worst <= wanted {
		w.put(0)
		return
	}
	w.put((worst - wanted) / stressSlack)
	if worst > allowed {
		o.worst = max(o.worst, 1+(worst-allowed)/stressSlack)
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
