package target_test

import (
	"math"
	"testing"

	"springwright/design/target"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// The slope of every quantity is that of its value by differences: of a ratio, too, above and below the force that it is
// taken over.
func TestSlopesMatchDifferences(t *testing.T) {
	t.Parallel()
	var wanted target.Target
	wanted.Travel.ForceN[0] = target.Window{Min: 0.2, Max: 1}
	wanted.MomentToForceMM = target.Window{Min: 5, Max: 9}
	change := target.Judged{
		Active: tooth.Load{ForceN: r3.Vec{X: 0.3, Y: -0.2, Z: 0.7}, CoupleNMM: r3.Vec{X: 1.1, Y: -2.3, Z: 0.4}},
		Anchor: tooth.Load{ForceN: r3.Vec{X: -0.5, Y: 0.6, Z: 0.1}, CoupleNMM: r3.Vec{X: 0.9, Y: 0.8, Z: -1.7}},
	}
	moved := func(j target.Judged, by float64) target.Judged {
		shift := func(l, d tooth.Load) tooth.Load {
			return tooth.Load{ForceN: r3.Add(l.ForceN, r3.Scale(by, d.ForceN)), CoupleNMM: r3.Add(l.CoupleNMM, r3.Scale(by, d.CoupleNMM))}
		}
		j.Active, j.Anchor = shift(j.Active, change.Active), shift(j.Anchor, change.Anchor)
		return j
	}
	for _, forceN := range []float64{0.5, 0.05} {
		j := target.Judged{Active: tooth.Load{ForceN: r3.Vec{X: forceN}, CoupleNMM: r3.Vec{Y: 3.5}}}
		for q := range target.Quantity(target.Quantities) {
			if q == target.Rate {
				continue // of two positions
			}
			const step = 1e-5
			want := (wanted.Value(q, moved(j, step)) - wanted.Value(q, moved(j, -step))) / (2 * step)
			if got := wanted.Slope(q, j, change); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) { // differences of second order
				t.Errorf("%v N: the slope of %v is %v, want %v", forceN, q, got, want)
			}
		}
	}
}

func TestUnitOfEachQuantity(t *testing.T) {
	t.Parallel()
	for q, want := range map[target.Quantity]string{
		target.MomentToForce: "mm", target.Rate: "N/mm", target.OfActive(tooth.ForceX): "N", target.OfActive(tooth.CoupleY): "N·mm",
		target.OfAnchor(tooth.ForceZ): "N", target.OfAnchor(tooth.CoupleX): "N·mm",
	} {
		if got := q.Unit(); got != want {
			t.Errorf("%v has the unit %q, want %q", q, got, want)
		}
	}
}

// A small load is asked for as well as a large one, and a window around nothing asks for none.
func TestWantsALoad(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		w    target.Window
		want bool
	}{
		{target.Window{Min: 0.2, Max: 1}, true},
		{target.Window{Min: -1, Max: -0.2}, true},
		{target.Window{Min: -0.1, Max: 0.1}, false},
		{target.Window{}, false},
		{target.FreeWindow(), false},
	} {
		var start, travel target.Target
		start.Start.CoupleNMM[1], travel.Travel.CoupleNMM[1] = c.w, c.w
		start.Travel.CoupleNMM[1], travel.Start.CoupleNMM[1] = target.FreeWindow(), target.FreeWindow()
		if got := start.Wants(tooth.CoupleY); got != c.want {
			t.Errorf("at the start %+v wants a load: %v", c.w, got)
		}
		if got := travel.Wants(tooth.CoupleY); got != c.want {
			t.Errorf("over the travel %+v wants a load: %v", c.w, got)
		}
	}
}

// A window that holds nothing but nothing asks for no sense.
func TestSenseOfAMiss(t *testing.T) {
	t.Parallel()
	inf := math.Inf(1)
	for _, c := range []struct {
		w                 target.Window
		value, asked, got float64
	}{
		{target.Window{Min: 0, Max: 1}, -2, 1, -1},
		{target.Window{Min: 0.5, Max: inf}, 0.2, 1, 1},
		{target.Window{Min: -1, Max: 0}, 2, -1, 1},
		{target.Window{Min: -inf, Max: -0.5}, -0.2, -1, -1},
		{target.Window{Min: 0, Max: 0}, -2, -1, -1},
		{target.Window{Min: 0, Max: 0}, 2, 1, 1},
		{target.Window{Min: -1, Max: 1}, -2, -1, -1},
	} {
		if asked, got := (target.Miss{Window: c.w, Value: c.value}).Sense(); asked != c.asked || got != c.got {
			t.Errorf("%v in %+v: asked %v, got %v; want %v, %v", c.value, c.w, asked, got, c.asked, c.got)
		}
	}
}

// In the mirror across y, y and the couples about x and z change their sign, and the two ends of their windows places.
func TestMirroredWindows(t *testing.T) {
	t.Parallel()
	w := func(low, high float64) target.Window { return target.Window{Min: low, Max: high, Weight: 2} }
	got := target.LoadWindow{ForceN: [3]target.Window{w(-1, 3), w(-2, 4), w(-3, 5)}, CoupleNMM: [3]target.Window{w(-4, 6), w(-5, 7), w(-6, 8)}}.Mirrored()
	want := target.LoadWindow{ForceN: [3]target.Window{w(-1, 3), w(-4, 2), w(-3, 5)}, CoupleNMM: [3]target.Window{w(-6, 4), w(-5, 7), w(-8, 6)}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// What is free at the start is free over the travel; what is asked for at the start fits into it; a ratio frees its couple
// and no other.
func TestUsualLimitsFillWhatIsLeftOut(t *testing.T) {
	t.Parallel()
	var c target.Target
	c.Start.ForceN[0] = target.FreeWindow()
	c.Start.ForceN[2] = target.Window{Min: -2, Max: 3}
	c.Travel.ForceN[1] = target.Window{Min: 0.1, Max: 0.2}
	c.MomentToForceMM = target.Window{Min: 5, Max: 9}
	got := c.WithUsualLimits(37)
	couple := func(k tooth.Component) target.Window { return target.UsualLimit(37, k) }
	want := target.LoadWindow{
		ForceN:    [3]target.Window{target.FreeWindow(), {Min: 0.1, Max: 0.2}, {Min: -2, Max: 3, Usual: true}},
		CoupleNMM: [3]target.Window{couple(tooth.CoupleX), target.FreeWindow(), couple(tooth.CoupleZ)},
	}
	if diff := cmp.Diff(want, got.Travel); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	c.MomentToForceMM, c.Travel.CoupleNMM[1] = target.Window{}, target.Window{}
	if got := c.WithUsualLimits(37).Travel.CoupleNMM[1]; got != couple(tooth.CoupleY) {
		t.Errorf("without a ratio the couple is held to %+v", got)
	}
}

// The usual limits, the same both ways: the forces of a textbook table, and couples of 8 mm times that along the arch.
func TestUsualLimitOfEachTooth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n                tooth.Number
		x, z, coupleYNMM float64
	}{{37, 0.6, 0.6, 4.8}, {14, 0.5, 0.5, 4}, {23, 0.5, 0.5, 4}, {41, 0.35, 0.25, 2.8}} {
		for k, most := range map[tooth.Component]float64{tooth.ForceX: c.x, tooth.ForceZ: c.z, tooth.CoupleY: c.coupleYNMM, tooth.CoupleZ: c.coupleYNMM} {
			got := target.UsualLimit(c.n, k)
			if math.Abs(got.Max-most) > 1e-12 || got.Min != -got.Max || !got.Usual {
				t.Errorf("%d, %v: %+v, want ±%v", c.n, k, got, most)
			}
		}
	}
}

// How far a value lies outside of a window, and that of a free one nothing does.
func TestMisses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		w       target.Window
		v, want float64
	}{
		{target.FreeWindow(), 5, 0},
		{target.Window{}, 5, 0},
		{target.Window{}, -5, 0},
		{target.Window{Min: 1, Max: 3}, 0.5, 0.5},
		{target.Window{Min: 1, Max: 3}, 1, 0},
		{target.Window{Min: 1, Max: 3}, 3, 0},
		{target.Window{Min: 1, Max: 3}, 5, 2},
		{target.AtLeast(1), 9, 0},
		{target.AtLeast(1), -1, 2},
		{target.AtMost(1), -9, 0},
		{target.AtMost(1), 3, 2},
		{target.Within(-1, 2), 4, 2},
		{target.About(2, 0.5), 1, 0.5},
		{target.About(2, 0.5), 3, 0.5},
	} {
		if got := c.w.Misses(c.v); got != c.want {
			t.Errorf("%v misses %+v by %v, want %v", c.v, c.w, got, c.want)
		}
	}
	for w, aimed := range map[target.Window]bool{
		target.Within(-1, 2): false, target.Within(0, 2): false, target.Within(-2, 0): false, target.Within(0, 0): true, target.About(2, 0.5): true,
	} {
		if w.Aimed != aimed {
			t.Errorf("the middle of %+v is aimed at: %v", w, w.Aimed)
		}
	}
}

// A target that asks for any one thing is not free.
func TestAllFree(t *testing.T) {
	t.Parallel()
	asked := target.Window{Min: 0.1, Max: 0.2}
	targets := map[string]target.Target{"rate": {MaxRateNPerMM: 0.3}, "ratio": {MomentToForceMM: asked}}
	for i := range 3 {
		for name, at := range map[string]func(*target.Target) *target.LoadWindow{
			"start":  func(t *target.Target) *target.LoadWindow { return &t.Start },
			"travel": func(t *target.Target) *target.LoadWindow { return &t.Travel },
			"anchor": func(t *target.Target) *target.LoadWindow { return &t.Anchor },
		} {
			var force, couple target.Target
			at(&force).ForceN[i], at(&couple).CoupleNMM[i] = asked, asked
			targets[name+" force"+string(rune('x'+i))], targets[name+" couple"+string(rune('x'+i))] = force, couple
		}
	}
	for name, c := range targets {
		if c.AllFree() {
			t.Errorf("%s is asked for, and all is said to be free", name)
		}
	}
	if !(target.Target{}).AllFree() {
		t.Error("nothing is asked for, and not all is free")
	}
}

// Positions are sums of steps: what is off by a rounding is still at the end of the travel, and within its last part.
func TestRoundingMovesNoPosition(t *testing.T) {
	t.Parallel()
	const rounding = 1e-12
	c := target.Target{ForceUntilMM: 0.5, MaxRateNPerMM: 0.3, MomentToForceMM: target.Window{Min: 5, Max: 9}}
	c.Travel.ForceN[0] = target.Window{Min: 0.2, Max: 1}
	if w := c.WindowAt(target.Rate, rounding, false); w.Free() {
		t.Error("at the end of the travel the rate is free")
	}
	for _, q := range []target.Quantity{target.MomentToForce, target.OfActive(tooth.ForceX)} {
		if w := c.WindowAt(q, c.ForceUntilMM-rounding, false); w.Free() {
			t.Errorf("%v is free where it is asked for last", q)
		}
	}
}

// A ratio is of the force along the arch that the target asks for, either way; without one there is no ratio.
func TestRatioNeedsAForce(t *testing.T) {
	t.Parallel()
	j := target.Judged{Active: tooth.Load{CoupleNMM: r3.Vec{Y: 3.5}}, RateNPerMM: 0.7}
	for _, c := range []struct {
		w    target.Window
		want float64
	}{
		{target.Window{Min: 0.2, Max: 1}, 35},
		{target.Window{Min: -1, Max: -0.2}, -35},
		{target.Window{Min: -1, Max: 1}, math.NaN()},
		{target.Window{Min: 0, Max: 1}, math.NaN()},
		{target.Window{Min: -1, Max: 0}, math.NaN()},
		{target.Window{}, math.NaN()},
	} {
		var wanted target.Target
		wanted.Travel.ForceN[0] = c.w
		if got := wanted.Value(target.MomentToForce, j); math.Abs(got-c.want) > 1e-9 || math.IsNaN(got) != math.IsNaN(c.want) {
			t.Errorf("with %+v the ratio is %v mm, want %v", c.w, got, c.want)
		}
		if got := wanted.Value(target.Rate, j); got != 0.7 {
			t.Errorf("the rate is %v", got)
		}
	}
}

// A target asks for a sense where all that it lets pass at the start, or over the travel, has that sign.
func TestSenseOfATarget(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		w    target.Window
		want float64
	}{
		{target.Window{Min: 0.2, Max: 1}, 1},
		{target.Window{Min: 0, Max: 0.5}, 1},
		{target.AtLeast(0.2), 1},
		{target.AtLeast(-0.2), 0},
		{target.Window{Min: -1, Max: -0.2}, -1},
		{target.Window{Min: -0.5, Max: 0}, -1},
		{target.AtMost(-0.2), -1},
		{target.AtMost(0.2), 0},
		{target.Window{Min: -1, Max: 1}, 0},
		{target.Window{}, 0},
		{target.FreeWindow(), 0},
	} {
		var start, travel target.Target
		start.Start.ForceN[1], travel.Travel.ForceN[1] = c.w, c.w
		if a, b := start.Sense(target.OfActive(tooth.ForceY)), travel.Sense(target.OfActive(tooth.ForceY)); a != c.want || b != c.want {
			t.Errorf("%+v at the start has the sense %v, over the travel %v, want %v", c.w, a, b, c.want)
		}
		if free := c.w.Free(); free != (c.w == target.Window{} || c.w == target.FreeWindow()) {
			t.Errorf("%+v is free: %v", c.w, free)
		}
	}
}
