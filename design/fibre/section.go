package fibre

import (
	"math"
	"slices"

	"springwright/design/beam"
)

// Strain is what a fibre feels: extension and the two shears of torsion.
type Strain struct{ Normal, Shear2, Shear3 float64 }

// size has the same strains without their signs.
func (s Strain) size() Strain {
	return Strain{Normal: math.Abs(s.Normal), Shear2: math.Abs(s.Shear2), Shear3: math.Abs(s.Shear3)}
}

// Stress is what it answers, MPa.
type Stress struct{ Normal, Shear2, Shear3 float64 }

// Tangent is the symmetric derivative of a Stress by the Strain, MPa: N stands for
// extension, S for the shears.
type Tangent struct{ NN, NS2, NS3, SS22, SS23, SS33 float64 }

// Law is a material that remembers. A State is its history at one fibre.
type Law interface {
	// Stress returns the stress, its tangent and the new state for a strain reached
	// straight from a state.
	Stress(strain Strain, from State) (Stress, Tangent, State)
	// Elastic tells whether a fibre without history stays elastic up to these strains, all
	// positive.
	Elastic(most Strain) bool
}

// State is the history of one fibre; each Law gives its numbers a meaning.
type State [4]float64

// Fibre is a small part of a cross-section.
type Fibre struct {
	Y, Z    float64 // mm, along the width (d2) and along the thickness (d3)
	AreaMM2 float64
	// Warp2 and Warp3 are the shears by a unit twist rate, elastic torsion's: mm.
	Warp2, Warp3 float64
	// Locked is the elastic strain that the fibre is under while the wire lies unloaded: what
	// bending left in it. See Section.Bent.
	Locked Strain
}

// strain is what the fibre feels when the section is stretched from its unloaded shape. A
// curvature κ2 about d2 stretches the fibres towards +d3, κ3 about d3 those towards −d2: the
// section turns by κ × r.
func (f *Fibre) strain(e *beam.Stretch) Strain {
	return Strain{
		Normal: f.Locked.Normal + e[0] + e[2]*f.Z - e[3]*f.Y,
		Shear2: f.Locked.Shear2 + e[1]*f.Warp2,
		Shear3: f.Locked.Shear3 + e[1]*f.Warp3,
	}
}

// Section is a cross-section cut into fibres of one material. They are summed up in fours;
// where each four are the images of one another, a wire and its mirror image answer alike to
// the last digit.
type Section struct {
	Fibres []Fibre
	Law    Law
	locked bool // the fibres are under stress while nothing loads the section
}

// NewPoint returns a point of the section with no history.
func (s *Section) NewPoint() beam.Point {
	p := &point{section: s, kept: make([]State, len(s.Fibres)), trial: make([]State, len(s.Fibres))}
	_, elastic := p.load(beam.Stretch{})
	p.compliance, p.virgin = invert(&elastic)
	for _, f := range s.Fibres {
		p.rimY, p.rimZ = max(p.rimY, math.Abs(f.Y)), max(p.rimZ, math.Abs(f.Z))
		p.warp2, p.warp3 = max(p.warp2, math.Abs(f.Warp2)), max(p.warp3, math.Abs(f.Warp3))
	}
	// A twist of the rim's angle shears the rim by about the same.
	rim := math.Sqrt(elastic[2][2]/elastic[0][0]) + math.Sqrt(elastic[3][3]/elastic[0][0])
	for i := range p.scale {
		p.scale[i] = elastic[i][i]
		if i > 0 {
			p.scale[i] /= rim
		}
	}
	return p
}

// point is a cross-section at a fixed place of the wire.
type point struct {
	section     *Section
	scale       beam.Stretch // about the elastic load at a strain of 1: makes errors pure numbers
	kept, trial []State      // trial belongs to the load asked for last
	stretch     beam.Stretch // last response
	keptStretch beam.Stretch

	// Until it leaves the elastic range a section needs no fibres, only how far the
	// outermost lie; one that was bent needs to look at each.
	virgin                   bool
	lastElastic              bool
	compliance               [4][4]float64
	rimY, rimZ, warp2, warp3 float64

	// What load answered last, since the next response starts there.
	asked     beam.Stretch
	carried   beam.Stretch
	stiffness [4][4]float64
	fresh     bool
}

const (
	pointIterations = 60
	// pointTolerance is the largest error of the section's load, as a share of its scale:
	// far below what a Newton step of the rod sees.
	pointTolerance = 1e-13
	roundedOff     = 1e3 * pointTolerance // a step that does not help any more meets rounding
	lineIterations = 40
	flatSlope      = 0.1 // of the slope along a step at its start
)

// Respond implements beam.Point. Newton's method starts from the last response and, should
// that lead nowhere, from the one last kept.
func (p *point) Respond(load beam.Stretch) (beam.Stretch, [4][4]float64, bool) {
	if p.lastElastic = p.elastic(&load); p.lastElastic {
		return p.stretch, p.compliance, true
	}
	for _, start := range [...]beam.Stretch{p.stretch, p.keptStretch} {
		if e, stiffness, ok := p.solve(load, start); ok {
			compliance, ok := invert(&stiffness)
			p.stretch = e
			return e, compliance, ok
		}
	}
	return p.stretch, [4][4]float64{}, false
}

// elastic answers a load that a section without history carries elastically.
func (p *point) elastic(load *beam.Stretch) bool {
	if !p.virgin {
		return false
	}
	var e beam.Stretch
	for i := range e {
		for j := range load {
			e[i] += p.compliance[i][j] * load[j]
		}
	}
	if !p.staysElastic(&e) {
		return false
	}
	p.stretch = e
	return true
}

// staysElastic tells whether a section without other history than its bending is elastic up
// to a stretch.
func (p *point) staysElastic(e *beam.Stretch) bool {
	law := p.section.Law
	if p.section.locked {
		for i := range p.section.Fibres {
			if !law.Elastic(p.section.Fibres[i].strain(e).size()) {
				return false
			}
		}
		return true
	}
	var most beam.Stretch
	for i := range e {
		most[i] = math.Abs(e[i])
	}
	return law.Elastic(Strain{
		Normal: most[0] + most[2]*p.rimZ + most[3]*p.rimY, Shear2: most[1] * p.warp2, Shear3: most[1] * p.warp3,
	})
}

// solve is Newton's method on the four strains. Reached from one state, the stress of every
// fibre grows with its strain, so that the section has a convex energy, whose slope is the
// error of the load: each step leads down it, whichever of the two tangents that a fibre
// has at a corner was taken. Where a whole step makes the error larger, the step ends where
// the slope along it is as good as gone.
func (p *point) solve(load, e beam.Stretch) (_ beam.Stretch, stiffness [4][4]float64, ok bool) {
	carried, stiffness := p.load(e)
	miss := p.misfit(&load, &carried)
	for range pointIterations {
		if miss <= pointTolerance {
			return e, stiffness, true
		}
		compliance, regular := invert(&stiffness)
		if !regular {
			break
		}
		var step beam.Stretch
		for i := range step {
			for j := range load {
				step[i] += compliance[i][j] * (load[j] - carried[j])
			}
		}
		along := func(share float64) (at beam.Stretch, slope float64) {
			at = e
			for i := range at {
				at[i] += share * step[i]
			}
			carried, stiffness = p.load(at)
			for i := range step {
				slope += (carried[i] - load[i]) * step[i]
			}
			return at, slope
		}
		_, first := along(0)
		trial, slope := along(1)
		if m := p.misfit(&load, &carried); m >= miss {
			if miss <= roundedOff {
				_, stiffness = p.load(e)
				return e, stiffness, true
			}
			low, high, lowSlope, highSlope := 0.0, 1.0, first, slope
			for range lineIterations {
				if !(slope > 0) || slope <= flatSlope*-first {
					break
				}
				// Regula falsi, kept off the ends of the bracket.
				share := low + (high-low)*max(0.1, min(0.9, lowSlope/(lowSlope-highSlope)))
				if trial, slope = along(share); slope > 0 {
					high, highSlope = share, slope
				} else {
					low, lowSlope = share, slope
				}
			}
		}
		e, miss = trial, p.misfit(&load, &carried)
	}
	return e, stiffness, miss <= roundedOff
}

// Keep implements beam.Point.
func (p *point) Keep() {
	if p.lastElastic {
		p.keptStretch = p.stretch
		return
	}
	p.virgin = false
	p.load(p.stretch)
	copy(p.kept, p.trial)
	p.keptStretch = p.stretch
	p.fresh = false
}

// Clone implements beam.Point.
func (p *point) Clone() beam.Point {
	twin := *p
	twin.kept, twin.trial = slices.Clone(p.kept), slices.Clone(p.trial)
	return &twin
}

// load returns what the section carries at a stretch reached from the kept state, and its
// stiffness.
func (p *point) load(e beam.Stretch) (carried beam.Stretch, stiffness [4][4]float64) {
	if p.fresh && e == p.asked {
		return p.carried, p.stiffness
	}
	fibres := p.section.Fibres
	for first := 0; first < len(fibres); first += 4 {
		var half [2]sums
		for k := range min(4, len(fibres)-first) {
			half[k/2].add(&fibres[first+k], p.section.Law, &e, &p.kept[first+k], &p.trial[first+k])
		}
		for k := range half[0] {
			half[0][k] += half[1][k]
		}
		h := &half[0]
		for i, upper := 0, 4; i < 4; i++ {
			carried[i] += h[i]
			for j := i; j < 4; j++ {
				stiffness[i][j] += h[upper]
				upper++
			}
		}
	}
	for i := range stiffness {
		for j := range i {
			stiffness[i][j] = stiffness[j][i]
		}
	}
	p.asked, p.carried, p.stiffness, p.fresh = e, carried, stiffness, true
	return carried, stiffness
}

// sums are a few fibres' part of the section's load and of the upper half of its stiffness,
// row by row.
type sums [4 + 10]float64

// add takes in one fibre.
func (s *sums) add(f *Fibre, law Law, e *beam.Stretch, from, to *State) {
	stress, t, state := law.Stress(f.strain(e), *from)
	*to = state
	warp2, warp3 := f.Warp2*f.AreaMM2, f.Warp3*f.AreaMM2
	normal, nn := stress.Normal*f.AreaMM2, t.NN*f.AreaMM2
	nt := t.NS2*warp2 + t.NS3*warp3
	nnY, nnZ := nn*f.Y, nn*f.Z
	s[0] += normal
	s[1] += stress.Shear2*warp2 + stress.Shear3*warp3
	s[2] += normal * f.Z
	s[3] -= normal * f.Y
	s[4] += nn
	s[5] += nt
	s[6] += nnZ
	s[7] -= nnY
	s[8] += (t.SS22*f.Warp2+2*t.SS23*f.Warp3)*warp2 + t.SS33*f.Warp3*warp3
	s[9] += nt * f.Z
	s[10] -= nt * f.Y
	s[11] += nnZ * f.Z
	s[12] -= nnZ * f.Y
	s[13] += nnY * f.Y
}

// misfit is the largest error of a load as a pure number; a NaN stays one.
func (p *point) misfit(want, have *beam.Stretch) float64 {
	var worst float64
	for i := range want {
		worst = max(worst, math.Abs(want[i]-have[i])/p.scale[i])
	}
	return worst
}

// invert returns the inverse of a symmetric positive definite matrix by its factors
// L·D·Lᵀ; ok is false where it is not positive definite.
func invert(k *[4][4]float64) (inverse [4][4]float64, ok bool) {
	var l [4][4]float64 // the inverse of the unit lower factor
	var pivots [4]float64
	a := *k
	for i := range a {
		l[i][i] = 1
	}
	for j := range a {
		pivots[j] = a[j][j]
		if !(pivots[j] > 1e-14*k[j][j]) || math.IsInf(pivots[j], 0) {
			return inverse, false
		}
		for i := j + 1; i < len(a); i++ {
			factor := a[i][j] / pivots[j]
			for c := range a {
				a[i][c] -= factor * a[j][c]
				l[i][c] -= factor * l[j][c]
			}
		}
	}
	for i := range inverse {
		for j := range inverse {
			for r := range l {
				inverse[i][j] += l[r][i] * l[r][j] / pivots[r]
			}
		}
	}
	return inverse, true
}
