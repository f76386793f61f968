package solve

import (
	"testing"

	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// Behind the mirror a wire lies at the other walls of what turns about x and z, and is turned
// the other way about them; about y all stays.
func TestSlotStateBehindTheMirror(t *testing.T) {
	t.Parallel()
	s := spring.SlotState{ThirdOrder: spring.PlusWall, SecondOrder: spring.PlusWall, FirstOrder: spring.MinusWall, TurnRad: r3.Vec{X: 0.1, Y: 0.2, Z: 0.3}, ShiftMM: r3.Vec{Y: 0.01, Z: 0.02}}
	want := spring.SlotState{ThirdOrder: spring.MinusWall, SecondOrder: spring.PlusWall, FirstOrder: spring.PlusWall, TurnRad: r3.Vec{X: -0.1, Y: 0.2, Z: -0.3}, ShiftMM: r3.Vec{Y: -0.01, Z: 0.02}}
	if got := s.Mirrored(); got != want || got.Mirrored() != s {
		t.Errorf("%+v, want %+v", got, want)
	}
}
