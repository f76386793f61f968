package design_test

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/designtest"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// The mouth is measured from centre to centre; the free wire is shorter by half of each
// slot, or, entered from behind, longer by half the active one.
func TestSpringForMovesTheSeatFromCentreToEntry(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		heading spring.Heading
		wantMM  float64
	}{
		{spring.On, 12.5 - 4.0/2 - 3.5/2},
		{spring.Back, 12.5 - 4.0/2 + 3.5/2},
	} {
		c := designtest.LoopCase()
		c.Heading = test.heading
		s := c.SpringFor(spring.Path{})
		for name, got := range map[string]r3.Vec{"start": s.Start.AtMM, "end": s.End.AtMM} {
			want := r3.Vec{X: test.wantMM}
			if name == "start" {
				want.Z = -2
			}
			if r3.Norm(r3.Sub(got, want)) > 1e-12 {
				t.Errorf("%v, %s: entered at %v, want %v", test.heading, name, got, want)
			}
		}
	}
}

// A turned slot is entered where its own mouth is: half its length before the centre, along
// the direction in which it is turned.
func TestSpringForKeepsTheCentreOfATurnedSlot(t *testing.T) {
	t.Parallel()
	for _, heading := range []spring.Heading{spring.On, spring.Back} {
		c := designtest.LoopCase()
		c.Heading = heading
		c.Now.Rotation = r3.Vec{X: 0.2, Y: -0.3, Z: 0.15}
		c.Now.CentreMM.Y = 1.2
		s := c.SpringFor(spring.Path{})
		centre := s.Centre(s.Start.Pose(heading))
		want := r3.Add(c.Now.CentreMM, s.AnchorCentre()) // both measured from the anchor slot's exit
		if r3.Norm(r3.Sub(centre, want)) > 1e-12 {
			t.Errorf("%v: the slot's centre is at %v, measured %v", heading, centre, want)
		}
		if d := r3.Norm(r3.Sub(centre, s.Start.AtMM)); math.Abs(d-3.5/2) > 1e-12 {
			t.Errorf("%v: the entry is %v mm from the centre", heading, d)
		}
	}
	// By hand: tipped by 90° about y, x goes to −z, so that the slot is entered from above.
	c := designtest.LoopCase()
	c.Heading = spring.On
	c.Now.Rotation = r3.Vec{Y: math.Pi / 2}
	got, want := c.SpringFor(spring.Path{}).Start.AtMM, r3.Vec{X: 12.5 - 2, Z: -2 + 3.5/2}
	if r3.Norm(r3.Sub(got, want)) > 1e-12 {
		t.Errorf("entered at %v, want %v", got, want)
	}
}

func TestSeatsAreEvenlySpaced(t *testing.T) {
	t.Parallel()
	s := spring.Spring{
		Start:     spring.Seat{AtMM: r3.Vec{X: 1, Y: 2, Z: -3}, Rotation: r3.Vec{Y: 0.4}},
		End:       spring.Seat{AtMM: r3.Vec{X: 3, Y: 1}, Rotation: r3.Vec{X: -0.2}},
		Positions: 5,
	}
	if s.SeatAt(0) != s.Start || s.SeatAt(4) != s.End {
		t.Errorf("from %+v to %+v", s.SeatAt(0), s.SeatAt(4))
	}
	want := spring.Seat{AtMM: r3.Vec{X: 1.5, Y: 1.75, Z: -2.25}, Rotation: r3.Vec{X: -0.05, Y: 0.3}}
	got := s.SeatAt(1)
	if r3.Norm(r3.Sub(got.AtMM, want.AtMM)) > 1e-12 || r3.Norm(r3.Sub(got.Rotation, want.Rotation)) > 1e-12 {
		t.Errorf("a quarter of the way is %+v, want %+v", got, want)
	}
	for _, positions := range []int{0, 1} {
		s.Positions = positions
		if s.SeatAt(0) != s.Start {
			t.Errorf("%d positions: %+v", positions, s.SeatAt(0))
		}
	}
}

// The frame in a slot entered from behind: the wire runs along −x, its width stays on +y,
// so that its thickness side looks to −z.
func TestSeatPoseByHand(t *testing.T) {
	t.Parallel()
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	minus := func(v r3.Vec) r3.Vec { return r3.Scale(-1, v) }
	at := r3.Vec{X: 9, Z: 1}
	for _, test := range []struct {
		name     string
		heading  spring.Heading
		rotation r3.Vec
		want     beam.Pose
	}{
		{"on", spring.On, r3.Vec{}, beam.Pose{At: at, D1: x, D2: y, D3: z}},
		{"back", spring.Back, r3.Vec{}, beam.Pose{At: at, D1: minus(x), D2: y, D3: minus(z)}},
		{"on, torque a quarter", spring.On, r3.Vec{X: math.Pi / 2}, beam.Pose{At: at, D1: x, D2: z, D3: minus(y)}},
		{"on, tip a quarter", spring.On, r3.Vec{Y: math.Pi / 2}, beam.Pose{At: at, D1: minus(z), D2: y, D3: x}},
		{"back, rotation a quarter", spring.Back, r3.Vec{Z: math.Pi / 2}, beam.Pose{At: at, D1: minus(y), D2: minus(x), D3: minus(z)}},
	} {
		got := spring.Seat{AtMM: at, Rotation: test.rotation}.Pose(test.heading)
		if designtest.Far(got, test.want) > 1e-12 {
			t.Errorf("%s: %+v, want %+v", test.name, got, test.want)
		}
	}
}

func TestWindowAtOffersTheForceUntilItGoesSlack(t *testing.T) {
	t.Parallel()
	wanted := target.Target{Start: designtest.FreeLoad(), Travel: designtest.FreeLoad(), ForceUntilMM: 0.5}
	force, start, couple := target.Window{Min: 0.1, Max: 1}, target.Window{Min: 0.3, Max: 0.6}, target.Window{Min: -1, Max: 1}
	wanted.Travel.ForceN[2], wanted.Start.ForceN[2], wanted.Travel.CoupleNMM[1] = force, start, couple
	for _, test := range []struct {
		component tooth.Component
		leftMM    float64
		atStart   bool
		want      target.Window
	}{
		{tooth.ForceZ, 2, false, force},
		{tooth.ForceZ, 2, true, start},
		{tooth.ForceZ, 0.5, false, force}, // still asked with exactly that much left
		{tooth.ForceZ, 0.5 - 1e-12, false, force},
		{tooth.ForceZ, 0.49, false, target.FreeWindow()},
		{tooth.ForceZ, 0.4, true, start}, // a travel shorter than that has a start all the same
		{tooth.CoupleY, 0, false, couple},
		{tooth.CoupleY, 2, true, target.FreeWindow()},
		{tooth.ForceX, 2, false, target.FreeWindow()},
	} {
		if got := wanted.WindowAt(target.OfActive(test.component), test.leftMM, test.atStart); got != test.want {
			t.Errorf("component %d, %v mm left, start %v: %+v, want %+v", test.component, test.leftMM, test.atStart, got, test.want)
		}
	}
	for _, test := range []struct{ value, want float64 }{{0.05, 0.05}, {0.1, 0}, {0.5, 0}, {1, 0}, {1.5, 0.5}} {
		if got := force.Misses(test.value); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("%v misses by %v, want %v", test.value, got, test.want)
		}
	}
}
