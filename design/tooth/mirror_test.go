package tooth

import "testing"

func TestMirrored(t *testing.T) {
	t.Parallel()
	for n, want := range map[Number]Number{11: 21, 21: 11, 18: 28, 26: 16, 37: 47, 47: 37, 33: 43, 41: 31} {
		if got := n.Mirrored(); got != want {
			t.Errorf("%d mirrored is %d, want %d", n, got, want)
		}
	}
	for _, s := range sides {
		m := s.pair.Mirrored()
		if m.Mirrored() != s.pair || m.XPointsRight() == s.pair.XPointsRight() || m.MesialSign() != s.pair.MesialSign() || m.BuccalSign() != -s.pair.BuccalSign() {
			t.Errorf("%v mirrored is %v: want the other side, mesial where it was, the cheek on the other side of y", s.pair, m)
		}
	}
}
