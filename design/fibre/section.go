package fibre

import (
	"math"

	"springwright/design/beam"
)

// Strain is what a fibre feels: extension and the two shears of torsion.
type Strain struct{ Normal, Shear2, Shear3 float64 }

// Stress is what it answers, MPa.
type Stress struct{ Normal, Shear2, Shear3 float64 }

// Law is a material that remembers. A State is its history at one fibre.
type Law interface {
	// Stress returns the stress, the tangent moduli of extension and of shear in MPa and
	// the new state for a strain reached from a state. The moduli may leave out the
	// coupling of extension and shear: they steer Newton's steps, not the answer.
	Stress(strain Strain, from State) (stress Stress, normalMPa, shearMPa float64, to State)
}

// State is the history of one fibre; each Law gives its numbers a meaning.
type State [4]float64

// Fibre is a small part of a cross-section.
type Fibre struct {
	Y, Z   float64 // mm, along the width (d2) and along the thickness (d3)
	AreaMM float64 // mm²
	// Warp2 and Warp3 are the shears by a unit twist rate, elastic torsion's: mm.
	Warp2, Warp3 float64
}

// Section is a cross-section cut into fibres of one material.
type Section struct {
	Fibres []Fibre
	Law    Law
}

// NewPoint returns a point of the section with no history.
func (s *Section) NewPoint() beam.Point {
	return &point{section: s, kept: make([]State, len(s.Fibres)), trial: make([]State, len(s.Fibres))}
}

// point is a cross-section at a fixed place of the wire.
type point struct {
	section     *Section
	kept, trial []State
	stretch     beam.Stretch // last response
	keptStretch beam.Stretch
}

const (
	pointIterations = 60
	// pointTolerance is the largest error of the section's load, as a share of its own
	// elastic stiffness times a strain of 1: far below what a Newton step of the rod sees.
	pointTolerance = 1e-12
)

// Respond implements beam.Point: Newton's method on the four strains, halved where a step
// would increase the error, since a law may be stiff on one side of a corner and soft on
// the other.
func (p *point) Respond(load beam.Stretch) (beam.Stretch, [4][4]float64, bool) {
	e := p.stretch
	carried, stiffness := p.load(e)
	scale := p.scale()
	miss := misfit(load, carried, scale)
	for range pointIterations {
		if miss <= pointTolerance {
			compliance, ok := invert(stiffness)
			p.stretch = e
			return e, compliance, ok
		}
		compliance, ok := invert(stiffness)
		if !ok {
			return p.stretch, compliance, false
		}
		var step beam.Stretch
		for i := range step {
			for j := range load {
				step[i] += compliance[i][j] * (load[j] - carried[j])
			}
		}
		share := 1.0
		for {
			trial := e
			for i := range trial {
				trial[i] += share * step[i]
			}
			trialCarried, trialStiffness := p.load(trial)
			if m := misfit(load, trialCarried, scale); m < miss || share < 1e-3 {
				e, carried, stiffness, miss = trial, trialCarried, trialStiffness, m
				break
			}
			share /= 2
		}
		if math.IsNaN(miss) {
			break
		}
	}
	compliance, _ := invert(stiffness)
	return p.stretch, compliance, false
}

// Keep implements beam.Point.
func (p *point) Keep() {
	p.load(p.stretch)
	copy(p.kept, p.trial)
	p.keptStretch = p.stretch
}

// load returns what the section carries at a stretch reached from the kept state, and its
// stiffness.
func (p *point) load(e beam.Stretch) (carried beam.Stretch, stiffness [4][4]float64) {
	for i := range p.section.Fibres {
		f := &p.section.Fibres[i]
		// A curvature κ2 about d2 stretches the fibres towards +d3, κ3 about d3 those
		// towards −d2: the section turns by κ × r.
		strain := Strain{
			Normal: e[0] + e[2]*f.Z - e[3]*f.Y,
			Shear2: e[1] * f.Warp2,
			Shear3: e[1] * f.Warp3,
		}
		stress, normal, shear, to := p.section.Law.Stress(strain, p.kept[i])
		p.trial[i] = to
		da := f.AreaMM
		carried[0] += stress.Normal * da
		carried[1] += (stress.Shear2*f.Warp2 + stress.Shear3*f.Warp3) * da
		carried[2] += stress.Normal * f.Z * da
		carried[3] -= stress.Normal * f.Y * da
		n := normal * da
		stiffness[0][0] += n
		stiffness[0][2] += n * f.Z
		stiffness[0][3] -= n * f.Y
		stiffness[2][2] += n * f.Z * f.Z
		stiffness[2][3] -= n * f.Z * f.Y
		stiffness[3][3] += n * f.Y * f.Y
		stiffness[1][1] += shear * (f.Warp2*f.Warp2 + f.Warp3*f.Warp3) * da
	}
	stiffness[2][0], stiffness[3][0], stiffness[3][2] = stiffness[0][2], stiffness[0][3], stiffness[2][3]
	return carried, stiffness
}

// scale returns the elastic load at a strain of about 1 at the rim, to make errors pure
// numbers.
func (p *point) scale() (scale beam.Stretch) {
	var rimY, rimZ, area, twist float64
	for i := range p.section.Fibres {
		f := &p.section.Fibres[i]
		rimY, rimZ = max(rimY, math.Abs(f.Y)), max(rimZ, math.Abs(f.Z))
		area += f.AreaMM
		twist += math.Hypot(f.Warp2, f.Warp3) * f.AreaMM
	}
	_, normal, shear, _ := p.section.Law.Stress(Strain{}, State{})
	return beam.Stretch{normal * area, shear * twist, normal * area * rimZ, normal * area * rimY}
}

func misfit(want, have, scale beam.Stretch) float64 {
	var worst float64
	for i := range want {
		m := math.Abs(want[i]-have[i]) / scale[i]
		if !(m <= worst) {
			worst = m
		}
		if math.IsNaN(m) {
			return m
		}
	}
	return worst
}

// invert returns the inverse of a section stiffness; twist stands alone in it.
func invert(k [4][4]float64) (c [4][4]float64, ok bool) {
	if !(k[1][1] > 0) {
		return c, false
	}
	c[1][1] = 1 / k[1][1]
	// Cofactors of the symmetric rest: extension and the two curvatures.
	a, b, d := k[0][0], k[0][2], k[0][3]
	e, f, g := k[2][2], k[2][3], k[3][3]
	aa, ab, ad := e*g-f*f, d*f-b*g, b*f-d*e
	det := a*aa + b*ab + d*ad
	if !(det > 0) {
		return c, false
	}
	c[0][0], c[0][2], c[0][3] = aa/det, ab/det, ad/det
	c[2][2], c[2][3], c[3][3] = (a*g-d*d)/det, (b*d-a*f)/det, (a*e-b*b)/det
	c[2][0], c[3][0], c[3][2] = c[0][2], c[0][3], c[2][3]
	return c, true
}
