package export

import (
	"context"
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// straightJob is the test job beside a straight wire over a step, free wire of lengthMM.
func straightJob(t *testing.T, lengthMM, stepMM float64) Job {
	t.Helper()
	job := testJob()
	job.Case.Now.CentreMM = r3.Vec{X: lengthMM + 3.75, Z: -stepMM} // half of both slots
	job.Case.Goal.CentreMM = r3.Vec{X: lengthMM + 3.75}
	var err error
	if job.Straight, err = NewStraightWire(t.Context(), job.Case, job.Spring); err != nil {
		t.Fatal(err)
	}
	return job
}

func TestStraightWireIsABeamHeldAtBothEnds(t *testing.T) {
	const lengthMM, stepMM = 10, 0.1
	job := straightJob(t, lengthMM, stepMM)
	w := job.Spring.Wire
	stiffness := w.EMPa * w.WidthMM * math.Pow(w.ThicknessMM, 3) / 12 // N·mm²
	// A beam clamped at one end and guided at the other: force 12EI·v/l³, end moments half of
	// it times l (Young and Budynas, Roark's formulas, table 8.1, from memory); shear takes
	// away 12EI/(κGAl²), with κ = 5/6 of a rectangle (Timoshenko beam, handbook).
	shear := 12 * 2 * (1 + w.Poisson) * w.ThicknessMM * w.ThicknessMM / 12 / (5. / 6) / (lengthMM * lengthMM)
	force := 12 * stiffness * stepMM / math.Pow(lengthMM, 3) / (1 + shear)
	moment := force * lengthMM / 2
	first := job.Straight.Positions[0]
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

func TestStraightWireThatYieldsHasNoFigures(t *testing.T) {
	const lengthMM, stepMM = 8.75, 2
	job := straightJob(t, lengthMM, stepMM)
	way := travelOf(job.Straight.Spring)
	w := job.Spring.Wire
	// Stress 3E·t·v/l² comes to yield at this step, by the theory of small deflections; the
	// positions between which it is read lie a third of a millimetre apart.
	want := w.YieldMPa * lengthMM * lengthMM / (3 * w.EMPa * w.ThicknessMM)
	if got := job.Straight.elastic(way); !job.Straight.yields() || math.Abs(got-want) > 0.05*want {
		t.Errorf("elastic over %.3f mm, want %.3f", got, want)
	}
	page := loadsText(t, job)
	if !strings.Contains(page, "Straight wire: it yields") || strings.Contains(page, "straight wire 1") {
		t.Errorf("the page gives figures of a wire that yields, or no reason: %s", page)
	}
	// One that bears the step has its figures.
	if page := loadsText(t, straightJob(t, 14, 1)); strings.Contains(page, "yields") || !strings.Contains(page, " straight wire ") {
		t.Errorf("the page lacks the figures of a wire that stays elastic: %s", page)
	}
}

func TestStraightWireWithoutAnswerIsSaidInWords(t *testing.T) {
	for text, straight := range map[string]StraightWire{
		"no equilibrium was found": {Unsolved: true},
		"superelastic wire":        {Superelastic: true},
	} {
		job := testJob()
		job.Straight = &straight
		if page := loadsText(t, job); !strings.Contains(page, text) || !strings.Contains(page, "this spring") {
			t.Errorf("the page does not say %q: %s", text, page)
		}
	}
	job := testJob()
	superelastic, err := wire.ParseSpec("superelastic nickel-titanium 0.016in")
	if err != nil {
		t.Fatal(err)
	}
	job.Spring.Wire = superelastic
	straight, err := NewStraightWire(t.Context(), job.Case, job.Spring)
	if err != nil || !straight.Superelastic || straight.Positions != nil {
		t.Errorf("%+v, %v: want no figures of a superelastic wire", straight, err)
	}
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := NewStraightWire(stopped, testJob().Case, testJob().Spring); err == nil {
		t.Error("no error when stopped")
	}
}

// A slot that only turns has its travel in degrees.
func TestTravelThatOnlyTurns(t *testing.T) {
	job := testJob()
	job.Case.Now = design.Placement{CentreMM: r3.Vec{X: 20}, Rotation: r3.Vec{X: 8 * degree}}
	job.Case.Goal = design.Placement{CentreMM: r3.Vec{X: 20}}
	straight, err := NewStraightWire(t.Context(), job.Case, job.Spring)
	if err != nil {
		t.Fatal(err)
	}
	first := straight.Positions[0]
	way := travelOf(straight.Spring)
	if got := way.left(first); !way.Turns || math.Abs(got-8) > 1e-9 {
		t.Errorf("%.4f left, turns %v, want 8 degrees", got, way.Turns)
	}
	// The wire turns the tooth the way of the travel.
	if got := way.Along(first.Active); got <= 0 || math.Abs(got-math.Abs(first.Active.CoupleNMM.X)) > 1e-6*got {
		t.Errorf("%.4f N·mm along the turn, want the torque %.4f", got, first.Active.CoupleNMM.X)
	}
}

// loadsText is what the pages of loads say.
func loadsText(t *testing.T, job Job) string {
	t.Helper()
	job.Pages = []Page{LoadsPage}
	doc, err := compose(job)
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, p := range doc.Pages {
		if strings.HasPrefix(p.Title, "Loads") {
			texts = append(texts, p.Texts()...)
		}
		for _, fault := range p.Faults() {
			t.Error(fault)
		}
	}
	return strings.Join(texts, " ")
}
