package beam_test

import (
	"encoding/json"
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
