package design

// Bender is the hand that bends a spring and the measurements and the wire it works with: how
// far each is off, one standard deviation, before anything is tied in. The errors are
// independent of each other. The zero value is a perfect hand.
//
// They are what is left after the checks of the bench: a wire bent over its template is
// held against the paper after every bend, and lies flat on it, so that an angle or a
// length is off but no bend leaves its plane. That a bender adjusts the whole spring once
// more when its free end misses the slot in the neutral position is not counted: it would
// take back a part of the error, so that the share of springs that meet the target errs
// low.
type Bender struct {
	AngleSDRad  float64 // of each bend and twist
	LengthSDMM  float64 // of each straight
	SlotSDMM    float64 // of the measured place of the active slot, along each axis
	SlotSDRad   float64 // of its measured turn, about each axis
	StiffnessSD float64 // of the wire, as a share of the nominal stiffness
	Springs     int     // springs bent in trial after a search; 0: none
}

// Perfect tells whether nothing is ever off.
func (b Bender) Perfect() bool {
	b.Springs = 0
	return b == Bender{}
}
