package optimize

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/target"
)

// Where no loop can reach a target the nearest one is the answer, with the windows and the
// limits that stand in the way.
func TestTargetsOutOfReachNameWhatStandsInTheWay(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name     string
		change   func(*design.Case)
		misses   string // a name among those missed
		exceeded string // a limit among those exceeded; empty: not asked
		binding  notice.Notice
	}{
		{
			"5 N that fall to 0.3 N", func(c *design.Case) {
				c.Target.Start.ForceN[2] = target.Window{Min: 4.9, Max: 5.1}
				c.Target.Travel.ForceN[2] = target.Window{Min: 0.2, Max: 5.1}
			}, "crown-mesial couple", "stress", notice.StressInWay{}, // the force can be had, with a couple
		},
		{
			"extrusion by a spring that intrudes", func(c *design.Case) {
				c.Target.AgainstTravelMeant = true
				c.Target.Start.ForceN[2] = target.Within(-5, -4)
				c.Target.Travel.ForceN[2] = target.Within(-5, 0.6)
			}, "extrusive force", "stress", notice.StressInWay{},
		},
		{
			"no height", func(c *design.Case) { c.Limits.LoopHeightMM = 2 },
			"", "",
			notice.LimitInWay{Limit: target.FoldLimit},
		},
		{
			"no room behind the tooth", func(c *design.Case) { c.Limits.RoomDistalMM = 1 },
			"", "room distally",
			notice.LimitInWay{Limit: target.RoomDistalLimit},
		},
		{
			"no width", func(c *design.Case) { c.Limits.LoopWidthMM = 3 },
			"", "loop width",
			notice.LimitInWay{Limit: target.LoopWidthLimit},
		},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			if testing.Short() {
				t.Skip("a whole search in short mode")
			}
			c := demoCase(t)
			c.Search.Starts = 3
			test.change(&c)
			r, err := Search(t.Context(), c, Options{})
			// The only error of a nearest spring is that it yields; it is complete all the same.
			if yields := test.exceeded == "stress"; errors.Is(err, solve.ErrYield) != yields || err != nil && !yields {
				t.Fatalf("error %v", err)
			}
			if r.Met() {
				t.Fatalf("met by %v", r.Spring.Path)
			}
			if test.misses != "" && !slices.ContainsFunc(r.Misses, func(m target.Miss) bool { return askedName(c, m) == test.misses }) {
				t.Errorf("misses %v, want one of %q", r.Misses, test.misses)
			}
			if test.exceeded != "" && !slices.ContainsFunc(r.Exceeded, func(e target.Excess) bool { return e.Limit.String() == test.exceeded }) {
				t.Errorf("exceeded %v, want one of %q", r.Exceeded, test.exceeded)
			}
			if test.binding != nil && !slices.Contains(r.Binding, test.binding) {
				t.Errorf("binding %v, want %v among them", r.Binding, test.binding)
			}
			checkMisses(t, c, r)
			checkShortfall(t, c, r)
			checkOnGrid(t, r)
		})
	}
}

// checkMisses compares with the record: every window outside has its miss, and no other.
func checkMisses(t *testing.T, c design.Case, r Result) {
	t.Helper()
	for k, names := range [...][2]string{{"mesial force", "distal force"}, {"buccal force", "lingual force"}, {"intrusive force", "extrusive force"}} {
		worst := 0.0
		for i, p := range r.Evaluation.Record.Positions {
			v := [...]float64{p.Active.ForceN.X, p.Active.ForceN.Y, p.Active.ForceN.Z}[k]
			if p.TravelLeftMM >= c.Target.ForceUntilMM {
				worst = max(worst, c.Target.Travel.ForceN[k].Misses(v))
			}
			if i == 0 {
				worst = max(worst, c.Target.Start.ForceN[k].Misses(v))
			}
		}
		told := 0.0
		for _, m := range r.Misses {
			if slices.Contains(names[:], askedName(c, m)) {
				told = max(told, m.Window.Misses(m.Value))
			}
		}
		if math.Abs(told-worst) > 1e-9 {
			t.Errorf("%s is missed by %v N, told %v N: %v", names[0], worst, told, r.Misses)
		}
	}
}

func TestNothingThatCanBeSeatedIsAnError(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*design.Case){
		"60 mm below":  func(c *design.Case) { c.Now.CentreMM.Z = -60 },
		"60 mm beside": func(c *design.Case) { c.Now.CentreMM.Y = 60 },
	} {
		c := demoCase(t)
		c.Search.Starts = 4
		change(&c)
		r, err := Search(t.Context(), c, Options{})
		if !errors.Is(err, ErrNothingSolved) || r.Settings != nil {
			t.Errorf("%s: %v with error %v, want %v", name, r.Settings, err, ErrNothingSolved)
		}
	}
}

// askedName is what a miss is called by the sense that was asked for.
func askedName(c design.Case, m target.Miss) string {
	asked, _ := m.Sense()
	return c.QuantityName(m.Quantity, asked, fmt.Sprintf)
}
