package design

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Behind the mirror a wire lies at the other walls of what turns about x and z, and is turned
// the other way about them; about y all stays.
func TestSlotStateBehindTheMirror(t *testing.T) {
	t.Parallel()
	s := SlotState{ThirdOrder: PlusWall, SecondOrder: PlusWall, FirstOrder: MinusWall, TurnRad: r3.Vec{X: 0.1, Y: 0.2, Z: 0.3}}
	want := SlotState{ThirdOrder: MinusWall, SecondOrder: PlusWall, FirstOrder: PlusWall, TurnRad: r3.Vec{X: -0.1, Y: 0.2, Z: -0.3}}
	if got := s.mirrored(); got != want || got.mirrored() != s {
		t.Errorf("%+v, want %+v", got, want)
	}
}
