package wire

import (
	"slices"
	"testing"
)

func TestDrawerHoldsKnownWires(t *testing.T) {
	t.Parallel()
	for _, s := range Drawer() {
		w := s.Wire()
		if w.Alloy != s.Alloy || w.EMPa <= 0 || w.IsSuperelastic() {
			t.Errorf("%v is %+v: not a wire to bend", s, w)
		}
		if !slices.Contains(Sizes(), s.Size) || w.HeightMM() != s.Size.ThicknessMM() || w.DepthMM() != s.Size.WidthMM() {
			t.Errorf("%v has no standard size", s)
		}
	}
}
