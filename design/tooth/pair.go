package tooth

import "fmt"

// Pair is an anchor and an active tooth in one quadrant. x runs from the anchor to the
// active tooth, z is apical and y = z × x.
type Pair struct {
	Anchor, Active Number
}

// ActiveIsDistal tells whether the active tooth lies distal of the anchor.
func (p Pair) ActiveIsDistal() bool { return p.Active.Place() > p.Anchor.Place() }

// MesialSign is +1 where +x points mesially, −1 where it points distally.
func (p Pair) MesialSign() float64 {
	if p.ActiveIsDistal() {
		return -1
	}
	return 1
}

// BuccalSign is +1 where +y points to the cheek, −1 where it points to the tongue.
//
// Seen from the cheek with up at the top of the page, x points right when XPointsRight
// and z points up in the upper jaw. y = z × x then points to the viewer, who stands at
// the cheek, in exactly one of the two cases that differ in one of these.
func (p Pair) BuccalSign() float64 {
	if p.XPointsRight() == p.Active.Upper() {
		return -1
	}
	return 1
}

// XPointsRight tells whether +x points to the right of somebody who looks from the cheek:
// on the patient's left, distal is on the viewer's right; on the patient's right, on the
// viewer's left.
func (p Pair) XPointsRight() bool { return p.ActiveIsDistal() != p.Active.PatientRight() }

// SameQuadrant tells whether both teeth stand in one quadrant.
func (p Pair) SameQuadrant() bool { return p.Anchor.Quadrant() == p.Active.Quadrant() }

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// String is such as "tooth 37 from tooth 36".
func (p Pair) String() string {
	return fmt.Sprintf("tooth %d from tooth %d", int(p.Active), int(p.Anchor))
}
