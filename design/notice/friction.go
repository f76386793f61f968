package notice

import "springwright/design/tooth"

// Friction tells what friction leaves open where a wire slides through a slot: a band, and never one
// number.
type Friction struct {
	Teeth tooth.Pair   `json:"teeth"`
	Tooth tooth.Number `json:"tooth"` // in whose slot
	// CoefficientMin and CoefficientMax are the range of the wire against a slot of steel.
	CoefficientMin float64 `json:"coefficient_min"`
	CoefficientMax float64 `json:"coefficient_max"`
	Source         string  `json:"source"`
	// Component is that of the load on the active tooth which drives the travel, and Start and End its
	// lowest and highest values at both ends of the travel, N or N·mm.
	Component tooth.Component `json:"component"`
	Start     [2]float64      `json:"start"`
	End       [2]float64      `json:"end"`
	AlongN    float64         `json:"along_n"` // the largest force that it holds along the wire
	// AnchorCoupleNMM is the largest width of the band of a couple on the anchor tooth.
	AnchorCoupleNMM float64 `json:"anchor_couple_nmm"`
}

// Kind is FrictionKind.
func (Friction) Kind() Kind { return FrictionKind }

// FewMeet warns that most springs bent by hand from the design miss the target.
type FewMeet struct {
	Share float64 `json:"share"` // that meets it
}

// Kind is FewMeetKind.
func (FewMeet) Kind() Kind { return FewMeetKind }
