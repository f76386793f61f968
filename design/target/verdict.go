package target

// Verdict is how a spring stands to one window of its target, over all places where it holds.
type Verdict struct {
	Quantity  Quantity
	AtStart   bool    // the window at the start; else that over the travel
	Window    Window  // global axes, in the quantity's unit
	Low, High float64 // what the quantity comes to, likewise
	Met       bool
	// Worst is the value that misses the window most, and WorstLeftMM where on the travel;
	// without meaning where it is met.
	Worst, WorstLeftMM float64
}

// LimitVerdict is how a spring stands to a limit beside the loads.
type LimitVerdict struct {
	Limit          Limit
	Value, Allowed float64 // in the unit of Excess.Beyond
	Met            bool
	// Unknown tells that the value could not be worked out; then it is not met.
	Unknown bool
}
