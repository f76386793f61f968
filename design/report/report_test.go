package report_test

import (
	"math"
	"os"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/notice"
	"springwright/design/report"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// loop is the demo's case with a loop as a hand might draw one.
func loop(t *testing.T) (design.Case, spring.Spring) {
	t.Helper()
	const file = "../../presets/demo.toml"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	c, err := casefile.ReadCase(file, data)
	if err != nil {
		t.Fatal(err)
	}
	var steps []spring.Step
	for _, leg := range [...]struct{ lengthMM, thenDeg float64 }{{2.5, 17}, {3, 90}, {5.5, -120}, {9.5, -73}, {5, -102}, {1.5, 10}, {1, 0}} {
		steps = append(steps, spring.StraightStep(leg.lengthMM))
		if leg.thenDeg != 0 {
			steps = append(steps, spring.BendStep(leg.thenDeg*math.Pi/180, c.Limits.BendRadiusMM))
		}
	}
	return c, c.SpringFor(spring.PathOf(steps...))
}

func of(t *testing.T, c design.Case, s spring.Spring, o report.Options) report.Report {
	t.Helper()
	r, err := report.Of(t.Context(), c, s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A report has what the program used to put together by itself: the misses of the target, both
// teeth, and what play does.
func TestReportSaysAllThatTheProgramDid(t *testing.T) {
	c, s := loop(t)
	c.Target.Start.ForceN[2] = target.Within(5, 6) // more than any spring has
	r := of(t, c, s, report.Options{})
	if r.Teeth == nil || r.Teeth.Teeth != c.Teeth {
		t.Fatalf("teeth: %+v", r.Teeth)
	}
	if misses := c.Misses(r.Evaluation.Record); len(misses) == 0 || r.Spring.Shortfall == nil || !slices.Equal(r.Spring.Shortfall.Misses, misses) ||
		r.Evaluation.Record.Verdict == nil || !slices.Equal(r.Evaluation.Record.Verdict.Misses, misses) {
		t.Errorf("misses %+v, the spring says %+v, the record %+v", misses, r.Spring.Shortfall, r.Evaluation.Record.Verdict)
	}
	if r.Met() {
		t.Error("a spring that misses its target meets it")
	}
	if !slices.ContainsFunc(r.Evaluation.Warnings, func(n notice.Notice) bool { return n.Kind() == notice.PlayKind }) {
		t.Errorf("nothing is said of play: %+v", r.Evaluation.Warnings)
	}
	if s.Shortfall != nil {
		t.Error("the caller's spring was changed")
	}
}

// Nobody but a search knows whether a spring keeps to the room in the mouth: without one it is not
// said to meet its target, even where it misses no window of it.
func TestOnlyASearchSaysThatASpringMeetsItsTarget(t *testing.T) {
	c, s := loop(t)
	c.Target = target.Target{ForceUntilMM: c.Target.ForceUntilMM}
	for i := range 3 {
		c.Target.Travel.ForceN[i], c.Target.Travel.CoupleNMM[i] = target.FreeWindow(), target.FreeWindow()
	}
	r := of(t, c, s, report.Options{})
	if r.NotMade() {
		t.Fatal("choose a spring that makes its travel")
	}
	if r.Met() || r.Evaluation.Record.Verdict != nil {
		t.Errorf("nobody has judged it: met %v, verdict %+v", r.Met(), r.Evaluation.Record.Verdict)
	}
	e := r.Evaluation
	e.Record.Verdict, e.Warnings = &target.Shortfall{}, nil
	if r := of(t, c, s, report.Options{Evaluation: &e}); !r.Met() || r.Spring.Shortfall != nil {
		t.Errorf("judged and met: %v, %+v", r.Met(), r.Spring.Shortfall)
	}
	e.Record.Verdict = &target.Shortfall{Exceeded: []target.Excess{{Limit: target.FoldLimit, Beyond: 1}}}
	if r := of(t, c, s, report.Options{Evaluation: &e}); r.Met() || r.Spring.Shortfall == nil || len(r.Spring.Shortfall.Exceeded) != 1 {
		t.Errorf("too high: met %v, %+v", r.Met(), r.Spring.Shortfall)
	}
}

// A spring that does not bring the tooth along its travel leaves it undone, unless the case means
// its load to work against the travel; the first warning says so.
func TestTravelNotMadeIsLeftUndone(t *testing.T) {
	c, s := loop(t)
	c.Goal = c.Now // and the tooth is to come out by 1 mm, against the force
	c.Goal.CentreMM.Z--
	s = c.SpringFor(s.Path)
	r := of(t, c, s, report.Options{})
	undone := func(e target.Excess) bool { return e.Limit == target.TravelLimit }
	if !r.NotMade() || !slices.ContainsFunc(r.Spring.Shortfall.Exceeded, undone) || r.Evaluation.Warnings[0] != notice.Notice(notice.TravelNotMade{Tooth: c.Teeth.Active}) {
		t.Errorf("not made %v, shortfall %+v, warnings %+v", r.NotMade(), r.Spring.Shortfall, r.Evaluation.Warnings)
	}
	c.Target.AgainstTravelMeant = true
	if r := of(t, c, s, report.Options{}); r.NotMade() || slices.ContainsFunc(r.Spring.Shortfall.Exceeded, undone) {
		t.Errorf("meant so: not made %v, shortfall %+v", r.NotMade(), r.Spring.Shortfall)
	}
}

func TestUnnamedTeethAreWarnedOf(t *testing.T) {
	c, s := loop(t)
	s.Path = spring.PathOf(append(s.Path.Steps(), spring.Step{Kind: spring.Bend, AngleRad: 0.2, RadiusMM: 1, Order: 1}, spring.StraightStep(2))...)
	for _, test := range []struct {
		own, taken tooth.Pair
		want       int
	}{{tooth.Pair{}, c.Teeth, 1}, {c.Teeth, c.Teeth, 0}, {tooth.Pair{}, tooth.Pair{}, 0}} {
		s.Teeth = test.own
		if got := report.UnnamedTeeth("a.toml", s, test.taken); len(got) != test.want {
			t.Errorf("of %v, taken for %v: %+v", test.own, test.taken, got)
		}
	}
}

// Of a spring in tubes, slid to rest, the loads that are told are those with play: what is said of play is
// what tied slots would make of them, and how the wire is put in.
func TestLoadsOfTheRealSeatingAreTheOnesTold(t *testing.T) {
	c, s := loop(t)
	c.ActiveSlot.Seating.Kind = spring.Tube
	s = c.SeatedSpring(s.Path)
	r := of(t, c, s, report.Options{})
	first := r.Evaluation.Record.Positions[0]
	const roundingN = 1e-6 // the same wire, followed twice
	if drift := r.Teeth.Drift.Steps; len(drift) == 0 || r3.Norm(r3.Sub(drift[0].Active.ForceN, first.Active.ForceN)) > roundingN {
		t.Errorf("the drift does not begin with the load on the tooth, %v", first.Active)
	}
	var told []notice.Kind
	for _, n := range r.Evaluation.Warnings {
		switch n := n.(type) {
		case notice.Play:
			told = append(told, n.Kind())
			if got := first.Active.Component(n.Component); !n.Seated || n.Played != got {
				t.Errorf("told %+v, the load is %v", n, got)
			}
		case notice.SlidToRest:
			told = append(told, n.Kind())
			if n.Tooth != c.Teeth.Active || n.OutMM != first.Play.SlidMM {
				t.Errorf("told %+v, the wire lies %+v", n, first.Play)
			}
		}
	}
	if want := []notice.Kind{notice.SlidToRestKind, notice.PlayKind}; !slices.Equal(told, want) {
		t.Errorf("told %v, want %v", told, want)
	}
}
