package optimize

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// rows fills residuals and, where there is one, their Jacobian, row after row.
type rows struct {
	r          []float64
	jacobian   *mat.Dense
	parameters int
	next       int
	// kinds, unless nil, wants the rows of limits even where they do not weigh, and is told
	// what each row is.
	kinds []rowKind
}

// rowKind tells what a residual is of.
type rowKind struct {
	limit bool // weighs only above 0
	// A limit is missed above the edge, by scale times the excess; an aim is missed by scale
	// times the residual, either way. Preferences have no scale and are never missed.
	edge, scale float64
	// Of a load, the term it is of; the load is loadAt0 at a residual of 0 and changes by
	// loadPer with it. Others have no loadPer.
	term             int
	loadAt0, loadPer float64
}

// missed is how badly a residual misses what it is of: above 1 it does.
func (k rowKind) missed(residual float64) float64 {
	switch {
	case !k.limit:
		return k.scale * math.Abs(residual)
	case residual > k.edge:
		return 1 + k.scale*(residual-k.edge)
	}
	return 0
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

// putLimit puts the row of what weighs only above 0, and tells whether its slopes are
// wanted.
func (w *rows) putLimit(residual, edge, scale float64) bool {
	if w.kinds != nil {
		w.kinds[w.next] = rowKind{limit: true, edge: edge, scale: scale}
		w.put(residual)
		return true
	}
	w.put(max(0, residual))
	return residual > 0
}

// putAim puts the row of an aimed load of so much weight.
func (w *rows) putAim(residual, weight float64) {
	if w.kinds != nil {
		w.kinds[w.next] = rowKind{scale: 1 / weight}
	}
	w.put(residual)
}

// skipTo leaves rows empty up to another one.
func (w *rows) skipTo(row int) {
	clear(w.r[w.next:row])
	w.next = row
}

func (w *rows) add(row, j int, slope float64) { w.jacobian.Set(row, j, w.jacobian.At(row, j)+slope) }

// setLast sets a derivative of the row put last.
func (w *rows) setLast(j int, slope float64) {
	if w.jacobian != nil {
		w.jacobian.Set(w.next-1, j, slope)
	}
}

func (o *objective) loadResiduals(w *rows, position int) {
	seat := o.holds[position].Pose
	active := o.spring.ActiveLoad(o.solver.EndLoad(), o.solver.End().At, seat)
	if position == 0 {
		o.first = active
		for j := range w.slopes() {
			o.firstSlopes[j] = activeSlope(o.spring, o.solver, o.slopes[j], seat)
		}
	}
	judged := o.judge.at(position, active, o.spring.AnchorLoad(o.solver.BaseLoad()), o.first)
	for t, term := range o.loads {
		if term.position != position {
			continue
		}
		value := o.c.Target.Value(term.quantity, judged)
		residual, slope := term.residual(value)
		o.worst = max(o.worst, term.misses(value))
		if term.window.Aimed {
			w.putAim(residual, term.weight)
		} else if margin := term.margin() / term.slack; !w.putLimit(residual, term.weight*margin, 1/term.weight) {
			continue
		}
		if w.kinds != nil {
			kind := &w.kinds[w.next-1]
			kind.term, kind.loadAt0, kind.loadPer = t, value-residual/slope, 1/slope
		}
		for j := range w.slopes() {
			change := o.judge.at(position, activeSlope(o.spring, o.solver, o.slopes[j], seat), o.spring.AnchorLoad(o.slopes[j].Base), o.firstSlopes[j])
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
	if worst > allowed {
		o.worst = max(o.worst, 1+(worst-allowed)/stressSlack)
	}
	if !w.putLimit((worst-wanted)/stressSlack, (allowed-wanted)/stressSlack, 1) {
		return
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
