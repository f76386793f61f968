package fibre

import (
	"math"

	"springwright/design/beam"
)

const (
	// bentIterations suffices many times over: Newton's method on a convex line of as many
	// straight parts as there are rows of fibres.
	bentIterations = 200
	bentTolerance  = 1e-12 // of the curvature that remains, far below what loads see
	// letGoTolerance is the largest load of a wire let go, as a share of its scale: what is
	// left of sums over the fibres.
	letGoTolerance = 1e-11
)

// Bent returns the section of a wire that was bent or twisted from straight by law and let
// go, such that kept, a curvature or twist rate about one axis of the section, remains of it.
// Its fibres hold what stress that leaves. They have no other history: law need not be that
// of the section. heldRadPerMM is what the wire was bent to. ok is false where kept is not
// about one axis, and where the wire would yield back while it is let go, which a law that
// does not harden never does.
//
// In one piece: one derivation.
func (s *Section) Bent(law Law, kept beam.Stretch) (bent *Section, heldRadPerMM float64, ok bool) {
	axis := 0
	for i, x := range kept {
		switch {
		case x == 0:
		case axis != 0 || i == 0 || math.IsNaN(x) || math.IsInf(x, 0):
			return nil, 0, false
		default:
			axis = i
		}
	}
	if axis == 0 {
		return s, 0, true
	}
	straight := &Section{Fibres: s.Fibres, Law: law}
	p := straight.NewPoint().(*point)
	compliance := p.compliance[axis][axis]
	// Held at x, the wire springs back by compliance·M(x). x less that grows with x ever
	// faster, as M levels off: from beyond the place sought Newton's method comes down to it.
	missing := func(x float64) (excess, slope float64) {
		var e beam.Stretch
		e[axis] = x
		carried, stiffness := p.load(e)
		return x - compliance*carried[axis] - kept[axis], 1 - compliance*stiffness[axis][axis]
	}
	held := kept[axis]
	sense := math.Copysign(1, held)
	for range bentIterations {
		if excess, _ := missing(held); sense*excess >= 0 {
			break
		}
		held *= 2
	}
	for range bentIterations {
		excess, slope := missing(held)
		step := excess / slope
		if !(math.Abs(step) > bentTolerance*math.Abs(held)) || math.IsInf(step, 0) {
			break
		}
		held -= step
	}
	if excess, _ := missing(held); !(math.Abs(excess) <= 10*bentTolerance*math.Abs(held)) {
		return nil, 0, false
	}
	copy(p.kept, p.trial)
	p.fresh = false
	// The rest of excess goes with what remains, so that the fibres are in balance to the digit.
	_, t, _ := law.Stress(Strain{}, State{})
	carried, _ := p.load(kept)
	if p.misfit(&beam.Stretch{}, &carried) > letGoTolerance {
		return nil, 0, false
	}
	bent = &Section{Fibres: make([]Fibre, len(s.Fibres)), Law: s.Law, locked: true}
	for i, f := range s.Fibres {
		stress, _, after := law.Stress(f.strain(&kept), p.kept[i])
		if after != p.kept[i] {
			return nil, 0, false
		}
		f.Locked = Strain{Normal: stress.Normal / t.NN, Shear2: stress.Shear2 / t.SS22, Shear3: stress.Shear3 / t.SS33}
		bent.Fibres[i] = f
	}
	return bent, held, true
}
