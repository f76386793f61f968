package fibre_test

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/fibre"
)

func flatWire(law fibre.Law) *fibre.Section {
	return fibre.Rectangle(law, 0.635, 0.4318, 0.0098797, 4, 32)
}

func perfectlyPlastic() fibre.Kinematic {
	law := steelLike()
	law.TangentMPa = 0
	return law
}

// Bent the other way, the same wire holds the same stresses with the other sign, to the last
// digit, and turned upside down the same ones: springs and their mirror images rest on it.
func TestBentMirrored(t *testing.T) {
	t.Parallel()
	for axis := 1; axis <= 3; axis++ {
		var kept, other beam.Stretch
		kept[axis], other[axis] = 0.9, -0.9
		a, heldA, okA := flatWire(steelLike()).Bent(perfectlyPlastic(), kept)
		b, heldB, okB := flatWire(steelLike()).Bent(perfectlyPlastic(), other)
		if !okA || !okB || heldA != -heldB {
			t.Fatalf("axis %d: held at %g and %g, %v, %v", axis, heldA, heldB, okA, okB)
		}
		var largest float64
		for i, f := range a.Fibres {
			g := b.Fibres[i].Locked
			if f.Locked != (fibre.Strain{Normal: -g.Normal, Shear2: -g.Shear2, Shear3: -g.Shear3}) {
				t.Fatalf("axis %d, fibre %d: %+v one way, %+v the other", axis, i, f.Locked, g)
			}
			largest = max(largest, math.Abs(f.Locked.Normal)+math.Abs(f.Locked.Shear2))
		}
		if largest < 0.3*steelLike().YieldMPa/steelLike().EMPa {
			t.Errorf("axis %d: hardly any stress is left", axis)
		}
	}
}

// What bending leaves is in balance, and below yield a bent wire is as stiff as a straight one.
func TestBentIsInBalance(t *testing.T) {
	t.Parallel()
	law := steelLike()
	straight := flatWire(law)
	for axis := 1; axis <= 3; axis++ {
		var kept beam.Stretch
		kept[axis] = -1.1
		bent, _, ok := flatWire(law).Bent(perfectlyPlastic(), kept)
		if !ok {
			t.Fatal("no such bend")
		}
		p := bent.NewPoint()
		if e, _, ok := p.Respond(beam.Stretch{}); !ok || e != (beam.Stretch{}) {
			t.Errorf("axis %d: unloaded it is stretched by %v", axis, e)
		}
		var load beam.Stretch
		load[axis] = -2 // along the bend, the wire stays elastic
		got, _, ok1 := p.Respond(load)
		want, _, ok2 := straight.NewPoint().Respond(load)
		for i := range got {
			if !ok1 || !ok2 || math.Abs(got[i]-want[i]) > 1e-14 {
				t.Errorf("axis %d: bent %v, straight %v", axis, got, want)
			}
		}
	}
}

// A bent section has no potential but its own: round a closed way of moments about both axes
// and twist, however it yields, it takes up work, less every time, as moments below yield end in an elastic state (Melan's theorem).
func TestBentShakesDown(t *testing.T) {
	t.Parallel()
	law := perfectlyPlastic()
	bent, _, ok := flatWire(law).Bent(law, beam.Stretch{2: 1.1})
	if !ok {
		t.Fatal("no such bend")
	}
	p := bent.NewPoint()
	round := func() (work float64) {
		const steps = 400
		var before, last beam.Stretch
		last, _, _ = p.Respond(before)
		for k := 1; k <= steps; k++ {
			angle := 2 * math.Pi * float64(k) / steps
			load := beam.Stretch{1: 3 * math.Sin(angle), 2: -6 * (1 - math.Cos(angle)), 3: 5 * math.Sin(2*angle)}
			e, _, ok := p.Respond(load)
			if !ok {
				t.Fatal("no response")
			}
			p.Keep()
			for i := range e {
				work += (load[i] + before[i]) / 2 * (e[i] - last[i])
			}
			before, last = load, e
		}
		return work
	}
	first := round()
	last := first
	for range 8 {
		work := round()
		if !(work > -1e-9 && work < last) {
			t.Errorf("work of %g N after %g N: want less and less, and never a gain", work, last)
		}
		last = work
	}
	t.Logf("work of %g N at first, %g N at last", first, last)
	if !(first > 1e-3 && last < 0.01*first) {
		t.Errorf("work of %g N at first, %g N at last: want some, then none", first, last)
	}
}

func TestBentRefuses(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		law  fibre.Kinematic
		kept beam.Stretch
	}{
		"two axes":        {perfectlyPlastic(), beam.Stretch{2: 0.1, 3: 0.1}},
		"extension":       {perfectlyPlastic(), beam.Stretch{0: 0.1}},
		"no number":       {perfectlyPlastic(), beam.Stretch{2: math.NaN()}},
		"infinite":        {perfectlyPlastic(), beam.Stretch{2: math.Inf(1)}},
		"yields back":     {steelLike(), beam.Stretch{2: 2}}, // 6500 MPa at 40 % of strain: thrice the yield stress
		"yields in shear": {steelLike(), beam.Stretch{1: 3}},
	} {
		if _, held, ok := flatWire(c.law).Bent(c.law, c.kept); ok {
			t.Errorf("%s: bent, held at %g", name, held)
		}
	}
	s := flatWire(steelLike())
	if same, held, ok := s.Bent(perfectlyPlastic(), beam.Stretch{}); !ok || same != s || held != 0 {
		t.Errorf("straight wire: %v, %g, %v", same, held, ok)
	}
}
