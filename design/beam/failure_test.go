package beam_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
)

// compressed pushes the end of a clamped straight wire towards its base.
func compressed(section beam.Section, options beam.Options, lengthMM, shareOfCritical float64) (*beam.Solver, error) {
	rod := beam.Rod{Section: section, Pieces: []beam.Piece{line(lengthMM)}}
	s := beam.NewSolver(rod, beam.Origin(), options)
	weak := min(section.EI2, section.EI3)
	critical := 4 * math.Pi * math.Pi * weak / (lengthMM * lengthMM)
	return s, s.Follow(moved(rod, beam.Origin(), r3.Vec{X: -shareOfCritical * critical / section.EA * lengthMM}, r3.Vec{}))
}

// A wire clamped at both ends buckles at 4π²EI/L² (Timoshenko and Gere, Theory of Elastic
// Stability, 2nd ed. 1961, article 2.2); shear and shortening lower that by less than 2 % in
// these wires.
func TestCompressedWireBuckles(t *testing.T) {
	square := titaniumWire()
	square.EI2 = square.EI3
	for _, test := range []struct {
		name    string
		section beam.Section
		options beam.Options
		within  float64
	}{
		{"rectangular", titaniumWire(), beam.Options{}, 0.02},
		{"both planes at once", square, beam.Options{}, 0.02},
		{"rectangular, coarse steps", titaniumWire(), coarse(), 0.15}, // three steps for a whole wave
		{"both planes at once, coarse steps", square, coarse(), 0.15},
	} {
		for _, share := range []float64{0.5, 0.95} {
			s, err := compressed(test.section, test.options, 20, share)
			if err != nil {
				t.Errorf("%s, %g of the critical load: %v", test.name, share, err)
			}
			if s.EndLoad().ForceN.X >= 0 {
				t.Errorf("%s, %g of the critical load: force %v", test.name, share, s.EndLoad().ForceN)
			}
		}
		for _, share := range []float64{1.05, 1.4, 1.6, 2.5, 4, 9.5} {
			if share <= 1+test.within {
				continue
			}
			_, err := compressed(test.section, test.options, 20, share)
			if !errors.Is(err, beam.ErrUnstable) {
				t.Errorf("%s, %g of the critical load: error %v, want a loss of stability", test.name, share, err)
				continue
			}
			var stall *beam.StallError
			if !errors.As(err, &stall) {
				t.Fatalf("%T is no *StallError", err)
			}
			near(t, test.name+", share of the critical load", stall.Reached*share, 1, test.within)
		}
	}
}

// A column with a free end buckles at π²EI/(4L²) (Euler); a square wire does so in both
// planes at once.
func TestColumnWithFreeEndBuckles(t *testing.T) {
	section := planar(1)
	section.EI2, section.GJ = 1, 1
	rod := beam.Rod{Section: section, Pieces: []beam.Piece{line(1)}}
	got := lastStable(t, rod, parts(1, 20), r3.Vec{X: -4})
	near(t, "critical load", got, math.Pi*math.Pi/4, 1e-4)
}

// The end cannot be pulled further than the wire is long.
func TestBeyondTheWireLength(t *testing.T) {
	rod := verticalLoop(unshearable(titaniumWire()))
	s := beam.NewSolver(rod, beam.Origin(), beam.Options{})
	err := s.Follow(moved(rod, beam.Origin(), r3.Vec{X: rod.LengthMM()}, r3.Vec{}))
	var stall *beam.StallError
	if !errors.As(err, &stall) {
		t.Fatalf("error %v, want a *StallError", err)
	}
	if stall.Reached <= 0.3 || stall.Reached >= (rod.LengthMM()-8)/rod.LengthMM() {
		t.Errorf("reached %g of the way", stall.Reached)
	}
	if text := err.Error(); !strings.Contains(text, "% of the way") {
		t.Errorf("error %q does not say how far it came", text)
	}
	// What was reached is kept, as an equilibrium at that share of the way.
	near(t, "reached place", s.End().At.X, 8+stall.Reached*rod.LengthMM(), 1e-6)
	near(t, "balance", s.EndLoad().ForceN.X+s.BaseLoad().ForceN.X, 0, 1e-9)
	// And it can go on from there.
	mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{X: 1}, r3.Vec{}))
	again := beam.NewSolver(rod, beam.Origin(), beam.Options{})
	mustFollow(t, again, moved(rod, beam.Origin(), r3.Vec{X: 1}, r3.Vec{}))
	nearWrench(t, "load after the way back", s.EndLoad(), again.EndLoad(), 1e-7)
}

// Input that no wire has gives an error, not a panic or a number.
func TestMeaninglessInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := verticalLoop(titaniumWire())
	spoilt := func(change func(*beam.Rod)) beam.Rod {
		rod := beam.Rod{Section: good.Section, Pieces: append([]beam.Piece(nil), good.Pieces...)}
		change(&rod)
		return rod
	}
	hold := moved(good, beam.Origin(), r3.Vec{X: 1}, r3.Vec{})
	badHold := hold
	badHold.Pose.At.Y = nan
	farHold := hold
	farHold.Pose.At.X = inf
	badTurn := hold
	badTurn.Pose.D1.X = nan
	for _, test := range []struct {
		name string
		rod  beam.Rod
		hold beam.Hold
	}{
		{"no pieces", beam.Rod{Section: good.Section}, hold},
		{"zero length", beam.Rod{Section: good.Section, Pieces: []beam.Piece{{}}}, hold},
		{"NaN length", spoilt(func(r *beam.Rod) { r.Pieces[2].LengthMM = nan }), hold},
		{"infinite length", spoilt(func(r *beam.Rod) { r.Pieces[2].LengthMM = inf }), hold},
		{"NaN curvature", spoilt(func(r *beam.Rod) { r.Pieces[1].Curvature.Z = nan }), hold},
		{"infinite curvature", spoilt(func(r *beam.Rod) { r.Pieces[1].Curvature.Z = inf }), hold},
		{"NaN stiffness", spoilt(func(r *beam.Rod) { r.Section.EI3 = nan }), hold},
		{"no stiffness", spoilt(func(r *beam.Rod) { r.Section = beam.Section{} }), hold},
		{"NaN place", good, badHold},
		{"infinite place", good, farHold},
		{"NaN frame", good, badTurn},
		{"NaN load", good, beam.Hang(beam.Wrench{ForceN: r3.Vec{X: nan}})},
	} {
		t.Run(test.name, func(t *testing.T) {
			s := beam.NewSolver(test.rod, beam.Origin(), beam.Options{})
			if err := s.Follow(test.hold); err == nil {
				t.Errorf("no error; end load %v", s.EndLoad())
			}
		})
	}
}

// A refused target leaves the last solution as it was.
func TestLastSolutionIsKept(t *testing.T) {
	rod := verticalLoop(titaniumWire())
	s := beam.NewSolver(rod, beam.Origin(), beam.Options{})
	mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{X: 1}, r3.Vec{}))
	load, end := s.EndLoad(), s.End()
	bad := moved(rod, beam.Origin(), r3.Vec{X: 2}, r3.Vec{})
	bad.Pose.At.Z = math.NaN()
	if s.Follow(bad) == nil {
		t.Fatal("no error")
	}
	nearWrench(t, "load", s.EndLoad(), load, 0)
	nearVec(t, "end", s.End().At, end.At, 0)
	mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{X: 2}, r3.Vec{}))
}

// A solver that takes up another rod forgets the first.
func TestReset(t *testing.T) {
	loop, box := verticalLoop(titaniumWire()), boxLoop(titaniumWire())
	s := beam.NewSolver(box, beam.Origin(), beam.Options{})
	mustFollow(t, s, boxHold(box, 1))
	s.Reset(loop, beam.Origin())
	nearWrench(t, "unloaded", s.EndLoad(), beam.Wrench{}, 0)
	mustFollow(t, s, moved(loop, beam.Origin(), r3.Vec{X: 1}, r3.Vec{}))
	fresh := beam.NewSolver(loop, beam.Origin(), beam.Options{})
	mustFollow(t, fresh, moved(loop, beam.Origin(), r3.Vec{X: 1}, r3.Vec{}))
	nearWrench(t, "load", s.EndLoad(), fresh.EndLoad(), 0)
}

// drawn is a wire bent by a few degrees, pulled along its chord to a share of its length.
func drawn(s *beam.Solver, rod beam.Rod, share float64) error {
	base := beam.Origin()
	end := rod.UnloadedEnd(base)
	to := r3.Scale(share*rod.LengthMM()/r3.Norm(end.At), end.At)
	return s.Follow(moved(rod, base, r3.Sub(to, end.At), r3.Vec{}))
}

// zigzag is a wire with bends of some rad to either side, 6 mm apart.
func zigzag(rad float64) beam.Rod {
	const radiusMM = 0.9
	rod := beam.Rod{Section: titaniumWire(), Pieces: []beam.Piece{line(3)}}
	for k := range 6 {
		sense := []float64{1, -1, -1, 1}[k%4]
		rod.Pieces = append(rod.Pieces, beam.Piece{LengthMM: rad * radiusMM, Curvature: r3.Vec{Y: sense / radiusMM}}, line(6))
	}
	return rod
}

// A wire can be drawn nearly straight: as the force grows, it bends within ever shorter
// lengths, and errors at its start grow by exp(L/λ) towards its end, here up to e^60. Less
// force than just before, or an end that misses its place, would be another branch.
func TestWireDrawnNearlyStraight(t *testing.T) {
	for _, rad := range []float64{0.3, 1.2} {
		rod := zigzag(rad)
		s := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 0.5, StepRad: math.Pi / 36})
		last := 0.0
		for _, share := range []float64{0.95, 0.98, 0.99, 0.995} {
			if share*rod.LengthMM() < r3.Norm(rod.UnloadedEnd(beam.Origin()).At) {
				continue
			}
			if err := drawn(s, rod, share); err != nil {
				t.Fatalf("bends of %g rad drawn to %g of the length: %v", rad, share, err)
			}
			force := r3.Norm(s.EndLoad().ForceN)
			t.Logf("bends of %g rad drawn to %g of the length: %.1f N, L/λ %.0f", rad, share, force,
				rod.LengthMM()*math.Sqrt(force/min(rod.Section.EI2, rod.Section.EI3)))
			if !(force > last) {
				t.Errorf("bends of %g rad drawn to %g of the length: %g N after %g N", rad, share, force, last)
			}
			last = force
			near(t, "place of the end", r3.Norm(s.End().At), share*rod.LengthMM(), 1e-8)
			// Balance: the moments about both ends differ by the force's.
			sum := r3.Add(s.EndLoad().MomentNMM, s.BaseLoad().MomentNMM)
			sum = r3.Add(sum, r3.Cross(s.End().At, s.EndLoad().ForceN))
			near(t, "moments", r3.Norm(sum), 0, 1e-9*force*rod.LengthMM())

			fresh := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 0.3, StepRad: math.Pi / 60})
			if err := drawn(fresh, rod, share); err != nil {
				t.Fatalf("at once: %v", err)
			}
			near(t, "force with other steps", r3.Norm(fresh.EndLoad().ForceN), force, 1e-3*force) // the mesh
		}
		// And back: the same as a wire that was never drawn so far.
		mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{X: 0.1}, r3.Vec{}))
		fresh := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 0.5, StepRad: math.Pi / 36})
		mustFollow(t, fresh, moved(rod, beam.Origin(), r3.Vec{X: 0.1}, r3.Vec{}))
		nearWrench(t, "load after the way back", s.EndLoad(), fresh.EndLoad(), 1e-7)
	}
}

// A wire with a bow of a few hundredths of a mm, pushed together, stays straight up to about
// its critical load and bulges within some 1e-4 of the way. Far beyond, the force is that of
// an inextensible clamped strut shortened by a tenth, (1 + 1/20 + …) 4π²EI/L² (the elastica;
// Timoshenko and Gere, Theory of Elastic Stability, 2nd ed. 1961, article 2.7: to first order
// half the shortening).
func TestSlackWireBulges(t *testing.T) {
	const lengthMM = 40.0
	for _, bowMM := range []float64{0.1, 0.01, 0.001} {
		section := titaniumWire()
		bow := beam.Piece{LengthMM: lengthMM, Curvature: r3.Vec{Y: 8 * bowMM / (lengthMM * lengthMM)}}
		if section.EI3 < section.EI2 {
			bow.Curvature = r3.Vec{Z: bow.Curvature.Y}
		}
		rod := beam.Rod{Section: section, Pieces: []beam.Piece{bow}}
		s := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 0.5, StepRad: math.Pi / 36})
		if err := s.Follow(moved(rod, beam.Origin(), r3.Vec{X: -0.1 * lengthMM}, r3.Vec{})); err != nil {
			t.Errorf("bow of %g mm: %v", bowMM, err)
			continue
		}
		critical := 4 * math.Pi * math.Pi * min(section.EI2, section.EI3) / (lengthMM * lengthMM)
		near(t, "force over the critical one", -s.EndLoad().ForceN.X/critical, 1.05, 0.01)
	}
}
