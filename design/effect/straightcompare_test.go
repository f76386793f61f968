package effect_test

import (
	"context"
	"math"
	"testing"

	"springwright/design/designtest"
	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// straightBeside is a straight wire over a step, free wire of lengthMM.
func straightBeside(t *testing.T, lengthMM, stepMM float64) effect.StraightWire {
	t.Helper()
	c := designtest.LoopCase()
	c.Positions = 7
	c.Now.CentreMM = r3.Vec{X: lengthMM + 3.75, Z: -stepMM} // half of both slots
	c.Goal.CentreMM = r3.Vec{X: lengthMM + 3.75}
	straight, err := effect.StraightWireBeside(t.Context(), c, c.SpringFor(spring.Path{}))
	if err != nil {
		t.Fatal(err)
	}
	return straight
}

func TestStraightWireIsABeamHeldAtBothEnds(t *testing.T) {
	t.Parallel()
	const lengthMM, stepMM = 10, 0.1
	straight := straightBeside(t, lengthMM, stepMM)
	w := straight.Spring.Wire
	stiffness := w.EMPa * w.WidthMM * math.Pow(w.ThicknessMM, 3) / 12 // N·mm²
	// A beam clamped at one end and guided at the other: force 12EI·v/l³, end moments half of
	// it times l (Young and Budynas, Roark's formulas, table 8.1, from memory); shear takes
	// away 12EI/(κGAl²), with κ = 5/6 of a rectangle (Timoshenko beam, handbook).
	shear := 12 * 2 * (1 + w.Poisson) * w.ThicknessMM * w.ThicknessMM / 12 / (5. / 6) / (lengthMM * lengthMM)
	force := 12 * stiffness * stepMM / math.Pow(lengthMM, 3) / (1 + shear)
	moment := force * lengthMM / 2
	first := straight.Positions[0]
	// The theory leaves out terms of the order of (v/l)², here 1e-4.
	const tolerance = 1e-3
	if got := first.Active.ForceN.Z; math.Abs(got-force) > tolerance*force {
		t.Errorf("force %.5f N, want %.5f", got, force)
	}
	// About the slots' centres, half a slot further out.
	for i, want := range [...]float64{moment + force*1.75, moment + force*2} {
		if got := math.Abs([...]tooth.Load{first.Active, first.Anchor}[i].CoupleNMM.Y); math.Abs(got-want) > tolerance*want {
			t.Errorf("couple %d is %.4f N·mm, want %.4f", i, got, want)
		}
	}
	stress := moment * w.ThicknessMM / 2 / (stiffness / w.EMPa) / w.YieldMPa
	if got := first.StressRatio; math.Abs(got-stress) > tolerance*stress {
		t.Errorf("stress ratio %.5f, want %.5f", got, stress)
	}
}

func TestStraightWireIsElasticOverPartOfTheTravel(t *testing.T) {
	t.Parallel()
	const lengthMM, stepMM = 8.75, 2
	straight := straightBeside(t, lengthMM, stepMM)
	w := straight.Spring.Wire
	// Stress 3E·t·v/l² comes to yield at this step, by the theory of small deflections; the
	// positions between which it is read lie a third of a millimetre apart.
	want := w.YieldMPa * lengthMM * lengthMM / (3 * w.EMPa * w.ThicknessMM)
	if got := straight.ElasticLeft(); !straight.Yields() || math.Abs(got-want) > 0.05*want {
		t.Errorf("elastic over %.3f mm, want %.3f", got, want)
	}
}

// BenchmarkStraightWire is what the straight wire beside a spring adds to a design.
func BenchmarkStraightWire(b *testing.B) {
	c := designtest.LoopCase()
	spring := c.SpringFor(spring.Path{})
	for b.Loop() {
		if _, err := effect.StraightWireBeside(b.Context(), c, spring); err != nil {
			b.Fatal(err)
		}
	}
}

func TestStraightWireWithoutFigures(t *testing.T) {
	t.Parallel()
	superelastic, err := wire.ParseSpec("superelastic nickel-titanium 0.016in")
	if err != nil {
		t.Fatal(err)
	}
	c := designtest.LoopCase()
	made := c.SpringFor(spring.Path{})
	made.Wire = superelastic
	straight, err := effect.StraightWireBeside(t.Context(), c, made)
	if err != nil || !straight.Superelastic || straight.Positions != nil {
		t.Errorf("%+v, %v: want no figures of a superelastic wire", straight, err)
	}
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := effect.StraightWireBeside(stopped, c, c.SpringFor(spring.Path{})); err == nil {
		t.Error("no error when stopped")
	}
}
