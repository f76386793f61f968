package beam

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The quick bound reaches what it can be for a straight wire of one stiffness c: a force of π² c/L²
// (Wirtinger's inequality) and, alone, a moment of 4 c/L all along (Opial, Ann. Polon. Math. 8
// (1960) 29: ∫ |u u'| ≤ L/4 ∫ u'²).
func TestSurelyStableUpToTheLimit(t *testing.T) {
	const lengthMM, stiffness = 20.0, 200.0
	inf := math.Inf(1)
	section := Section{EA: inf, GA2: inf, GA3: inf, GJ: stiffness, EI2: stiffness, EI3: stiffness}
	force, moment := math.Pi*math.Pi*stiffness/lengthMM/lengthMM, 4*stiffness/lengthMM
	for _, steps := range []float64{1, 2, 7} {
		s := NewSolver(Rod{Section: section, Pieces: []Piece{{LengthMM: lengthMM}}}, Origin(), Options{StepMM: lengthMM / steps})
		for _, row := range []struct {
			forceN, momentNMM float64
			sure              bool
		}{
			{0, 0, true},
			{0, 0.999 * moment, true},
			{0, 1.001 * moment, false},
			{-0.999 * force, 0, true},
			{-1.001 * force, 0, false},
			{-0.5 * force, 0.5 * moment, true},
			{-0.8 * force, 0.8 * moment, false},
			{math.NaN(), 0, false},
		} {
			s.force, s.moment = r3.Vec{X: row.forceN}, r3.Vec{Y: row.momentNMM}
			// The wire as it lies unloaded: only the loads count.
			if sure := s.surelyStable(); sure != row.sure {
				t.Errorf("%g steps, %g N, %g N·mm: %t", steps, row.forceN, row.momentNMM, sure)
			}
		}
	}
}

// What the quick bound takes for stable has a positive second variation, in wires of all shapes that are
// pushed until they snap.
func TestSurelyStableIsStable(t *testing.T) {
	section := Section{EA: 1e4, GA2: 3e3, GA3: 3e3, GJ: 230, EI2: 280, EI3: 600}
	bend := func(angleRad float64) Piece {
		return Piece{LengthMM: math.Abs(angleRad), Curvature: r3.Vec{Y: math.Copysign(1, angleRad)}}
	}
	line := func(lengthMM float64) Piece { return Piece{LengthMM: lengthMM} }
	looked, sureOnes, doubtful := 0, 0, 0
	for _, pieces := range [][]Piece{
		{line(30)},
		{line(10), bend(math.Pi / 2), line(10)},
		{line(5), bend(1.2), line(8), bend(-1.4), line(6)},
		{line(3), bend(math.Pi / 2), line(7), bend(-math.Pi / 2), line(6), bend(-math.Pi / 2), line(7), bend(math.Pi / 2), line(3)},
	} {
		for _, way := range []r3.Vec{{X: -1}, {Y: 1}, {Z: 1}, {X: 1, Y: -1, Z: 1}} {
			s := NewSolver(Rod{Section: section, Pieces: pieces}, Origin(), Options{StepMM: 3})
			hold := Clamp(s.End())
			for range 60 {
				hold.Pose.At = r3.Add(hold.Pose.At, r3.Scale(0.2, way))
				hold.Pose = hold.Pose.Turned(r3.Scale(0.01, way))
				if err := s.Follow(hold); err != nil {
					if !errors.Is(err, ErrUnstable) && !errors.Is(err, ErrNoConvergence) {
						t.Fatal(err)
					}
					break
				}
				looked++
				sure, stable := s.surelyStable(), s.positiveSecondVariation()
				if sure && !stable {
					t.Errorf("%v: taken for stable", way)
				}
				if sure {
					sureOnes++
				} else {
					doubtful++
				}
			}
		}
	}
	if sureOnes < looked/10 || doubtful < looked/10 { // else nothing was tried
		t.Errorf("%d of %d sure, %d doubtful", sureOnes, looked, doubtful)
	}
}
