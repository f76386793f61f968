package beam_test

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"springwright/design/beam"
	"springwright/design/fibre"
)

// yieldSpring is testdata/solid3d-yield.json: a wire bent past yield and let go, solved as a
// 3-D elastic-plastic solid with large displacements by CalculiX 2.20 (von Mises, bilinear,
// kinematic hardening; 20-node reduced-integration bricks, 4 × 4 over the section, mesh
// error < 1 %). The end moves by dz along z without turning, step by step in the order given.
type yieldSpring struct {
	WidthMM     float64     `json:"width_mm"`
	ThicknessMM float64     `json:"thickness_mm"`
	EMPa        float64     `json:"e_mpa"`
	Poisson     float64     `json:"poisson"`
	YieldMPa    float64     `json:"yield_mpa"`
	TangentMPa  float64     `json:"tangent_mpa"`
	Path        []solidStep `json:"path"`
	Positions   []struct {
		DzMM          float64    `json:"dz_mm"`
		ForceOnTooth  [3]float64 `json:"force_on_tooth_n"`
		CoupleOnTooth [3]float64 `json:"couple_on_tooth_nmm"`
	} `json:"positions"`
}

func readYieldSpring(t testing.TB) (yieldSpring, beam.Rod) {
	t.Helper()
	text, err := os.ReadFile("testdata/solid3d-yield.json")
	if err != nil {
		t.Fatal(err)
	}
	var s yieldSpring
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	solid := solidSpring{WidthMM: s.WidthMM, ThicknessMM: s.ThicknessMM, EMPa: s.EMPa, Poisson: s.Poisson, Path: s.Path}
	return s, solid.rod(t)
}

func (s yieldSpring) law() fibre.Kinematic {
	return fibre.Kinematic{EMPa: s.EMPa, GMPa: s.EMPa / (2 * (1 + s.Poisson)), YieldMPa: s.YieldMPa, TangentMPa: s.TangentMPa}
}

// solver answers elastically within half a thickness of both ends, where the rigid end
// sections of the solid hinder yield.
func (s yieldSpring) solver(rod beam.Rod, o beam.Options, across, through int) *beam.Solver {
	law := s.law()
	torsion := rod.Section.GJ / law.GMPa
	yielding := fibre.Rectangle(law, s.WidthMM, s.ThicknessMM, torsion, across, through)
	law.YieldMPa = math.Inf(1)
	elastic := fibre.Rectangle(law, s.WidthMM, s.ThicknessMM, torsion, 2, 2)
	return beam.NewMemorySolver(rod, beam.Origin(), o, func(_ int, arcMM float64) beam.Point {
		if min(arcMM, rod.LengthMM()-arcMM) < s.ThicknessMM/2 {
			return elastic.NewPoint()
		}
		return yielding.NewPoint()
	})
}

func TestAgainstSolidPastYield(t *testing.T) {
	t.Parallel()
	spring, rod := readYieldSpring(t)
	for _, across := range []int{2, 6} {
		s := spring.solver(rod, beam.Options{StepMM: 0.25, StepRad: 0.35}, across, 16)
		var forceMiss, coupleMiss, largestForce, largestCouple float64
		for _, p := range spring.Positions {
			mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{Z: p.DzMM}, r3.Vec{}))
			forceMiss = max(forceMiss, r3.Norm(r3.Add(s.EndLoad().ForceN, vec(p.ForceOnTooth))))
			coupleMiss = max(coupleMiss, r3.Norm(r3.Add(s.EndLoad().MomentNMM, vec(p.CoupleOnTooth))))
			largestForce = max(largestForce, r3.Norm(vec(p.ForceOnTooth)))
			largestCouple = max(largestCouple, r3.Norm(vec(p.CoupleOnTooth)))
		}
		t.Logf("%d across: force %.2f %%, couple %.2f %% of the largest", across, 100*forceMiss/largestForce, 100*coupleMiss/largestCouple)
		near(t, "largest deviation of the force", forceMiss/largestForce, 0, 0.01)
		near(t, "largest deviation of the couple", coupleMiss/largestCouple, 0, 0.02)
	}
}

func BenchmarkMemory(b *testing.B) {
	spring, rod := readYieldSpring(b)
	for b.Loop() {
		s := spring.solver(rod, beam.Options{StepMM: 0.25, StepRad: 0.35}, 2, 16)
		for _, p := range spring.Positions {
			if err := s.Follow(moved(rod, beam.Origin(), r3.Vec{Z: p.DzMM}, r3.Vec{})); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// Below yield a wire that remembers is an elastic wire. Its method is of order 2, so the
// step decides how near it comes to the other.
func TestMemoryBelowYieldIsElastic(t *testing.T) {
	t.Parallel()
	spring, rod := readYieldSpring(t)
	hold := moved(rod, beam.Origin(), r3.Vec{X: 0.8, Y: -0.6, Z: -1.5}, r3.Vec{X: 0.1, Y: 0.08, Z: -0.12})
	exact := beam.NewSolver(rod, beam.Origin(), beam.Options{StepMM: 0.5, StepRad: 0.2})
	mustFollow(t, exact, hold)
	spring.YieldMPa = 1e5
	var miss [2]float64
	for i, step := range [2]float64{0.5, 0.25} {
		s := spring.solver(rod, beam.Options{StepMM: step, StepRad: 1.4 * step}, 4, 8)
		mustFollow(t, s, hold)
		force, couple := exact.EndLoad().ForceN, exact.EndLoad().MomentNMM
		miss[i] = max(r3.Norm(r3.Sub(s.EndLoad().ForceN, force))/r3.Norm(force), r3.Norm(r3.Sub(s.EndLoad().MomentNMM, couple))/r3.Norm(couple))
		t.Logf("step %g mm: %.1e off", step, miss[i])
	}
	near(t, "deviation", miss[1], 0, 2e-3)
	if miss[1] > 0.35*miss[0] {
		t.Errorf("halving the step brings the deviation from %g to %g only", miss[0], miss[1])
	}
}

// A wire let go after yielding keeps a set, and the same hold gives other loads than on the
// way there.
func TestMemoryKeepsPermanentSet(t *testing.T) {
	t.Parallel()
	spring, rod := readYieldSpring(t)
	s := spring.solver(rod, beam.Options{StepMM: 0.5, StepRad: 0.4}, 2, 12)
	passive := s.End()
	release := func() float64 {
		load := s.EndLoad()
		for k := 3.0; k >= 0; k-- {
			mustFollow(t, s, beam.Hang(beam.Wrench{ForceN: r3.Scale(k/4, load.ForceN), MomentNMM: r3.Scale(k/4, load.MomentNMM)}))
		}
		return r3.Norm(r3.Sub(s.End().At, passive.At))
	}
	mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{Z: -3}, r3.Vec{}))
	near(t, "set of a wire that did not yield", release(), 0, 1e-6)
	for _, z := range []float64{-3, -6, -9} {
		mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{Z: z}, r3.Vec{}))
	}
	set := release()
	if set < 0.05 || set > 3 {
		t.Errorf("set after 9 mm: %g mm", set)
	}
	// Taken out and put back, within the range it has hardened to, it comes back to the same.
	for _, z := range []float64{-3, -6, -9} {
		mustFollow(t, s, moved(rod, beam.Origin(), r3.Vec{Z: z}, r3.Vec{}))
	}
	near(t, "set after the second time", release(), set, 0.01*set)
}

// softPoint carries no more than its limit.
type softPoint struct{ limitNMM float64 }

func (p softPoint) Respond(load beam.Stretch) (e beam.Stretch, c [4][4]float64, ok bool) {
	for i := range e {
		e[i], c[i][i] = load[i]/300, 1.0/300
	}
	return e, c, math.Abs(load[2]) <= p.limitNMM
}

func (p softPoint) Keep() {}

func (p softPoint) Clone() beam.Point { return p }

func TestMemoryStallsWhereASectionGivesWay(t *testing.T) {
	t.Parallel()
	_, rod := readYieldSpring(t)
	s := beam.NewMemorySolver(rod, beam.Origin(), beam.Options{}, func(int, float64) beam.Point { return softPoint{5} })
	err := s.Follow(moved(rod, beam.Origin(), r3.Vec{Z: -6}, r3.Vec{}))
	var stall *beam.StallError
	if !errors.As(err, &stall) || !(stall.Reached > 0 && stall.Reached < 1) {
		t.Fatalf("got %v, want a StallError on the way", err)
	}
	// What it stands at is the last solution.
	near(t, "place of the end", s.End().At.Z, -6*stall.Reached, 1e-8)
}
