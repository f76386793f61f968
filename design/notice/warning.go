package notice

import "springwright/design/tooth"

// NearYield warns that the stress comes near to yield.
type NearYield struct {
	StressRatio  float64 `json:"stress_ratio"`
	TravelLeftMM float64 `json:"travel_left_mm"` // where it does so most
}

// Kind is NearYieldKind.
func (NearYield) Kind() Kind { return NearYieldKind }

// ElasticYield warns that the wire yields and its figures know nothing of it.
type ElasticYield struct {
	StressRatio  float64 `json:"stress_ratio"`
	TravelLeftMM float64 `json:"travel_left_mm"`
}

// Kind is ElasticYieldKind.
func (ElasticYield) Kind() Kind { return ElasticYieldKind }

// PermanentSet warns that the wire yields and keeps a set, which its figures reckon with.
type PermanentSet struct {
	ShiftMM float64 `json:"shift_mm"`
	TurnRad float64 `json:"turn_rad"`
	// Unknown tells that the set was not found; then the others are 0.
	Unknown bool `json:"unknown"`
}

// Kind is PermanentSetKind.
func (PermanentSet) Kind() Kind { return PermanentSetKind }

// PhaseStrain warns that a superelastic wire is strained beyond what its change of phase gives back.
type PhaseStrain struct {
	StrainRatio float64 `json:"strain_ratio"`
}

// Kind is PhaseStrainKind.
func (PhaseStrain) Kind() Kind { return PhaseStrainKind }

// HookOff warns of a hook that slides off its tooth.
type HookOff struct {
	OffMM        float64 `json:"off_mm"`
	AllowedMM    float64 `json:"allowed_mm"`
	TravelLeftMM float64 `json:"travel_left_mm"`
}

// Kind is HookOffKind.
func (HookOff) Kind() Kind { return HookOffKind }

// OpposedBends warns of bends that the activation opens so far that the wire may yield against
// them.
type OpposedBends struct {
	Bends []int `json:"bends"` // from 1 in the order of the path, twists counted
	Worst int   `json:"worst"` // of them
	Twist bool  `json:"twist"` // the worst is a twist
	// StressRatio is what the worst carries of the yield stress, LimitRatio from where on it
	// gives way.
	StressRatio float64 `json:"stress_ratio"`
	LimitRatio  float64 `json:"limit_ratio"`
}

// Kind is OpposedBendsKind.
func (OpposedBends) Kind() Kind { return OpposedBendsKind }

// OtherRest warns that the wire, free to roll in its slots, may as well lie in another way.
type OtherRest struct {
	At        int     `json:"at"`        // so many positions
	Positions int     `json:"positions"` // of so many
	ForceN    float64 `json:"force_n"`   // by which the loads differ at most
	CoupleNMM float64 `json:"couple_nmm"`
}

// Kind is OtherRestKind.
func (OtherRest) Kind() Kind { return OtherRestKind }

// Play tells what play in the slots makes of a spring: of one whose loads are those in tied slots, or
// what its loads would be in tied ones.
type Play struct {
	Teeth     tooth.Pair      `json:"teeth"`
	Seated    bool            `json:"seated,omitempty"` // the loads that are told are those with play
	Hook      bool            `json:"hook"`             // the active end is hooked and has no play
	Component tooth.Component `json:"component"`
	// Tied and Played are what that component of the load on the active tooth is at the start,
	// N or N·mm.
	Tied            float64 `json:"tied"`
	Played          float64 `json:"played"`
	ActiveCoupleNMM float64 `json:"active_couple_nmm"` // largest change of the couple
	AnchorCoupleNMM float64 `json:"anchor_couple_nmm"`
}

// Kind is PlayKind.
func (Play) Kind() Kind { return PlayKind }

// SlidToRest tells that the wire is slid until no force along it is left before it is tied.
type SlidToRest struct {
	Tooth tooth.Number `json:"tooth"` // in whose slot
	// OutMM is how far the wire comes out of that slot from where it is drawn; below 0 it goes farther in.
	OutMM float64 `json:"out_mm"`
	// DrawnN is the force to which it is drawn instead; 0: to rest.
	DrawnN float64 `json:"drawn_n,omitempty"`
}

// Kind is SlidToRestKind.
func (SlidToRest) Kind() Kind { return SlidToRestKind }

// TravelNotMade warns that the predicted drift does not bring the tooth along its planned travel.
type TravelNotMade struct {
	Tooth tooth.Number `json:"tooth"`
}

// Kind is TravelNotMadeKind.
func (TravelNotMade) Kind() Kind { return TravelNotMadeKind }

// UnplannedTurn warns that the active tooth is predicted to turn far beyond what is planned.
type UnplannedTurn struct {
	Teeth     tooth.Pair      `json:"teeth"`
	Component tooth.Component `json:"component"` // the couple about whose axis it turns
	TurnRad   float64         `json:"turn_rad"`
}

// Kind is UnplannedTurnKind.
func (UnplannedTurn) Kind() Kind { return UnplannedTurnKind }

// UnaskedForce warns that a force on the active tooth that nobody asked for is the largest.
type UnaskedForce struct {
	Teeth     tooth.Pair      `json:"teeth"`
	Component tooth.Component `json:"component"`
	ForceN    float64         `json:"force_n"`
	AskedN    float64         `json:"asked_n"` // size of the largest that was asked for
}

// Kind is UnaskedForceKind.
func (UnaskedForce) Kind() Kind { return UnaskedForceKind }

// TeethUnnamed warns that a spring file does not say for which side the spring is.
type TeethUnnamed struct {
	File  string     `json:"file"`
	Teeth tooth.Pair `json:"teeth"` // that it is taken for
}

// Kind is TeethUnnamedKind.
func (TeethUnnamed) Kind() Kind { return TeethUnnamedKind }
