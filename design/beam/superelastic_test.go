package beam_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
	"springwright/design/fibre"
)

// The tables below are for a round nickel-titanium wire of 0.3556 mm (0.014 in) with the
// law of Auricchio and Sacco (Int. J. Non-Linear Mech. 32 (1997) 1101), worked out
// independently in the plane with fibres and fixed material points; 150 and 400 points
// agree to 1e-4.
const wireMM = 0.3556

func plateaus(eMPa, loadStart, loadEnd, unloadStart, unloadEnd, strain float64) fibre.Superelastic {
	return fibre.Superelastic{
		EMPa: eMPa, GMPa: eMPa / 2.66, LoadStartMPa: loadStart, LoadEndMPa: loadEnd,
		UnloadStartMPa: unloadStart, UnloadEndMPa: unloadEnd, TransformationStrain: strain,
	}
}

func setA() fibre.Superelastic { return plateaus(60000, 520, 600, 300, 200, 0.07) }
func setB() fibre.Superelastic { return plateaus(50000, 400, 440, 200, 160, 0.06) }

// straightRound is a solver for a straight wire without shear, which the tables leave out.
func straightRound(law fibre.Superelastic, lengthMM, stepMM float64, across, through int) *beam.Solver {
	area, inertia := math.Pi*wireMM*wireMM/4, math.Pi*math.Pow(wireMM, 4)/64
	rod := beam.Rod{
		Section: beam.Section{
			EA: law.EMPa * area, GA2: math.Inf(1), GA3: math.Inf(1),
			GJ: 2 * law.GMPa * inertia, EI2: law.EMPa * inertia, EI3: law.EMPa * inertia,
		},
		Pieces: []beam.Piece{{LengthMM: lengthMM}},
	}
	section := fibre.Round(law, wireMM, across, through)
	return beam.NewMemorySolver(rod, beam.Origin(), beam.Options{StepMM: stepMM}, func(int, float64) beam.Point {
		return section.NewPoint()
	})
}

// Three-point bending on supports 10 mm apart, the middle pushed 3.1 mm down and let go
// (the layout of ISO 15841). One half is solved, clamped in the middle; its support moves
// up, lets it turn and slide, and presses on it at right angles or, with friction, at the
// friction angle.
func TestSuperelasticThreePointBending(t *testing.T) {
	t.Parallel()
	deflections := []float64{0.5, 1, 2, 3.1, 3, 2.5, 2, 1.5, 1, 0.5}
	for name, c := range map[string]struct {
		law      fibre.Superelastic
		friction float64
		loadsN   []float64
	}{
		"A":           {setA(), 0, []float64{1.0969, 1.5046, 1.4508, 1.2260, 1.1804, 0.8694, 0.7893, 0.7688, 0.7307, 0.6531}},
		"B":           {setB(), 0, []float64{0.9058, 1.1687, 1.1261, 0.9594, 0.9196, 0.6413, 0.5635, 0.5569, 0.5475, 0.5115}},
		"A, friction": {setA(), 0.2, []float64{1.1230, 1.5696, 1.5798, 1.4067, 1.0042, 0.7658, 0.7175, 0.7175, 0.6984, 0.6389}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := straightRound(c.law, 7, 0.05, 2, 64)
			s.SetSpan(0, 5)
			at := 0.0
			for i, d := range deflections {
				for n, k := math.Ceil(math.Abs(d-at)/0.05), 1.0; k <= n; k++ {
					support := r3.Vec{X: 5, Z: at + (d-at)*k/n}
					if err := s.SlideOver(support, c.friction); err != nil {
						t.Fatalf("%g mm: %v", support.Z, err)
					}
				}
				at = d
				got := 2 * s.EndLoad().ForceN.Z
				t.Logf("%s: %3.1f mm: %.4f N, table %.4f, %+.2f %%", name, d, got, c.loadsN[i], 100*(got/c.loadsN[i]-1))
				near(t, "load", got, c.loadsN[i], 1e-3*c.loadsN[i])
			}
		})
	}
}

// Both ends held straight, one moved sideways and free to slide along the wire.
func TestSuperelasticGuided(t *testing.T) {
	t.Parallel()
	s := straightRound(setA(), 8, 0.05, 2, 96)
	at := 0.0
	for _, row := range []struct{ offsetMM, forceN, momentNMM float64 }{
		{0.25, 0.27622, 1.10424},
		{0.5, 0.55412, 2.21126},
		{1, 0.94809, 3.75780},
		{1.5, 1.05497, 4.13684},
		{2, 1.12406, 4.34093},
		{1.5, 0.61733, 2.42263},
		{1, 0.49872, 1.97804},
		{0.5, 0.39910, 1.59289},
		{0.25, 0.27441, 1.09701},
	} {
		guide(t, s, at, row.offsetMM, 0.05)
		at = row.offsetMM
		force, moment := s.EndLoad().ForceN.Z, math.Abs(s.EndLoad().MomentNMM.Y)
		t.Logf("%4.2f mm: %.5f N %+.3f %%, %.5f N·mm %+.3f %%", at, force, 100*(force/row.forceN-1), moment, 100*(moment/row.momentNMM-1))
		near(t, "force", force, row.forceN, 1e-3*row.forceN)
		near(t, "moment", moment, row.momentNMM, 1e-3*row.momentNMM)
	}
}

// guide moves the end of a straight 8 mm wire sideways in steps, its turn held, free to
// slide.
func guide(t testing.TB, s *beam.Solver, from, to, stepMM float64) {
	t.Helper()
	for n, k := math.Ceil(math.Abs(to-from)/stepMM), 1.0; k <= n; k++ {
		hold := beam.Hold{Pose: beam.Origin(), FreeMove: [3]bool{true, false, false}}
		hold.Pose.At = r3.Vec{X: 8, Z: from + (to-from)*k/n}
		mustFollow(t, s, hold)
	}
}

// The same cycle twice gives the same loads, the wire pushes back all the way, ends without
// load and shape, and is linear as long as the rim stays below the plateau.
func TestSuperelasticCycles(t *testing.T) {
	t.Parallel()
	s := straightRound(setA(), 8, 0.2, 2, 16)
	offsets := []float64{0.1, 0.2, 0.5, 1, 1.5, 2, 1.8, 1.6, 1, 0.5, 0.2, 0}
	var first []float64
	for cycle := range 2 {
		at := 0.0
		for i, offset := range offsets {
			guide(t, s, at, offset, 0.1)
			at = offset
			force := s.EndLoad().ForceN.Z
			if force < -1e-8 {
				t.Errorf("force at %g mm: %g N draws the end on", offset, force)
			}
			if cycle == 0 {
				first = append(first, force)
				continue
			}
			near(t, "force in the second cycle", force, first[i], 1e-6*first[5])
		}
		near(t, "force at the end of a cycle", s.EndLoad().ForceN.Z, 0, 1e-7)
	}
	near(t, "half the offset, half the force", first[0]/first[1], 0.5, 1e-3) // large displacements
	// A cycle that turns half-way lies inside the large one.
	half := straightRound(setA(), 8, 0.2, 2, 16)
	guide(t, half, 0, 1, 0.1)
	guide(t, half, 1, 0.5, 0.1)
	if f := half.EndLoad().ForceN.Z; !(f > first[9] && f < first[2]) {
		t.Errorf("force at 0.5 mm after turning at 1 mm: %g N, want between %g and %g", f, first[9], first[2])
	}
}
