package export

import (
	"math"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/effect"

	"gonum.org/v1/gonum/spatial/r3"
)

// straightJob is the test job beside a straight wire over a step, free wire of lengthMM.
func straightJob(t *testing.T, lengthMM, stepMM float64) Job {
	t.Helper()
	job := testJob()
	job.Case.Now.CentreMM = r3.Vec{X: lengthMM + 3.75, Z: -stepMM} // half of both slots
	job.Case.Goal.CentreMM = r3.Vec{X: lengthMM + 3.75}
	straight, err := effect.StraightWireBeside(t.Context(), job.Case, job.Spring)
	if err != nil {
		t.Fatal(err)
	}
	job.Straight = &straight
	return job
}

func TestStraightWireThatYieldsHasNoFigures(t *testing.T) {
	job := straightJob(t, 8.75, 2)
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
	for text, straight := range map[string]effect.StraightWire{
		"no equilibrium was found": {Unsolved: true},
		"superelastic wire":        {Superelastic: true},
	} {
		job := testJob()
		job.Straight = &straight
		if page := loadsText(t, job); !strings.Contains(page, text) || !strings.Contains(page, "this spring") {
			t.Errorf("the page does not say %q: %s", text, page)
		}
	}
}

// A slot that only turns has its travel in degrees.
func TestTravelThatOnlyTurns(t *testing.T) {
	job := testJob()
	job.Case.Now = design.Placement{CentreMM: r3.Vec{X: 20}, Rotation: r3.Vec{X: 8 * degree}}
	job.Case.Goal = design.Placement{CentreMM: r3.Vec{X: 20}}
	straight, err := effect.StraightWireBeside(t.Context(), job.Case, job.Spring)
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
