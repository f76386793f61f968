package target

// Target is the load system wanted on the active tooth, and what the anchor tooth can bear.
type Target struct {
	Start  LoadWindow // at the first position
	Travel LoadWindow // at every position; forces only while ForceUntilMM of travel are left
	// ForceUntilMM is the travel left below which the force is no longer asked for: near
	// its neutral position every spring goes slack.
	ForceUntilMM float64
	// Anchor is for the load on the anchor tooth, as Travel for that on the active one.
	Anchor LoadWindow
	// MomentToForceMM is the window of MomentToForce, at every position where a force is
	// asked for. Travel has to ask for one along x and not to allow 0.
	MomentToForceMM Window
	MaxRateNPerMM   float64 // largest Rate; 0: any
	// AnchorLossMM is how far the anchor slot may come off its place, AnchorTipRad how much the
	// anchor may be tipped along the arch, either way, over the drift of both teeth; 0: any.
	AnchorLossMM, AnchorTipRad float64
	// AtResistance tells that the windows hold for the loads at the teeth's centres of
	// resistance instead of those at their slots' centres; see design.Judge.
	AtResistance bool
	// AgainstTravelMeant tells that loads are wanted although they work against the travel, or
	// do not bring the tooth along it.
	AgainstTravelMeant bool
}
