package optimize

import (
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/optimize/hand"
	"springwright/optimize/lsq"
)

// benderView puts the linear model of the case's bender together while an objective looks at the
// rows of the same design, so that it need not be solved twice.
type benderView struct {
	propagation *hand.Propagation
	more        []beam.Parameter // of steps that are no freedoms
	slopeOf     []int            // of each step of the path, the slope that is its own
}

// viewOf is that of a design of the pattern.
func viewOf(p *problem, x []float64) *benderView {
	steps := p.pattern.StepsFor(x)
	path, from := spring.Tidied(steps)
	h := hand.New(p.c, p.c.SeatedSpring(path))
	v := &benderView{propagation: h.NewPropagation()}
	all := spring.Pattern{Steps: p.pattern.Steps}
	for i, step := range path.Steps() {
		at := -1
		angle := step.Kind != spring.Straight
		for j, f := range p.pattern.Freedoms {
			if f.Step == from[i] && f.Angle == angle && !f.Radius {
				at = j
			}
		}
		if at < 0 {
			at = len(p.pattern.Freedoms) + len(all.Freedoms)
			all.Freedoms = append(all.Freedoms, spring.Freedom{Step: from[i], Angle: angle})
		}
		v.slopeOf = append(v.slopeOf, at)
	}
	v.more = all.Parameters(steps)
	return v
}

// parameters are those that the model needs beside the pattern's freedoms.
func (v *benderView) parameters() []beam.Parameter {
	if v == nil {
		return nil
	}
	return v.more
}

// at takes up a position at which an objective has solved the spring.
func (v *benderView) at(position int, o *objective) bool {
	return v == nil || v.propagation.At(position, o.path, func(step int) *beam.Slope { return &o.slopes[v.slopeOf[step]] })
}

// lookInHand is look with the linear model of the case's bender, which is empty for a perfect one.
func (o *objective) lookInHand(p *problem, x []float64, r *rows) (l hand.Linear, ok bool) {
	if p.sample == nil {
		return l, o.look(x, onGrid(), lsq.ToTheEnd, r)
	}
	o.bender = viewOf(p, x)
	defer func() { o.bender = nil }()
	if !o.look(x, onGrid(), lsq.ToTheEnd, r) {
		return l, false
	}
	return o.bender.propagation.Linear(), true
}
