package wire

// Friction is the range of the coefficient of sliding friction of a wire in a steel slot in the
// mouth, and where it comes from.
type Friction struct {
	Min, Max float64
	Source   string
}

// anyFriction is that of all others: cobalt-chromium is about as smooth as steel, nickel-titanium
// between steel and beta-titanium (from memory).
var anyFriction = Friction{0.14, 0.5, "the range of steel and beta-titanium (choice)"}

// FrictionRange is the range of the wire's coefficient of friction against a slot of steel, by the name of its alloy.
// Those of two alloys were measured against steel brackets (Kusy, Whitley and Prewitt, Angle Orthod 1991;61:293): dry
// 0.14 for steel and 0.46 for beta-titanium; in saliva up to 0.05 more for steel, and about half for beta-titanium,
// where other slots and speeds bring it back to the dry value. So for beta-titanium it is a wide range.
func (w Wire) FrictionRange() Friction {
	if alloy, err := LookUp(w.Alloy); err == nil && alloy.Friction.Max > 0 {
		return alloy.Friction
	}
	return anyFriction
}
