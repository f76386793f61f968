package effect

import (
	"context"
	"errors"
	"math"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// WireData is which data a wire is taken with.
type WireData int

const (
	UsualData WireData = iota // those of the table
	LowEnd                    // of a superelastic alloy: the weakest of its range
	HighEnd                   // the strongest
)

// String returns the word used in files.
func (d WireData) String() string { return [...]string{"usual", "low end", "high end"}[d] }

// StraightState is how a straight wire is taken and where it has come from.
type StraightState struct {
	Data WireData
	Next tooth.Number // in whose slot the wire goes on beyond the anchor; 0: it ends in the anchor slot
	// LetBack tells that it was put in with all of the travel left and has come back from there; else it is
	// put in at this place. To a superelastic wire that makes a difference.
	LetBack bool
}

// ArguedLoads are what is argued about of a spring or wire at one place of the travel. Forces are along the
// travel, of the active tooth above 0 where they drive it on, of the anchor where they are
// against that. Couples and moments are those that tip, crown-mesial above 0: at the slots, and about the centres
// of resistance.
type ArguedLoads struct {
	ForceN, ActiveCoupleNMM, ActiveMomentNMM       float64
	AnchorForceN, AnchorCoupleNMM, AnchorMomentNMM float64
	NextForceN                                     float64 // on the tooth beyond the anchor, along the travel
}

// AnchorCouplePerForceMM is the couple on the anchor tooth for each newton of force on the active one, without signs; ok is
// false where there is no force worth naming.
func (l ArguedLoads) AnchorCouplePerForceMM() (perForceMM float64, ok bool) {
	if !(math.Abs(l.ForceN) >= LeastForceN) {
		return 0, false
	}
	return math.Abs(l.AnchorCoupleNMM / l.ForceN), true
}

// StraightFigure are the loads of a straight wire in one state.
type StraightFigure struct {
	State        StraightState
	TravelLeftMM float64
	Loads        ArguedLoads
	StressRatio  float64 // the largest on the way, as in a position; above 1 a superelastic wire keeps a set
}

// nextSlotLengthMM is the length of a bracket in front of the molars (common practice).
const nextSlotLengthMM = 3.0

// NextSlot is the slot beyond the anchor as usual: in the middle of a crown of usual width that touches the
// anchor's, as high as the anchor slot, its wire playing and free to shift. ok is false where there is none.
func NextSlot(c design.Case) (slot solve.NextSlot, number tooth.Number, ok bool) {
	number = c.Teeth.Beyond()
	if number == 0 || !(c.AnchorSlot.LengthMM > 0) {
		return slot, 0, false
	}
	slot = solve.NextSlot{DistanceMM: (c.Teeth.Anchor.CrownWidthMM() + number.CrownWidthMM()) / 2, LengthMM: nextSlotLengthMM, Hold: loose(c.AnchorSlot)}
	if number.Molar() {
		slot.LengthMM = c.AnchorSlot.LengthMM
	}
	return slot, number, true
}

// loose is how a straight wire lies in a slot: it turns and shifts up and down by its clearance. Seen from the
// cheek it is the same in a tube and under a ligature.
func loose(slot spring.Slot) spring.SlotHold {
	if slot.Fast || !(slot.HeightMM > 0) {
		return spring.SlotHold{}
	}
	return spring.SlotHold{Play: true, Shifts: true, HeightMM: slot.HeightMM}
}

// straightWay solves a straight wire of a case from a share of the travel on, at so many positions; with a
// third slot where next is given.
func straightWay(ctx context.Context, c design.Case, w wire.Wire, next *solve.NextSlot, from float64, positions int) (solve.Continued, error) {
	s := StraightSpring(c, "", w)
	s.AnchorHold, s.ActiveHold = loose(c.AnchorSlot), loose(c.ActiveSlot)
	s.Start, s.Positions = s.Start.Towards(s.End, from), positions
	return solve.EvaluateStraight(ctx, s, next)
}

// arguer turns loads into what is argued about.
type arguer struct {
	travel         spring.Travel
	mesial         float64
	active, anchor r3.Vec // centres of resistance from the slots' centres
}

func newArguer(c design.Case) arguer {
	return arguer{
		travel: c.SpringFor(spring.Path{}).Travel(), mesial: c.Teeth.ClinicalSign(tooth.CoupleY),
		active: tooth.ResistanceOffset(c.Teeth, c.Resistance.Active), anchor: c.AnchorOffset(),
	}
}

func (a arguer) loads(p spring.Position, next tooth.Load) ArguedLoads {
	return ArguedLoads{
		ForceN:          a.travel.Along(p.Active),
		ActiveCoupleNMM: a.mesial * p.Active.CoupleNMM.Y,
		ActiveMomentNMM: a.mesial * p.Active.AtResistance(a.active).CoupleNMM.Y,
		AnchorForceN:    -a.travel.Along(p.Anchor),
		AnchorCoupleNMM: a.mesial * p.Anchor.CoupleNMM.Y,
		AnchorMomentNMM: a.mesial * p.Anchor.AtResistance(a.anchor).CoupleNMM.Y,
		NextForceN:      a.travel.Along(next),
	}
}

// way are the loads over a travel, the longest way left first.
type way struct {
	state  StraightState
	leftMM []float64
	loads  []ArguedLoads
	stress float64 // the largest ratio
}

// way are the loads at positions evenly spaced over the last so many millimetres of the travel of the slot's centre.
func (a arguer) way(c solve.Continued, fromMM float64) (w way) {
	for i, p := range c.Positions {
		var next tooth.Load
		if c.Next != nil {
			next = c.Next[i]
		}
		left := fromMM
		if n := len(c.Positions); n > 1 {
			left *= 1 - float64(i)/float64(n-1)
		}
		w.leftMM = append(w.leftMM, left)
		w.loads = append(w.loads, a.loads(p, next))
		w.stress = max(w.stress, p.StressRatio)
	}
	return w
}

// at are the loads with so much travel left, between positions in proportion.
func (w way) at(leftMM float64) ArguedLoads {
	if leftMM >= w.leftMM[0] {
		return w.loads[0]
	}
	for i := 1; i < len(w.loads); i++ {
		if w.leftMM[i] <= leftMM && w.leftMM[i] < w.leftMM[i-1] {
			return w.loads[i-1].towards(w.loads[i], (w.leftMM[i-1]-leftMM)/(w.leftMM[i-1]-w.leftMM[i]))
		}
	}
	return w.loads[len(w.loads)-1]
}

// whereForce is the place at which the force has first come down to forceN; ok is false where it is less
// from the start, or never.
func (w way) whereForce(forceN float64) (leftMM float64, ok bool) {
	for i := 1; i < len(w.loads); i++ {
		if high, low := w.loads[i-1].ForceN, w.loads[i].ForceN; high >= forceN && low < forceN {
			return w.leftMM[i-1] + (w.leftMM[i]-w.leftMM[i-1])*(high-forceN)/(high-low), true
		}
	}
	return 0, false
}

func (l ArguedLoads) towards(to ArguedLoads, share float64) ArguedLoads {
	mix := func(a, b float64) float64 { return a + share*(b-a) }
	return ArguedLoads{
		ForceN:          mix(l.ForceN, to.ForceN),
		ActiveCoupleNMM: mix(l.ActiveCoupleNMM, to.ActiveCoupleNMM), ActiveMomentNMM: mix(l.ActiveMomentNMM, to.ActiveMomentNMM),
		AnchorForceN:    mix(l.AnchorForceN, to.AnchorForceN),
		AnchorCoupleNMM: mix(l.AnchorCoupleNMM, to.AnchorCoupleNMM), AnchorMomentNMM: mix(l.AnchorMomentNMM, to.AnchorMomentNMM),
		NextForceN: mix(l.NextForceN, to.NextForceN),
	}
}

// wiresTaken are the wires whose data stand for a straight wire: both ends of a superelastic one's range.
func wiresTaken(w wire.Wire) map[WireData]wire.Wire {
	if low, high, ok := w.SuperelasticEnds(); ok {
		return map[WireData]wire.Wire{LowEnd: low, HighEnd: high}
	}
	return map[WireData]wire.Wire{UsualData: w}
}

// arguedTravelsMM are the places of a travel at which wires are put in: all of it, and 3, 2 and 1 mm where that
// is less.
func arguedTravelsMM(travelMM float64) []float64 {
	all := []float64{travelMM}
	for _, mm := range [...]float64{3, 2, 1} {
		if mm < travelMM-leastApartMM {
			all = append(all, mm)
		}
	}
	return all
}

// leastApartMM is how far two places of the travel have to lie apart to be told apart (choice).
const leastApartMM = 0.2

// straightFigures solves a straight wire of a case in all states: with the data of both ends of its range,
// with and without a third support, put in at each of the argued places and let back to it. A state in which
// it yields or cannot be solved has no figures; unsolved counts them. The error is that of ctx.
func straightFigures(ctx context.Context, c design.Case, w wire.Wire) (figures []StraightFigure, ways []way, unsolved int, err error) {
	a := newArguer(c)
	travelMM := r3.Norm(a.travel.Way)
	places := arguedTravelsMM(travelMM)
	taken := wiresTaken(w)
	nexts := []*solve.NextSlot{nil}
	slot, number, ok := NextSlot(c)
	if ok {
		nexts = append(nexts, &slot)
	}
	for _, data := range [...]WireData{UsualData, LowEnd, HighEnd} {
		w, ok := taken[data]
		if !ok {
			continue
		}
		for _, next := range nexts {
			state := StraightState{Data: data}
			if next != nil {
				state.Next = number
			}
			for i, place := range places {
				positions := 1
				if i == 0 {
					positions = 1 + int(math.Ceil(travelMM/wayStepMM))
				}
				solved, err := straightWay(ctx, c, w, next, 1-place/travelMM, positions)
				if stopped := ctx.Err(); stopped != nil {
					return nil, nil, 0, stopped
				}
				if err != nil || len(solved.Positions) == 0 {
					if errors.Is(err, solve.ErrNotInPlane) {
						return nil, nil, 0, err
					}
					unsolved++
					continue
				}
				way := a.way(solved, place)
				figures = append(figures, StraightFigure{state, place, way.loads[0], way.stress})
				if i > 0 {
					continue
				}
				back := state
				back.LetBack = true
				way.state = back
				ways = append(ways, way)
				for _, left := range places[1:] {
					figures = append(figures, StraightFigure{back, left, way.at(left), way.stress})
				}
			}
		}
	}
	return figures, ways, unsolved, nil
}

// wayStepMM is how closely the way back is solved: loads between are taken in proportion.
const wayStepMM = 0.25
