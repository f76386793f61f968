package notice

import "springwright/design/wire"

// LimitInWay tells that a limit stands in the way of a better spring.
type LimitInWay struct {
	Limit Limit `json:"limit"`
}

// Kind is LimitInWayKind.
func (LimitInWay) Kind() Kind { return LimitInWayKind }

// PreBendInWay tells that the largest pre-activation bend stands in the way.
type PreBendInWay struct {
	LargestRad float64 `json:"largest_rad"`
}

// Kind is PreBendInWayKind.
func (PreBendInWay) Kind() Kind { return PreBendInWayKind }

// StraightInWay tells that the shortest straight between bends stands in the way.
type StraightInWay struct {
	ShortestMM float64 `json:"shortest_mm"`
}

// Kind is StraightInWayKind.
func (StraightInWay) Kind() Kind { return StraightInWayKind }

// NumberInWay tells that a number of the pattern lies at its bound and stands in the way.
type NumberInWay struct {
	Name     string  `json:"name"` // as the pattern has it
	Angle    bool    `json:"angle"`
	LengthMM float64 `json:"length_mm"`
	AngleRad float64 `json:"angle_rad"`
}

// Kind is NumberInWayKind.
func (NumberInWay) Kind() Kind { return NumberInWayKind }

// StressInWay tells that the yield stress stands in the way.
type StressInWay struct{}

// Kind is StressInWayKind.
func (StressInWay) Kind() Kind { return StressInWayKind }

// LimitRelief tells where a limit would have to be: mm, or a number of bends.
type LimitRelief struct {
	Limit Limit   `json:"limit"`
	From  float64 `json:"from"`
	To    float64 `json:"to"`
}

// Kind is LimitReliefKind.
func (LimitRelief) Kind() Kind { return LimitReliefKind }

// HeightRelief tells which height a spring would need where no depth of the fold is given.
type HeightRelief struct {
	FromMM float64 `json:"from_mm"`
	ToMM   float64 `json:"to_mm"`
}

// Kind is HeightReliefKind.
func (HeightRelief) Kind() Kind { return HeightReliefKind }

// PreBendRelief tells which largest pre-activation bend would do.
type PreBendRelief struct {
	FromRad float64 `json:"from_rad"`
	ToRad   float64 `json:"to_rad"`
}

// Kind is PreBendReliefKind.
func (PreBendRelief) Kind() Kind { return PreBendReliefKind }

// WireRelief tells which standard wire would do within the same limits.
type WireRelief struct {
	Size  wire.Size `json:"size"`
	Alloy string    `json:"alloy"`
	Drive Drive     `json:"drive"`
}

// Kind is WireReliefKind.
func (WireRelief) Kind() Kind { return WireReliefKind }

// FamilyRelief tells which other kind of spring would do.
type FamilyRelief struct {
	Family string `json:"family"`
	Drive  Drive  `json:"drive"`
}

// Kind is FamilyReliefKind.
func (FamilyRelief) Kind() Kind { return FamilyReliefKind }

// EntryRelief tells that the same would do if the wire entered the active slot from the other side.
type EntryRelief struct {
	FromBehind bool  `json:"from_behind"`
	Drive      Drive `json:"drive"`
}

// Kind is EntryReliefKind.
func (EntryRelief) Kind() Kind { return EntryReliefKind }

// TwoSpringsRelief tells that two springs would do, one after the other.
type TwoSpringsRelief struct {
	ReactivateMM float64    `json:"reactivate_mm"`  // travel left where the second one takes over
	Wire         *NamedWire `json:"wire,omitempty"` // of both; nil: the case's own
}

// Kind is TwoSpringsReliefKind.
func (TwoSpringsRelief) Kind() Kind { return TwoSpringsReliefKind }

// NoRelief tells that nothing was found that would do.
type NoRelief struct{}

// Kind is NoReliefKind.
func (NoRelief) Kind() Kind { return NoReliefKind }
