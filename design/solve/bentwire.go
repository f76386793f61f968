package solve

import (
	"fmt"
	"math"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bends hold the stress that bending left (see wire.Bending), so that a spring whose
// stress nowhere comes to yield as an elastic wire's may yield in a bend all the same: against
// it from half the yield moment on, and little by little under any moment or twist that does
// not lie along it. Whether that matters to the loads is told from the loads of the elastic
// wire. To curvatures k that sections gain by yielding under their moments m, the loads of a
// spring that is moved by one load answer by
//
//	loss = ∫ m·k ds / ∫ m·κ ds
//
// of themselves (virtual work with the moments of that load), where κ are the curvatures of the
// elastic wire. Of 200 springs drawn at random, in and out of plane, tied and sliding, with stresses of
// 0.3 to 1 times yield, 39 lose more than leastBentLoss by this; of all others no load is more
// than 0.8 % of the largest off. It came out at 0.6 to 1.4 times the largest miss of those 39
// (TestBentLossOfRandomSprings).

const (
	// leastBentLoss is a loss that is left out: solved with their history, loads are 0.4 % off
	// anyway (see historyStepMM).
	leastBentLoss = 0.005
	// leastAcross is the share of yield below which a moment across a bend or about another
	// axis is of no account: what yields under it lies about the core that bending left elastic,
	// some 6 % of the section, and gains less than a thousandth of the elastic curvature
	// (TestBendsHardlyYieldAcross).
	leastAcross = 0.1
	// bentStationRad is the longest part of a bend over which the moment is averaged (choice:
	// three parts a corner).
	bentStationRad = math.Pi / 6
)

// bentCheck follows the bends of an elastic wire over the travel and tells how much of the
// loads they lose by yielding.
type bentCheck struct {
	spring   spring.Spring
	steps    spring.Steps
	pieces   []beam.Piece
	section  beam.Section
	strength wire.Strength
	bending  *wire.Bending
	stations map[bentStation]beam.Point
	loss     float64 // the largest over the travel so far, as a share of the largest loads
	energy   float64 // the largest ∫ m·κ ds over the travel so far, N·mm
}

// bentStation is a part of a bend: its step and its place in the order of the path.
type bentStation struct{ step, part int }

func newBentCheck(s spring.Spring, section beam.Section, strength wire.Strength) *bentCheck {
	return &bentCheck{spring: s, steps: s.Path.Steps(), pieces: s.Path.Pieces(), section: section, strength: strength, bending: s.Wire.Bending(), stations: map[bentStation]beam.Point{}}
}

// yieldTooMuch tells whether the loads of the elastic wire are off by more than is left out.
func (b *bentCheck) yieldTooMuch() bool { return b.loss > leastBentLoss }

// follow takes the check to the next position. nodes are those of the elastic wire.
func (b *bentCheck) follow(nodes []beam.Node) error {
	if b.spring.Wire.StressRelieved {
		return nil
	}
	var energy, lost float64
	part := 0
	var sum r3.Vec // of moment by length in this part, so long
	var lengthMM float64
	for i := 1; i < len(nodes); i++ {
		n := nodes[i]
		piece := b.pieces[n.Piece]
		ds := n.ArcMM - nodes[i-1].ArcMM
		moment := r3.Scale(0.5, r3.Add(nodes[i-1].MomentNMM, n.MomentNMM))
		energy += ds * r3.Dot(moment, b.elastic(moment))
		curvature := r3.Norm(piece.Curvature)
		if curvature == 0 {
			continue
		}
		sum, lengthMM = r3.Add(sum, r3.Scale(ds, moment)), lengthMM+ds
		lastOfPiece := i == len(nodes)-1 || nodes[i+1].Piece != n.Piece
		const rounding = 1e-9
		if lengthMM == 0 || !lastOfPiece && curvature*lengthMM < bentStationRad*(1-rounding) {
			continue
		}
		mean := r3.Scale(1/lengthMM, sum)
		gained, err := b.gained(bentStation{n.Piece, part}, piece, mean)
		if err != nil {
			return err
		}
		lost += lengthMM * r3.Dot(mean, r3.Sub(gained, b.elastic(mean)))
		sum, lengthMM = r3.Vec{}, 0
		part++
	}
	b.energy = max(b.energy, energy)
	if energy > 0 {
		b.loss = max(b.loss, lost/math.Sqrt(energy*b.energy))
	}
	return nil
}

// elastic is the curvature of a section that does not yield.
func (b *bentCheck) elastic(moment r3.Vec) r3.Vec {
	return r3.Vec{X: moment.X / b.section.GJ, Y: moment.Y / b.section.EI2, Z: moment.Z / b.section.EI3}
}

// gained returns what curvature a station has beyond that of its bend, under a moment.
func (b *bentCheck) gained(at bentStation, piece beam.Piece, moment r3.Vec) (r3.Vec, error) {
	point, known := b.stations[at]
	if !known {
		axis := r3.Unit(piece.Curvature)
		along := r3.Dot(axis, moment)
		against := b.strength.Ratio(r3.Scale(along, axis))
		if along > 0 {
			against = 0
		}
		across := b.strength.Ratio(r3.Sub(moment, r3.Scale(along, axis)))
		if across < leastAcross && against+across < reverseYield(b.spring, b.steps[at.step]) {
			return b.elastic(moment), nil
		}
		section, _, err := b.bending.Fibres(piece.Curvature)
		if err != nil {
			return r3.Vec{}, err
		}
		point = section.NewPoint()
		b.stations[at] = point
	}
	stretch, _, ok := point.Respond(beam.Stretch{0, moment.X, moment.Y, moment.Z})
	if !ok {
		return r3.Vec{}, fmt.Errorf("bend in step %d of the path, moments (%.3g, %.3g, %.3g) N·mm: %w", at.step+1, moment.X, moment.Y, moment.Z, beam.ErrNoConvergence)
	}
	point.Keep()
	return r3.Vec{X: stretch[1], Y: stretch[2], Z: stretch[3]}, nil
}
