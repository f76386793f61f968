package solve

import (
	"fmt"
	"strconv"
	"strings"

	"springwright/design/beam"
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
	Number      int // of the bend in the order of the path, twists counted, from 1
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
	moments := meanMoments(len(s.Path), seated)
	strength := s.Wire.Strength()
	var opposed []OpposedBend
	number := 0
	for i, piece := range s.Path.Pieces() {
		size := r3.Norm(piece.Curvature)
		if size == 0 || piece.LengthMM == 0 {
			continue
		}
		number++
		axis := r3.Scale(1/size, piece.Curvature)
		along := r3.Dot(axis, moments[i])
		if ratio := strength.Ratio(r3.Scale(along, axis)); along < 0 && ratio > leastOpposing {
			opposed = append(opposed, OpposedBend{Number: number, Step: i, Twist: s.Path[i].Kind == spring.Twist, StressRatio: ratio, LimitRatio: reverseYield(s, s.Path[i])})
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
func OpposedBendsWarning(bends []OpposedBend) (w Warning, ok bool) {
	var numbers []string
	var worst OpposedBend
	for _, b := range bends {
		if !b.near() {
			continue
		}
		numbers = append(numbers, strconv.Itoa(b.Number))
		if len(numbers) == 1 || b.StressRatio*worst.LimitRatio > worst.StressRatio*b.LimitRatio {
			worst = b
		}
	}
	if len(numbers) == 0 {
		return Warning{}, false
	}
	w.Text = fmt.Sprintf("seated, the spring opens bend %s again, against the way it was bent", numbers[0])
	if len(numbers) > 1 {
		last := len(numbers) - 1
		w.Text = fmt.Sprintf("seated, the spring opens bends %s and %s again, against the way they were bent", strings.Join(numbers[:last], ", "), numbers[last])
	}
	kind, past := "bend", "bend it past its angle and come back, so that the last bend runs the way the spring works"
	if worst.Twist {
		kind, past = "twist", "twist it past its angle and come back, so that the last twist runs the way the spring works"
	}
	w.Text += fmt.Sprintf("; %s %d carries %.2f of the yield stress", kind, worst.Number, worst.StressRatio)
	w.Hint = fmt.Sprintf("a %s gives way early against its own direction, from about %.1f of the yield stress on (Bauschinger effect); %s", kind, worst.LimitRatio, past)
	w.Work = Bending
	if worst.StressRatio > worst.LimitRatio { // no mere rule of bending: the loads are in doubt
		w.Work = Anybody
	}
	return w, true
}
