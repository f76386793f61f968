package solve

import (
	"springwright/design/beam"
	"springwright/design/notice"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// A wire bent by hand yields sooner when it is loaded against its last bend than along it
// (Bauschinger effect), so an activation should run in the direction of the last bend
// (common practice).

// leastOpposing is the share of yield below which a moment against a bend is of no account.
const leastOpposing = 0.1

// OpposedBend is a bend or twist that the activation bends back open.
type OpposedBend struct {
	Number      int // of the bend: see Path.BendNumbers
	Step        int // index into the path
	Twist       bool
	StressRatio float64 // stress by the moment against the bend over yield, elastic
	// LimitRatio is the stress ratio at which the wire yields against this bend: see
	// wire.Wire.ReverseYield.
	LimitRatio float64
}

// near tells whether the wire comes about as near to yield against the bend as it may to
// yield at all.
func (b OpposedBend) near() bool { return b.StressRatio > warnStressRatio*b.LimitRatio }

// opposedBends returns the bends and twists against which the wire is loaded by more than a
// tenth of yield, elastically, the moment averaged over the bend: from the nodes of the
// wire in its first seat. A wire that is stress-relieved after bending has none.
func opposedBends(s spring.Spring, seated []beam.Node) []OpposedBend {
	if s.Wire.StressRelieved {
		return nil
	}
	steps, numbers := s.Path.Steps(), s.Path.BendNumbers()
	moments := meanMoments(len(steps), seated)
	strength := s.Wire.Strength()
	var opposed []OpposedBend
	for i, piece := range s.Path.Pieces() {
		if numbers[i] == 0 {
			continue
		}
		axis := r3.Scale(1/r3.Norm(piece.Curvature), piece.Curvature)
		along := r3.Dot(axis, moments[i])
		if ratio := strength.Ratio(r3.Scale(along, axis)); along < 0 && ratio > leastOpposing {
			opposed = append(opposed, OpposedBend{Number: numbers[i], Step: i, Twist: steps[i].Kind == spring.Twist, StressRatio: ratio, LimitRatio: reverseYield(s, steps[i])})
		}
	}
	return opposed
}

// reverseYield is the stress ratio at which the wire yields against a bend or twist.
func reverseYield(s spring.Spring, step spring.Step) float64 {
	if step.Kind == spring.Twist {
		return s.Wire.ReverseTwistYield()
	}
	return s.Wire.ReverseYield(step.RadiusMM, step.Order)
}

// warnOfOpposedBends adds the warning of a spring whose activation may open its own bends.
func (e *Evaluation) warnOfOpposedBends(bends []OpposedBend) {
	if w, found := OpposedBendsWarning(bends); found {
		e.Warnings = append(e.Warnings, w)
	}
}

// meanMoments returns the mean internal moment over each piece, N·mm on the section frame,
// by the trapezoidal rule; zero for a piece of no length.
func meanMoments(pieces int, nodes []beam.Node) []r3.Vec {
	sums, lengths := make([]r3.Vec, pieces), make([]float64, pieces)
	for i := 1; i < len(nodes); i++ {
		before, n := nodes[i-1], nodes[i]
		length := n.ArcMM - before.ArcMM
		sums[n.Piece] = r3.Add(sums[n.Piece], r3.Scale(length/2, r3.Add(before.MomentNMM, n.MomentNMM)))
		lengths[n.Piece] += length
	}
	for i, length := range lengths {
		if length > 0 {
			sums[i] = r3.Scale(1/length, sums[i])
		}
	}
	return sums
}

// OpposedBendsWarning warns of bends that the activation opens so far that the wire may
// yield against them; ok is false without any.
func OpposedBendsWarning(bends []OpposedBend) (w notice.OpposedBends, ok bool) {
	for _, b := range bends {
		if !b.near() {
			continue
		}
		if len(w.Bends) == 0 || b.StressRatio*w.LimitRatio > w.StressRatio*b.LimitRatio {
			w.Worst, w.Twist, w.StressRatio, w.LimitRatio = b.Number, b.Twist, b.StressRatio, b.LimitRatio
		}
		w.Bends = append(w.Bends, b.Number)
	}
	return w, len(w.Bends) > 0
}
