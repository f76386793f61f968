package export

import (
	"math"
	"strings"
	"testing"

	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// q = R·σy/(E·h); 1/(4q³ − 3q + 1) of the angle (handbook springback, as in package wire):
// 0.966·900/(65000·0.4318) = 0.03098 → 0.9072 kept; first order 0.02106 → 0.9369.
func TestBendToAndPliers(t *testing.T) {
	job := spatialJob()
	of, _, err := begin(job)
	if err != nil {
		t.Fatal(err)
	}
	rows := bendTexts{of}.bendTable().Rows
	for i, want := range [...][2]string{{"99°", "0.75"}, {"21°", "0.65"}, {"21°", "0.65"}, {"99°", "0.75"}, {"twist", "–"}} {
		if got := [2]string{rows[i][6], rows[i][9]}; got != want {
			t.Errorf("bend %d: bend to and pliers %v, want %v", i+1, got, want)
		}
	}
}

func TestElasticBendsAreNamed(t *testing.T) {
	job := testJob()
	job.Spring.Wire.YieldMPa = 30000 // q = 1.03: springs back straight
	of, _, err := begin(job)
	if err != nil {
		t.Fatal(err)
	}
	if row := (bendTexts{of}).bendTable().Rows[0]; row[5] != "–" || !strings.Contains(row[10], "springs back straight") {
		t.Errorf("row %q, want no angle to bend to and why", row)
	}
}

func TestBendCautions(t *testing.T) {
	path := spring.PathOf(
		spring.StraightStep(3), spring.BendStep(4*degree, testRadiusMM), spring.StraightStep(0.5),
		spring.BendStep(30*degree, testRadiusMM), spring.StraightStep(4),
	)
	of, _, err := begin(jobFor(path, tooth.Pair{Anchor: 36, Active: 37}, spring.On))
	if err != nil {
		t.Fatal(err)
	}
	got := bendTexts{of}.bendCautions()
	if len(got) != 2 || !strings.Contains(got[0], "bend 1.") || !strings.Contains(got[1], "bend 2.") {
		t.Errorf("cautions %q, want that bend 1 is shallow and the straight before bend 2 short", got)
	}
}

func TestHalfway(t *testing.T) {
	at := func(left, force float64) spring.Position {
		return spring.Position{TravelLeftMM: left, Active: tooth.Load{ForceN: r3.Vec{Z: force}}}
	}
	force := func(p spring.Position) float64 { return math.Abs(p.Active.ForceN.Z) }
	left := func(p spring.Position) float64 { return p.TravelLeftMM }
	got, found := halfway([]spring.Position{at(2, -0.6), at(1, -0.4), at(0, -0.1)}, left, force)
	// 0.3 N is a third of the way from 0.4 to 0.1 N.
	if want := 1 + 1.0/3; !found || math.Abs(got-want) > 1e-12 {
		t.Errorf("half the force after %v mm (%v), want %v", got, found, want)
	}
	if _, found := halfway([]spring.Position{at(2, 0.6), at(0, 0.5)}, left, force); found {
		t.Error("a force that never falls to half has no place where it does")
	}
}

func TestScaleIsRoundAndLargeEnough(t *testing.T) {
	for v := 0.0013; v < 5000; v *= 1.07 {
		s := scaleOf(v)
		if s < v*(1-1e-9) || s > 1.51*v {
			t.Errorf("scale %v for %v, want at most half as much again", s, v)
		}
	}
}

// What is said of twists and of bends out of plane stands only where there are such.
func TestWaysAreExplainedWhereTheyAre(t *testing.T) {
	order := func(s spring.Step, n int) spring.Step { s.Order = n; return s }
	flat, out, twist := spring.BendStep(0.5, testRadiusMM), order(spring.BendStep(0.5, testRadiusMM), 1), spring.Step{Kind: spring.Twist, LengthMM: 1, AngleRad: 0.2}
	for name, c := range map[string]struct {
		path           spring.Path
		leaves, twists bool
	}{
		"flat":  {spring.PathOf(spring.StraightStep(4), flat, spring.StraightStep(5)), false, false},
		"bayed": {spring.PathOf(spring.StraightStep(4), out, spring.StraightStep(5), flat, spring.StraightStep(5)), true, false},
		"twist": {spring.PathOf(spring.StraightStep(4), flat, spring.StraightStep(5), twist, spring.StraightStep(5)), false, true},
	} {
		of, _, err := begin(jobFor(c.path, testJob().Case.Teeth, spring.On))
		if err != nil {
			t.Fatal(err)
		}
		ways, order := bendTexts{of}.waysText(), bendTexts{of}.orderText()
		if strings.Contains(ways, "To a side") != c.leaves || strings.Contains(ways, "Twists") != c.twists || strings.Contains(order, "twists") && !c.twists {
			t.Errorf("%s: %q, %q", name, ways, order)
		}
	}
}
