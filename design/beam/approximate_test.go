package beam

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The flexibility of approximate comes within 2e-5 of the exact one in a loaded loop with the steps of an
// evaluation, and four times as near with half of them; that of roughen does not.
func TestApproximateFlexibility(t *testing.T) {
	bend := func(angleDeg float64) Piece {
		angle := angleDeg * math.Pi / 180
		return Piece{LengthMM: math.Abs(angle), Curvature: r3.Vec{Y: math.Copysign(1, angle)}}
	}
	line := func(lengthMM float64) Piece { return Piece{LengthMM: lengthMM} }
	rod := Rod{
		Section: Section{EA: 1e4, GA2: 3e3, GA3: 3e3, GJ: 230, EI2: 280, EI3: 600},
		Pieces:  []Piece{line(4), bend(90), line(4), bend(-90), line(8), bend(-90), line(7), bend(100), line(3)},
	}
	miss := func(stepMM float64, by func(*Solver)) float64 {
		s := NewSolver(rod, Origin(), Options{StepMM: stepMM, StepRad: stepMM / 0.5 * math.Pi / 36})
		hold := Clamp(rod.UnloadedEnd(Origin()).Turned(r3.Vec{X: 0.1, Y: 0.05, Z: 0.1}))
		hold.Pose.At = r3.Add(hold.Pose.At, r3.Vec{X: -0.5, Y: 0.7, Z: 1.5})
		if err := s.Follow(hold); err != nil {
			t.Fatal(err)
		}
		s.linearise()
		exact := s.flexibility[len(s.steps)]
		by(s)
		var most, off float64
		for i := range exact {
			for j, want := range exact[i] {
				scale := 1.0 // turns by moments; shifts and forces have the wire's length for an arm
				if i >= 3 {
					scale /= s.lengthMM
				}
				if j < 3 {
					scale /= s.lengthMM
				}
				most = max(most, scale*math.Abs(want))
				off = max(off, scale*math.Abs(want-s.flexibility[len(s.steps)][i][j]))
			}
		}
		return off / most
	}
	whole, half := miss(0.5, (*Solver).approximate), miss(0.25, (*Solver).approximate)
	if !(whole < 2e-5 && half < whole/3.5) {
		t.Errorf("misses %.2g, with half the steps %.2g", whole, half)
	}
	if rough := miss(0.5, (*Solver).roughen); !(rough > 10*whole) {
		t.Errorf("roughen misses %.2g, approximate %.2g", rough, whole)
	}
}
