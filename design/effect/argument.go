package effect

import (
	"context"
	"errors"
	"math"
	"slices"

	"springwright/design"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Argument is what the trade argues about, reckoned for one case: a spring against a straight wire over the
// same travel.
//
// Published measurements of a 0.014 in superelastic arch against rectangular loops on an over-erupted second
// molar (Am J Orthod Dentofacial Orthop 2018, abstracts; one of them doi 10.1016/j.ajodo.2017.07.021): at 3 mm
// the arch's forces are larger, the tipping couples on the first molar's tube not significantly so, but the
// moment about its centre of resistance. With the molar 2.5 mm high and tipped mesially 20° loop and
// arch put 5.6 and 2.1 N·mm on the first molar, 0.41 and 0.53 N, with like forces on the second; tipped distally
// 2.3 and 4.2 N·mm, 0.59 and 1.10 N, and 0.52 and 0.92 N on the second. So the arch puts 0.1 to 0.2 N more on
// the first molar than on the second: what it puts on the tooth in front. EvaluateStraight finds 0.16 N with the
// weakest data and 0.3 N with the strongest; see TestStraightArchAgainstLoadCells.
//
// The moment about the centre of resistance is not larger here: a wire that slides without friction carries no
// force along the arch, and the arch measured there did.
//
// TestStudyOfStraightWires has the table of when it is true that the straight wire's force at 2 to 3 mm and its
// couple on the anchor are clearly larger than those of a loop of 0.4 to 0.5 N, slots 8 to 13 mm apart. The force
// is, put in, at all these distances; with the weakest data beside 0.5 N up to 12 mm; let back to 2 mm up to 9 mm with the
// weakest and 12 mm with the strongest. The couple is, put in, up to 9 mm with the weakest and 10 to 12 mm with the strongest
// data; going on into the next slot takes 1 to 2 mm off that; let back up to 9 mm at most. For a loop without a couple on
// the active tooth leaves the anchor with force times distance, and a straight wire with about half of its own, so that
// it takes a force more than twice as large. At 3 mm, and nearer than 11 mm at 2 mm, the outermost fibres are strained
// farther than the law gives back, so that real wires push less than told there, not more.
type Argument struct {
	Next  tooth.Number // in whose slot the wire goes on; 0: there is none
	Loop  []PlacedLoads
	Wires []StraightFigure
	// AtEqualForce are the places at which the wire, let back, has come down to the force that the spring
	// starts with.
	AtEqualForce []StraightFigure
	Heard        []Heard
	Unsolved     int // states without figures, in which the wire yields or no equilibrium was found
}

// PlacedLoads are loads at a place of the travel.
type PlacedLoads struct {
	TravelLeftMM float64
	Loads        ArguedLoads
}

// Saying is one of those usual among clinicians (common practice).
type Saying int

const (
	WireForceLarger  Saying = iota // the straight wire's force is clearly larger
	WireCoupleLarger               // its couple on the anchor is clearly larger, at the slot
	WireMomentLarger               // the same about the anchor's centre of resistance
	BothTipAlike                   // it tips both teeth the same way
	SmallTravelWire                // for a small travel the straight wire will do
	LargeTravelLoop                // for a large one take a loop
)

// String returns the words used in files.
func (s Saying) String() string {
	return [...]string{
		"the straight wire's force is clearly larger", "its couple on the anchor is clearly larger",
		"its moment about the anchor's centre of resistance is clearly larger", "the straight wire tips both teeth the same way",
		"small travel: the straight wire will do", "large travel: a loop",
	}[s]
}

// Heard is a saying held against the figures.
type Heard struct {
	Saying Saying
	// FromMM and ToMM are the least and the largest travel that it was tried at, and Holds of Of states
	// in which it holds.
	FromMM, ToMM float64
	Holds, Of    int
	Only         Condition // that tells those in which it holds from the others
	// Least and Most are how many times as much the wire has as the spring; 0 where nothing is compared.
	Least, Most float64
}

// Condition is what some states of a straight wire have in common.
type Condition int

const (
	NoCondition Condition = iota
	WeakestData
	StrongestData
	EndsAtAnchor
	GoesOn
	IsPutIn
	IsLetBack
)

// String returns the words used in files.
func (c Condition) String() string {
	return [...]string{"", "weakest data", "strongest data", "ends in the anchor slot", "goes on", "put in", "let back"}[c]
}

// Meets tells whether a state has that in common.
func (s StraightState) Meets(c Condition) bool {
	return [...]bool{true, s.Data == LowEnd, s.Data == HighEnd, s.Next == 0, s.Next > 0, !s.LetBack, s.LetBack}[c]
}

// conditionOf is the one by which a saying holds in some states and not in the others.
func conditionOf(holds map[StraightFigure]bool) Condition {
	for c := WeakestData; c <= IsLetBack; c++ {
		tells, met := true, 0
		for f, h := range holds {
			if f.State.Meets(c) {
				met++
			}
			tells = tells && f.State.Meets(c) == h
		}
		if tells && met > 0 && met < len(holds) {
			return c
		}
	}
	return NoCondition
}

// Compares tells whether the saying is one of how many times as much.
func (h Heard) Compares() bool { return h.Saying <= WireMomentLarger }

const (
	// ClearlyLarger is how many times as much counts as clearly more: wires of one name differ by as much
	// (choice).
	ClearlyLarger = 1.2
	// LeastShare is the share of the spring's force below which a straight wire does too little to take its place; light
	// forces move teeth, too (choice).
	LeastShare    = 1.0 / 3
	smallTravelMM = 1.0 // of the sayings (common practice)
	largeTravelMM = 2.0
)

// Argued is a straight candidate with what is argued about it beside a spring; without where there is nothing to
// argue: the slot does not go up or down in the plane seen from the cheek, one of the two has no figures, or
// nothing is put into a slot. The error is that of ctx.
func (c Candidate) Argued(ctx context.Context, wanted design.Case, loop Candidate) (Candidate, error) {
	travel := newArguer(wanted).travel
	along, _ := travel.Component()
	if !c.Straight || loop.Straight || loop.Withheld != nil || travel.None() || along != tooth.ForceZ || wanted.ActiveSlot.Hook ||
		!(wanted.AnchorSlot.LengthMM > 0) || !(wanted.ActiveSlot.LengthMM > 0) {
		return c, nil
	}
	a, err := argue(ctx, wanted, loop.Positions(), c.Spring.Wire)
	if err == nil && len(a.Wires) > 0 {
		c.Argument = &a
	}
	if errors.Is(err, solve.ErrNotInPlane) {
		err = nil
	}
	return c, err
}

// argue holds a straight wire against a spring with loads over the travel.
func argue(ctx context.Context, c design.Case, loop []spring.Position, w wire.Wire) (Argument, error) {
	in := newArguer(c)
	travelMM := r3.Norm(in.travel.Way)
	bent := in.way(solve.Continued{Positions: loop}, travelMM)
	figures, ways, unsolved, err := straightFigures(ctx, c, w)
	if err != nil {
		return Argument{}, err
	}
	a := Argument{Wires: figures, Unsolved: unsolved}
	_, a.Next, _ = NextSlot(c)
	for _, place := range arguedTravelsMM(travelMM) {
		a.Loop = append(a.Loop, PlacedLoads{place, bent.at(place)})
	}
	for _, way := range ways {
		if left, ok := way.whereForce(a.Loop[0].Loads.ForceN); ok {
			a.AtEqualForce = append(a.AtEqualForce, StraightFigure{way.state, left, way.at(left), way.stress})
		}
	}
	a.hear(allowedForceN(c))
	return a, nil
}

// allowedForceN is the largest force along the travel that a target allows, 0 where it does not say.
func allowedForceN(c design.Case) float64 {
	component, sign := c.SpringFor(spring.Path{}).Travel().Component()
	window := c.Target.Start.ForceN[component-tooth.ForceX]
	most := window.Max
	if sign < 0 {
		most = -window.Min
	}
	if window.Free() || math.IsInf(most, 0) {
		return 0
	}
	return max(0, most)
}

// Strained counts the figures of a wire that is bent farther than its alloy gives back.
func (a *Argument) Strained() (count int) {
	for _, f := range a.Wires {
		if f.StressRatio > 1 {
			count++
		}
	}
	return count
}

// Finite tells whether all its numbers are.
func (a *Argument) Finite() bool {
	sum := 0.0
	add := func(l ArguedLoads, leftMM float64) {
		sum += l.ForceN + l.ActiveCoupleNMM + l.ActiveMomentNMM + l.AnchorForceN + l.AnchorCoupleNMM + l.AnchorMomentNMM + l.NextForceN + leftMM
	}
	for _, p := range a.Loop {
		add(p.Loads, p.TravelLeftMM)
	}
	for _, f := range slices.Concat(a.Wires, a.AtEqualForce) {
		add(f.Loads, f.TravelLeftMM+f.StressRatio)
	}
	for _, h := range a.Heard {
		sum += h.FromMM + h.ToMM + h.Least + h.Most
	}
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

// Beside are the spring's loads that a straight wire's are held against: those at the same place where it was let
// back, and the first ones where it is put in, for a spring made for less travel would have those there.
func (a *Argument) Beside(f StraightFigure) ArguedLoads {
	for _, p := range a.Loop {
		if f.State.LetBack && p.TravelLeftMM == f.TravelLeftMM {
			return p.Loads
		}
	}
	return a.Loop[0].Loads
}

// hear holds each saying against the figures.
//
// In one piece: a list of sayings.
func (a *Argument) hear(allowedN float64) {
	const roundingMM = 1e-9
	large := func(f StraightFigure) bool { return f.TravelLeftMM >= largeTravelMM-roundingMM }
	// A small travel is one that the wire is put in over.
	small := func(f StraightFigure) bool { return f.TravelLeftMM <= smallTravelMM+roundingMM && !f.State.LetBack }
	everywhere := func(StraightFigure) bool { return true }
	larger := func(of func(ArguedLoads) float64, least float64) func(wire, loop ArguedLoads) (holds bool, times float64, ok bool) {
		return func(wire, loop ArguedLoads) (bool, float64, bool) {
			mine, other := math.Abs(of(wire)), math.Abs(of(loop))
			if !(other >= least) {
				return false, 0, false
			}
			return mine >= ClearlyLarger*other, mine / other, true
		}
	}
	willDo := func(wire, loop ArguedLoads) bool {
		allowed := max(allowedN, ClearlyLarger*math.Abs(loop.ForceN))
		return wire.ForceN >= LeastShare*loop.ForceN && wire.ForceN > 0 &&
			wire.ForceN <= allowed && math.Abs(wire.AnchorForceN) <= allowed &&
			math.Abs(wire.AnchorCoupleNMM) <= max(ClearlyLarger*math.Abs(loop.AnchorCoupleNMM), LeastCoupleNMM)
	}
	for _, s := range [...]struct {
		saying Saying
		about  func(StraightFigure) bool
		holds  func(wire, loop ArguedLoads) (holds bool, times float64, ok bool)
	}{
		{WireForceLarger, large, larger(func(l ArguedLoads) float64 { return l.ForceN }, LeastForceN)},
		{WireCoupleLarger, large, larger(func(l ArguedLoads) float64 { return l.AnchorCoupleNMM }, LeastCoupleNMM)},
		{WireMomentLarger, large, larger(func(l ArguedLoads) float64 { return l.AnchorMomentNMM }, LeastCoupleNMM)},
		{BothTipAlike, everywhere, func(wire, _ ArguedLoads) (bool, float64, bool) {
			ratio, ok := ratioOf(wire.ActiveCoupleNMM, wire.AnchorCoupleNMM)
			return ratio > 0, 0, ok
		}},
		{SmallTravelWire, small, func(wire, loop ArguedLoads) (bool, float64, bool) {
			return willDo(wire, loop), 0, true
		}},
		{LargeTravelLoop, large, func(wire, loop ArguedLoads) (bool, float64, bool) {
			return !willDo(wire, loop), 0, true
		}},
	} {
		in := map[StraightFigure]bool{}
		h := Heard{Saying: s.saying, FromMM: math.Inf(1), Least: math.Inf(1)}
		for _, f := range a.Wires {
			if !s.about(f) {
				continue
			}
			holds, times, ok := s.holds(f.Loads, a.Beside(f))
			if !ok {
				continue
			}
			h.Of++
			in[f] = holds
			if holds {
				h.Holds++
			}
			h.FromMM, h.ToMM = min(h.FromMM, f.TravelLeftMM), max(h.ToMM, f.TravelLeftMM)
			h.Least, h.Most = min(h.Least, times), max(h.Most, times)
		}
		h.Only = conditionOf(in)
		if h.Of > 0 {
			a.Heard = append(a.Heard, h)
		}
	}
}

// SmallTravel tells whether a case is one of those that may be left to a straight wire (common practice): up or down
// by 1 mm or less, from a slot into a slot. Argued says whether it will do.
func SmallTravel(c design.Case) bool {
	travel := newArguer(c).travel
	along, _ := travel.Component()
	return !travel.None() && along == tooth.ForceZ && r3.Norm(travel.Way) <= smallTravelMM+1e-9 &&
		!c.ActiveSlot.Hook && c.AnchorSlot.LengthMM > 0 && c.ActiveSlot.LengthMM > 0
}
