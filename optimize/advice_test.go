package optimize

import (
	"math"
	"testing"

	"springwright/design/notice"
	"springwright/design/target"
)

// A limit that stands in the way is named as whoever measured or chose it knows it, with its
// letter on the measuring sheet, and given more room in those terms.
func TestReliefsAreThoseThatWereMeasured(t *testing.T) {
	t.Parallel()
	c := demoCase(t)
	c.Limits.FoldDepthMM = c.Limits.LoopHeightMM + 1
	c.Limits.BitingReachMM, c.Limits.CheekBulgeMM, c.Limits.MostBends = 2, 3, 8
	l := c.Limits
	want := []notice.Notice{
		notice.LimitRelief{Limit: target.FoldLimit, From: l.FoldDepthMM, To: l.FoldDepthMM + 2},
		notice.LimitRelief{Limit: target.LoopWidthLimit, From: l.LoopWidthMM, To: l.LoopWidthMM + 2},
		notice.LimitRelief{Limit: target.RoomMesialLimit, From: l.RoomMesialMM, To: l.RoomMesialMM + 2},
		notice.LimitRelief{Limit: target.RoomDistalLimit, From: l.RoomDistalMM, To: l.RoomDistalMM + 2},
		notice.PreBendRelief{FromRad: l.LargestPreBendRad, ToRad: l.LargestPreBendRad + math.Pi/12},
		notice.LimitRelief{Limit: target.BitingLimit, From: 2, To: 4},
		notice.LimitRelief{Limit: target.CheekLimit, From: 3, To: 5},
		notice.LimitRelief{Limit: target.BendsLimit, From: 8, To: 9},
	}
	list := reliefs(c)
	if len(list) != len(want) {
		t.Fatalf("%d reliefs, want %d", len(list), len(want))
	}
	for i, r := range list {
		wider := c.Limits
		if got := r.widen(&wider, r.steps[0]); got != want[i] {
			t.Errorf("relief %d: %#v, want %#v", i, got, want[i])
		}
		if wider == c.Limits {
			t.Errorf("relief %d widens nothing", i)
		}
		if i == 0 && wider.LoopHeightMM != l.LoopHeightMM+2 {
			t.Errorf("a deeper fold makes the loop %v mm high", wider.LoopHeightMM)
		}
	}
	c.Limits.FoldDepthMM = 0
	wider := c.Limits
	if got, want := reliefs(c)[0].widen(&wider, 1), (notice.HeightRelief{FromMM: l.LoopHeightMM, ToMM: l.LoopHeightMM + 1}); got != want {
		t.Errorf("without a measured fold: %#v, want %#v", got, want)
	}
}
