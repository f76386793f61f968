package notice

import "springwright/design/wire"

// Task is what a spring is to do, as far as it decides which kind suits.
type Task int

// The tasks. NoTask stands where the prescriber has named the kind.
const (
	NoTask Task = iota
	SpaceClosed
	SpaceOpened
	RootAlone
	PointForce
	IncisorsIntruded
	OtherTask
	Tasks // how many there are
)

// taskNames are the names in JSON: add to them, never change one.
var taskNames = [Tasks]string{
	"", "closing a space", "opening a space", "turning a root alone", "a force at a point", "intruding incisors from a molar",
	"moving a tooth across or in height",
}

// String is the task's name in JSON.
func (t Task) String() string {
	if t < 0 || t >= Tasks {
		return ""
	}
	return taskNames[t]
}

// MarshalText is String.
func (t Task) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// KindChosen tells which kind of spring was taken where the prescriber named none, and for which
// task.
type KindChosen struct {
	Family string `json:"family"`
	Task   Task   `json:"task"`
}

// Kind is KindChosenKind.
func (KindChosen) Kind() Kind { return KindChosenKind }

// NamedWire is a wire as it lies in a drawer, mm; a round one has a diameter alone.
type NamedWire struct {
	Alloy       string  `json:"alloy"`
	ThicknessMM float64 `json:"thickness_mm,omitempty"`
	WidthMM     float64 `json:"width_mm,omitempty"`
	DiameterMM  float64 `json:"diameter_mm,omitempty"`
}

// NameOf is what tells a wire from others.
func NameOf(w wire.Wire) NamedWire {
	return NamedWire{w.Alloy, w.ThicknessMM, w.WidthMM, w.DiameterMM}
}

// Wire is a wire of that name, without its other properties.
func (n NamedWire) Wire() wire.Wire {
	return wire.Wire{Alloy: n.Alloy, ThicknessMM: n.ThicknessMM, WidthMM: n.WidthMM, DiameterMM: n.DiameterMM}
}

// WireChosen tells which wire was taken out of how many.
type WireChosen struct {
	Wire  NamedWire `json:"wire"`
	Among int       `json:"among"`
}

// Kind is WireChosenKind.
func (WireChosen) Kind() Kind { return WireChosenKind }

// Drive is what the load that drives the travel comes to with a spring that meets its target, in
// the sense that it has at the start, N or N·mm.
type Drive struct {
	Couple bool    `json:"couple"`
	Start  float64 `json:"start"`
	End    float64 `json:"end"` // where it is last asked for
}
