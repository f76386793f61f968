package validation

import (
	"errors"
	"math"

	"springwright/design/beam"

	"gonum.org/v1/gonum/spatial/r3"
)

func straight(lengthMM float64) beam.Piece { return beam.Piece{LengthMM: lengthMM} }

// arc bends about d3, towards +d2 where the angle is positive.
func arc(radiusMM, angleDeg float64) beam.Piece {
	angleRad := angleDeg * math.Pi / 180
	lengthMM := radiusMM * math.Abs(angleRad)
	return beam.Piece{LengthMM: lengthMM, Curvature: r3.Vec{Z: angleRad / lengthMM}}
}

// planar is a section that bends about d3 only.
func planar(ei float64) beam.Section {
	inf := math.Inf(1)
	return beam.Section{EA: inf, GA2: inf, GA3: inf, GJ: 1e4 * ei, EI2: 1e4 * ei, EI3: ei}
}

// followed is a rod from the origin led to a hold.
func (p *page) followed(rod beam.Rod, base beam.Pose, stepMM float64, hold beam.Hold) *beam.Solver {
	s := beam.NewSolver(rod, base, beam.Options{StepMM: stepMM, StepRad: 100, Tolerance: 1e-12})
	if err := s.Follow(hold); err != nil {
		p.t.Fatal(err)
	}
	return s
}

func hung(force, moment r3.Vec) beam.Hold {
	return beam.Hang(beam.Wrench{ForceN: force, MomentNMM: moment})
}

// rods are problems of the exact rod with an answer of their own.
func rods(p *page) {
	p.line("## Does the model bend as a rod bends?\n\nProblems that textbooks and papers have solved in closed form or by other programs, far beyond what a spring in a mouth does.")
	inf := math.Inf(1)
	one := beam.Rod{Section: planar(1), Pieces: []beam.Piece{straight(1)}}
	origin := beam.Origin()

	rolled := p.followed(one, origin, 0.01, hung(r3.Vec{}, r3.Vec{Z: math.Pi})).End()
	tip := p.followed(one, origin, 1.0/160, hung(r3.Vec{Y: 10}, r3.Vec{})).End()
	soft := beam.Rod{Section: planar(10), Pieces: []beam.Piece{straight(1)}}
	soft.Section.GA2 = 5
	sheared := p.followed(soft, origin, 1.0/160, hung(r3.Vec{Y: 10}, r3.Vec{})).End()

	const e = 1e7
	bend := beam.Rod{Section: beam.Section{EA: e, GA2: e / 2, GA3: e / 2, GJ: e / 12, EI2: e / 12, EI3: e / 12}, Pieces: []beam.Piece{arc(100, 45)}}
	bent := p.followed(bend, origin, 1, hung(r3.Vec{Z: 600}, r3.Vec{})).End().At

	base := origin.Turned(r3.Vec{Z: math.Pi / 2})
	base.At = r3.Vec{X: 1}
	quarter := beam.Rod{Section: planar(1), Pieces: []beam.Piece{arc(1, 90)}}
	top := quarter.UnloadedEnd(base)
	ring := p.followed(quarter, base, 0.01, beam.Hold{Pose: top, FreeMove: [3]bool{true, true, false}, Load: beam.Wrench{ForceN: r3.Vec{Y: 2}}})

	side := origin
	side.At = r3.Vec{X: 1, Y: 0.6}
	guided := p.followed(one, origin, 1.0/200, beam.Hold{Pose: side, FreeMove: [3]bool{true, false, false}})

	curved := beam.Rod{Section: beam.Section{
		EA: inf, GA2: inf, GA3: inf, GJ: 4e6 * 0.228682 * 0.2 * 1e-3, EI2: e * 0.2 * 1e-3 / 12, EI3: e * 0.1 * 8e-3 / 12,
	}, Pieces: []beam.Piece{arc(4.22, 90)}}
	const small = 1e-3
	outOfPlane := p.followed(curved, origin, 0.1, hung(r3.Vec{Z: small}, r3.Vec{})).End().At.Z / small
	inPlane := p.followed(curved, origin, 0.1, hung(r3.Vec{X: small}, r3.Vec{})).End().At.X
	inPlane = (inPlane - curved.UnloadedEnd(origin).At.X) / small

	const halfSpan, rise = 12.943, 0.386
	strut := beam.Rod{Section: beam.Section{EA: 1.885e6, GA2: inf, GA3: inf, GJ: 1e6, EI2: 1e6, EI3: 9274}, Pieces: []beam.Piece{straight(math.Hypot(halfSpan, rise))}}
	foot := origin.Turned(r3.Vec{Z: math.Atan2(rise, halfSpan)})
	apex := strut.UnloadedEnd(foot)
	apex.At.Y -= 0.232128
	toggle := p.followed(strut, foot, 0.2, beam.Clamp(apex))

	p.comparedTable([]compared{
		{"straight wire rolled to a half circle by a couple: height of the tip / length", 2 / math.Pi, rolled.At.Y, "", 6, 1e-9, "closed form; Simo & Vu-Quoc, Comput Methods Appl Mech Eng 1986;58:79", "rounding", "design/beam TestPureMomentRollsUp"},
		{"cantilever under a large tip load, P·L²/EI = 10: deflection / length", 0.81061, tip.At.Y, "", 5, 1e-5, "Mattiasson, Int J Numer Methods Eng 1981;17:145, five digits", "their last digit", "design/beam TestElastica"},
		{"the same: direction of the tip, rad", 1.4302855390, math.Atan2(tip.D1.Y, tip.D1.X), "", 8, 1e-8, "elliptic integrals: Bisshopp & Drucker, Q Appl Math 1945;3:272", "steps of 1/160 of the wire", "design/beam TestElastica"},
		{"cantilever that shears, EI 10, GA 5, P 10: deflection", 2.1040874728, sheared.At.Y, "", 8, 1e-8, "Batista, Int J Solids Struct 2016;87:153", "steps", "design/beam TestElasticaWithShear"},
		{"45° bend loaded out of its plane by 600: rise of the tip", 53.4, bent.Z, "", 2, 0.02, "Bathe & Bolourchi, Int J Numer Methods Eng 1979;14:961", "few elements, and another torsion constant", "design/beam TestBend45AgainstPublishedValues"},
		{"the same", 53.37, bent.Z, "", 2, 0.007, "Simo & Vu-Quoc, Comput Methods Appl Mech Eng 1986;58:79", "few elements", "design/beam TestBend45AgainstPublishedValues"},
		{"the same", 53.474859, bent.Z, "", 6, 1e-6, "two general solvers of boundary value problems, shooting and collocation, on the same equations", "steps", "design/beam TestBend45AgainstCosseratEquations"},
		{"ring pinched by P·R²/EI = 4: half its height", 0.55064662, ring.End().At.Y, "", 8, 1e-7, "shooting on the elastica's equations; for small loads Castigliano's theorem", "steps", "design/beam TestRing"},
		{"clamped wire moved sideways by 0.6 of its length, free to slide: force", 11.84578892, guided.EndLoad().ForceN.Y, "", 8, 1e-7, "shooting on the elastica's equations", "steps", "design/beam TestGuidedBeam"},
		{"quarter circle, tip load in its plane: shift", 0.08734, inPlane, "", 5, 0.015, "MacNeal & Harder, Finite Elem Anal Des 1985;1:3", "theirs is a solid of elements, a rod gives πR³/4EI = 0.08854", "design/beam TestCurvedBeam"},
		{"the same, out of its plane", 0.5022, outOfPlane, "", 4, 0.015, "the same", "as above: a rod gives 0.5005 in closed form", "design/beam TestCurvedBeam"},
		{"shallow toggle at its limit load", 33.871804, -2 * toggle.EndLoad().ForceN.Y, "lb", 5, 1e-5, "Williams, Q J Mech Appl Math 1964;17:451 (data from memory); shooting", "steps", "design/beam TestToggle"},
		{"cantilever strip that buckles sideways: P·L²/√(EI·GJ)", 4.0126, p.sideways(), "", 4, 1e-4, "Timoshenko & Gere, Theory of Elastic Stability, 1961, article 6.3", "the load is closed in on from below", "design/beam TestLateralBuckling"},
	})
	p.line("Beyond these: helices that stay helices (Love), the twisted strip (MacNeal & Harder), the right-angle frame (Argyris), the elastic centre of a plane wire (column analogy), " +
		"columns that buckle, and that reversal, mirror and turning of the whole problem give the same loads: " + p.test("design/beam TestHelixStaysHelix") + ", " + p.test("design/beam TestTwistedStrip") + ", " +
		p.test("design/beam TestRightAngleFrame") + ", " + p.test("design/beam TestElasticCentre") + ", " + p.test("design/beam TestCompressedWireBuckles") + ", " + p.test("design/beam TestObjectivity") + ".")
}

// sideways is the load at which a cantilever strip, stiff in the load's plane, gives way sideways.
func (p *page) sideways() float64 {
	inf := math.Inf(1)
	rod := beam.Rod{Section: beam.Section{EA: inf, GA2: inf, GA3: inf, GJ: 1, EI2: 1, EI3: inf}, Pieces: []beam.Piece{straight(1)}}
	s := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 1.0 / 40, StepRad: 100, Tolerance: 1e-12, SmallestStep: 1e-6})
	const load = 1.3 * 4.0126
	var stall *beam.StallError
	if err := s.Follow(hung(r3.Vec{Y: -load}, r3.Vec{})); !errors.As(err, &stall) {
		p.t.Fatalf("a strip under %g does not buckle: %v", load, err)
	}
	return stall.Reached * load
}
