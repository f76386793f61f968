package effect_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/designtest"
	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// unturning is a lever so long that a tooth does not turn.
const unturning = 1e12

func bodyOf(t *testing.T, roots ...effect.Root) effect.AnchorBody {
	t.Helper()
	b, err := effect.NewAnchorBody(roots...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func driftOf(t *testing.T, s spring.Spring, offset r3.Vec, leverMM2 float64, anchor effect.AnchorBody) effect.Drift {
	t.Helper()
	d, err := effect.PredictBothDrift(t.Context(), s, offset, leverMM2, anchor)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A straight wire across a small step is a spring of rate 12EI/L³. Teeth that do not turn share
// its travel as their holds are to each other, 1:1 where they are the same, until 0.02 N are left
// of its force.
func TestTeethShareTheTravelByTheirHold(t *testing.T) {
	t.Parallel()
	const lengthMM, stepMM, stillN = 10, 0.2, 0.02
	c := alignedCase(lengthMM)
	c.Now.CentreMM.Z = -stepMM
	s := effect.StraightSpring(c, "", designtest.Titanium())
	rate := 12 * designtest.Titanium().Section().EI2 / (lengthMM * lengthMM * lengthMM)
	for _, ratio := range []float64{0.25, 1, 1.75, 20} {
		d := driftOf(t, s, r3.Vec{}, unturning, bodyOf(t, effect.Root{LeverMM2: unturning, Ratio: ratio}))
		lost := d.AnchorLost()
		if d.End != effect.DriftDied || math.Abs(d.ReachedMM+ratio*lost.SlotMM.Z) > 1e-9 || r3.Norm(lost.SlotMM) > -lost.SlotMM.Z+1e-6 || r3.Norm(lost.Rotation) > 1e-9 {
			t.Errorf("ratio %v: ends by %v, the tooth %v mm on and the anchor %+v", ratio, d.End, d.ReachedMM, lost)
		}
		// Closed = the tooth's + the anchor's way. Shear and the slope of the wire take less than
		// a hundredth off the rate. The last step is no more than a part of the travel.
		closed := d.ReachedMM - lost.SlotMM.Z
		if left := stepMM - closed; left > stillN/(0.99*rate) || left < 0 {
			t.Errorf("ratio %v: closed by %v of %v mm, %v mm are left at %v N/mm", ratio, closed, stepMM, left, rate)
		}
		for i, step := range d.Steps {
			if force := rate * (stepMM - step.ShiftMM.Z + step.Anchor.CentreMM.Z); math.Abs(step.Active.ForceN.Z-force) > 0.01*rate*stepMM {
				t.Errorf("ratio %v, step %d: %v N, by the rate %v", ratio, i, step.Active.ForceN.Z, force)
			}
		}
	}
}

// drifting are springs of several kinds.
func drifting(t *testing.T) map[string]spring.Spring {
	t.Helper()
	closing, err := casefile.ReadSpring("loop.toml", []byte(closingLoop))
	if err != nil {
		t.Fatal(err)
	}
	aside := designtest.TurningSpring(0.2, 0.3)
	aside.End.AtMM.Z += 0.3
	hooked := designtest.TurningSpring(0, 0)
	hooked.ActiveHold.Hook, hooked.ActiveSlotLengthMM, hooked.Slide = true, 0, spring.SlideActive
	hooked.Start.AtMM.Z, hooked.End.AtMM.X = -1.5, 15.9
	return map[string]spring.Spring{"loop": intrusionSpring(t), "closing": closing, "turning": designtest.TurningSpring(0.2, 0.3), "aside": aside, "hooked": hooked}
}

var (
	activeOffset = r3.Vec{X: 2.5, Y: -5, Z: 7.4}
	anchorOffset = r3.Vec{X: 2, Y: -5, Z: 7.9}
)

const leverMM2 = 8.2

// The loads at every step are those of the spring put in anew as both slots stand to each other,
// and in the jaw they balance.
func TestLoadsOfADriftAreThoseOfItsSeats(t *testing.T) {
	t.Parallel()
	anchor := bodyOf(t, effect.Root{OffsetMM: anchorOffset, LeverMM2: leverMM2, Ratio: 0.8}, effect.Root{OffsetMM: r3.Add(anchorOffset, r3.Vec{X: -9, Z: 1}), LeverMM2: 9, Ratio: 0.5})
	moved := 0
	for name, s := range drifting(t) {
		d := driftOf(t, s, activeOffset, leverMM2, anchor)
		last := d.Steps[len(d.Steps)-1]
		if r3.Norm(last.Anchor.Rotation) > 0.01 {
			moved++
		}
		slot := beam.Origin().Turned(last.Anchor.Rotation)
		centre := r3.Add(s.AnchorCentre(), last.Anchor.SlotMM)
		slot.At = r3.Sub(centre, slot.ToGlobal(s.AnchorCentre()))
		end := last.Seat.Pose(s.Heading)
		anew := s.Tied()
		anew.Positions = 1
		anew.Start = spring.SeatOf(beam.Pose{
			At: slot.ToLocal(r3.Sub(end.At, slot.At)), D1: slot.ToLocal(end.D1), D2: slot.ToLocal(end.D2), D3: slot.ToLocal(end.D3),
		}, s.Heading)
		if s.HookSlides() { // what the hook hangs on turns with no tooth
			axis := s.Start.Pose(s.Heading)
			axis.At = end.At
			axis.At, axis.D1, axis.D2, axis.D3 = slot.ToLocal(r3.Sub(axis.At, slot.At)), slot.ToLocal(axis.D1), slot.ToLocal(axis.D2), slot.ToLocal(axis.D3)
			anew.Start = spring.SeatOf(axis, s.Heading)
		}
		p := designtest.Evaluate(t, anew).Record.Positions[0]
		for k, pair := range [...][2]r3.Vec{
			{slot.ToGlobal(p.Active.ForceN), last.Active.ForceN},
			{slot.ToGlobal(p.Active.CoupleNMM), last.Active.CoupleNMM},
			{slot.ToGlobal(p.Anchor.ForceN), last.OnAnchor.ForceN},
			{slot.ToGlobal(p.Anchor.CoupleNMM), last.OnAnchor.CoupleNMM},
		} {
			// The drift's wire is cut into five times as long steps, by which loads of unmoved
			// teeth differ by up to a thousandth, too.
			if off := r3.Norm(r3.Sub(pair[0], pair[1])); off > 1e-3*max(1, r3.Norm(d.Steps[0].OnAnchor.CoupleNMM)) {
				t.Errorf("%s, load %d: %v, anew %v", name, k, pair[1], pair[0])
			}
		}
		force := r3.Add(last.Active.ForceN, last.OnAnchor.ForceN)
		couple := r3.Add(r3.Add(last.Active.CoupleNMM, last.OnAnchor.CoupleNMM), r3.Cross(r3.Sub(s.Centre(end), centre), last.Active.ForceN))
		if r3.Norm(force) > 1e-8 || r3.Norm(couple) > 1e-7 {
			t.Errorf("%s: out of balance by %v N and %v N·mm", name, force, couple)
		}
	}
	if moved < 3 {
		t.Errorf("only %d anchors have turned", moved)
	}
}

// An anchor that hardly gives comes to the one that stays, and that one moves not at all.
func TestAFirmAnchorStays(t *testing.T) {
	t.Parallel()
	s := intrusionSpring(t)
	held, err := effect.PredictDrift(t.Context(), s, activeOffset, leverMM2)
	if err != nil {
		t.Fatal(err)
	}
	firm := driftOf(t, s, activeOffset, leverMM2, bodyOf(t, effect.Root{OffsetMM: anchorOffset, LeverMM2: leverMM2, Ratio: 1e9}))
	if len(held.Steps) != len(firm.Steps) || math.Abs(held.ReachedMM-firm.ReachedMM) > 1e-6 || r3.Norm(firm.AnchorLost().SlotMM) > 1e-6 {
		t.Errorf("held: %v mm in %d steps; firm: %v mm in %d, the anchor %+v", held.ReachedMM, len(held.Steps), firm.ReachedMM, len(firm.Steps), firm.AnchorLost())
	}
	for _, step := range held.Steps {
		if step.Anchor != (effect.AnchorShift{}) {
			t.Fatalf("an anchor that is held has moved: %+v", step.Anchor)
		}
	}
	// The weaker the hold, the more is lost and the less is reached.
	lastReached, lastTip := held.ReachedMM, 0.0
	for _, ratio := range []float64{100, 10, 3, 1} {
		d := driftOf(t, s, activeOffset, leverMM2, bodyOf(t, effect.Root{OffsetMM: anchorOffset, LeverMM2: leverMM2, Ratio: ratio}))
		_, tip := d.AnchorMost()
		if d.ReachedMM > lastReached || tip < lastTip {
			t.Errorf("ratio %v: %v mm reached and tipped by %v rad; firmer it was %v mm and %v rad", ratio, d.ReachedMM, tip, lastReached, lastTip)
		}
		lastReached, lastTip = d.ReachedMM, tip
	}
}

// On the other side of the mouth both teeth drift as behind a mirror.
func TestDriftOfTheTwin(t *testing.T) {
	t.Parallel()
	flip := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	for name, s := range drifting(t) {
		far := effect.Root{OffsetMM: r3.Vec{X: -7, Y: -4, Z: 9}, LeverMM2: 9, Ratio: 0.6}
		near := effect.Root{OffsetMM: anchorOffset, LeverMM2: leverMM2, Ratio: 1.1}
		d := driftOf(t, s, activeOffset, leverMM2, bodyOf(t, near, far))
		near.OffsetMM, far.OffsetMM = flip(near.OffsetMM), flip(far.OffsetMM)
		twin := driftOf(t, s.Mirrored(), flip(activeOffset), leverMM2, bodyOf(t, near, far))
		a, b := d.AnchorLost(), twin.AnchorLost()
		off := r3.Norm(r3.Sub(flip(d.SlotMM), twin.SlotMM)) + r3.Norm(r3.Sub(flip(a.SlotMM), b.SlotMM)) + r3.Norm(r3.Sub(spring.MirroredTurn(a.Rotation), b.Rotation))
		if len(d.Steps) != len(twin.Steps) || d.End != twin.End || off > 1e-7 {
			t.Errorf("%s: %d and %d steps, off by %v", name, len(d.Steps), len(twin.Steps), off)
		}
	}
}

// Which of the two slots is called the anchor's makes no difference to what both teeth do: the
// same wire taken from its other end.
func TestDriftFromTheOtherEnd(t *testing.T) {
	t.Parallel()
	path := spring.PathOf(
		spring.StraightStep(4), spring.BendStep(1, 1), spring.StraightStep(5), spring.BendStep(-2.1, 1),
		spring.StraightStep(4.5), spring.BendStep(1.1, 1), spring.StraightStep(5),
	)
	s := spring.Spring{Path: path, Wire: designtest.Titanium(), Positions: 2}
	s.End = spring.SeatOf(designtest.UnloadedEnd(path), spring.On)
	s.End.Rotation = r3.Vec{}
	s.Start = s.End
	s.Start.AtMM = r3.Add(s.Start.AtMM, r3.Vec{X: 0.4, Z: -1})
	other := s
	reversed := path.Steps()
	slices.Reverse(reversed)
	other.Path = spring.PathOf(reversed...)
	turned := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: -v.Y, Z: v.Z} } // half a turn about z
	seen := func(at r3.Vec) r3.Vec { return turned(r3.Scale(-1, at)) }
	other.Start.AtMM, other.End.AtMM = seen(s.Start.AtMM), seen(s.End.AtMM)

	const ratio = 1.7
	active, anchor := r3.Vec{X: 1, Y: -4, Z: 8}, r3.Vec{X: -2, Y: -5, Z: 9}
	d := driftOf(t, s, active, 8, bodyOf(t, effect.Root{OffsetMM: anchor, LeverMM2: 10, Ratio: ratio}))
	back := driftOf(t, other, turned(anchor), 10, bodyOf(t, effect.Root{OffsetMM: turned(active), LeverMM2: 8, Ratio: 1 / ratio}))
	if len(d.Steps) != len(back.Steps) || len(d.Steps) < 10 {
		t.Fatalf("%d steps ending by %v, from the other end %d ending by %v", len(d.Steps), d.End, len(back.Steps), back.End)
	}
	for i, step := range d.Steps {
		from := back.Steps[i]
		for k, pair := range [...][2]r3.Vec{
			{step.ShiftMM, from.Anchor.CentreMM},
			{step.Rotation, from.Anchor.Rotation},
			{step.Anchor.CentreMM, from.ShiftMM},
			{step.Anchor.Rotation, from.Rotation},
			{step.Active.ForceN, from.OnAnchor.ForceN},
			{step.Active.CoupleNMM, from.OnAnchor.CoupleNMM},
			{step.OnAnchor.CoupleNMM, from.Active.CoupleNMM},
		} {
			if off := r3.Norm(r3.Sub(turned(pair[0]), pair[1])); off > 1e-4 { // the wire is cut into other steps, by which loads differ by some 1e-6
				t.Fatalf("step %d, %d: %v, from the other end %v", i, k, turned(pair[0]), pair[1])
			}
		}
	}
}

// Forty steps are enough: more change the way of either tooth by less than a sheet shows.
func TestDriftConvergesInItsSteps(t *testing.T) {
	t.Parallel()
	s := intrusionSpring(t)
	anchor := bodyOf(t, effect.Root{OffsetMM: anchorOffset, LeverMM2: leverMM2, Ratio: 1})
	at := func(steps int) (reachedMM, tipRad float64) {
		d, err := effect.PredictDriftInSteps(t.Context(), s, activeOffset, leverMM2, anchor, steps)
		if err != nil {
			t.Fatal(err)
		}
		return d.ReachedMM, d.AnchorLost().Rotation.Y
	}
	finest, finestTip := at(1280)
	for steps, allowed := range map[int]float64{40: 0.02, 160: 0.006, 320: 0.004} {
		reached, tip := at(steps)
		if math.Abs(reached-finest) > allowed || math.Abs(tip-finestTip) > allowed*designtest.Degree(10) {
			t.Errorf("%d steps: %v mm and %v rad, want %v and %v", steps, reached, tip, finest, finestTip)
		}
	}
}

// Holds against turning add up as moments of inertia do: of two equal roots d apart along x, by
// d²/2 of one of them more about y and z, and by nothing about x.
func TestJoinedRootsHoldByTheirLevers(t *testing.T) {
	t.Parallel()
	const ratio, lever, apart, mobility = 0.7, 9., 16., 0.3
	at := r3.Vec{X: 1, Y: -4, Z: 8}
	one := effect.Root{OffsetMM: at, LeverMM2: lever, Ratio: ratio}
	other := one
	other.OffsetMM.X -= apart
	b := bodyOf(t, one, other)
	if d := r3.Norm(r3.Sub(b.OffsetMM, r3.Add(at, r3.Vec{X: -apart / 2}))); d > 1e-12 || math.Abs(b.Ratio-2*ratio) > 1e-12 {
		t.Errorf("the body: %+v", b)
	}
	force, couple := r3.Vec{X: 0.1, Y: -0.2, Z: 0.5}, r3.Vec{X: 3, Y: 4, Z: -5}
	shift, turn := effect.Give(b, mobility, force, couple)
	if d := r3.Norm(r3.Sub(shift, r3.Scale(mobility/(2*ratio), force))); d > 1e-12 {
		t.Errorf("shifted by %v", shift)
	}
	across := 2*ratio*lever + ratio*apart*apart/2
	want := r3.Scale(mobility, r3.Vec{X: couple.X / (2 * ratio * lever), Y: couple.Y / across, Z: couple.Z / across})
	if d := r3.Norm(r3.Sub(turn, want)); d > 1e-12 {
		t.Errorf("turned by %v, want %v", turn, want)
	}
	// Two at one place are one of twice the hold.
	double := one
	double.Ratio *= 2
	shift, turn = effect.Give(bodyOf(t, one, one), mobility, force, couple)
	single, singleTurn := effect.Give(bodyOf(t, double), mobility, force, couple)
	if d := r3.Norm(r3.Sub(shift, single)) + r3.Norm(r3.Sub(turn, singleTurn)); d > 1e-12 {
		t.Errorf("two at one place: off by %v", d)
	}
}

// What stands in the way of a prediction is told, and is no number.
func TestDriftThatCannotBePredicted(t *testing.T) {
	t.Parallel()
	for _, root := range []effect.Root{{}, {LeverMM2: 8}, {Ratio: 1}, {LeverMM2: math.NaN(), Ratio: 1}, {LeverMM2: 8, Ratio: math.Inf(1)}} {
		if _, err := effect.NewAnchorBody(root); err == nil {
			t.Errorf("%+v is taken", root)
		}
	}
	if _, err := effect.NewAnchorBody(); err == nil {
		t.Error("an anchor without a root is taken")
	}
	s := intrusionSpring(t)
	s.Start.AtMM.X += 60
	_, err := effect.PredictBothDrift(t.Context(), s, activeOffset, leverMM2, bodyOf(t, effect.Root{LeverMM2: 8, Ratio: 1}))
	if _, found := errors.AsType[*solve.PositionError](err); !found {
		t.Errorf("a wire that cannot reach: %v", err)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := effect.PredictBothDrift(stopped, intrusionSpring(t), activeOffset, leverMM2, effect.AnchorBody{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}
