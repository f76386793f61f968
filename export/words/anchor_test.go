package words

import (
	"errors"
	"strings"
	"testing"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestAnchorageIsNamedByItsTeeth(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		anchorage design.Anchorage
		want      string
	}{
		{design.Anchorage{}, "36 alone"},
		{design.Anchorage{Joined: []tooth.Number{35}}, "35–36 joined"},
		{design.Anchorage{Joined: []tooth.Number{35, 34}}, "34–36 joined"},
		{design.Anchorage{Joined: []tooth.Number{34}}, "34, 36 joined"},
		{design.Anchorage{Held: design.BarHeld}, "36 with a bar"},
		{design.Anchorage{Joined: []tooth.Number{35}, Held: design.BarHeld}, "35–36 with a bar"},
		{design.Anchorage{Held: design.ScrewHeld}, "36 held by a screw"},
	} {
		if got := NewBook(English).Anchorage(tooth.Pair{Anchor: 36, Active: 37}, c.anchorage); got != c.want {
			t.Errorf("%+v is %q, want %q", c.anchorage, got, c.want)
		}
	}
}

// outcome is one whose anchor has tipped crown-mesially: +x is distal of 36, and +y carries its
// crown towards −x.
func outcome(change func(*effect.AnchorOutcome)) effect.AnchorOutcome {
	o := effect.AnchorOutcome{Drift: effect.Drift{PlannedMM: 2, ReachedMM: 0.462, End: effect.DriftDied, Steps: []effect.DriftStep{{}, {Anchor: effect.AnchorShift{
		SlotMM: r3.Vec{X: -0.72, Z: 0.12}, Rotation: r3.Vec{X: -0.01, Y: 5.6 * degree},
	}}}}}
	change(&o)
	return o
}

func TestAnchorOutcomeIsSaidInOneSentence(t *testing.T) {
	t.Parallel()
	last := func(o *effect.AnchorOutcome) *effect.AnchorShift { return &o.Drift.Steps[len(o.Drift.Steps)-1].Anchor }
	for _, c := range []struct {
		outcome effect.AnchorOutcome
		want    string
	}{
		{outcome(func(*effect.AnchorOutcome) {}), "36 alone: 37 comes 0.46 of 2.00 mm before the spring is spent; 36 tips 5.6°, crown-mesial, and its slot moves 0.7 mm"},
		{
			outcome(func(o *effect.AnchorOutcome) {
				o.Anchorage, o.Drift.ReachedMM, o.Drift.End = design.Anchorage{Held: design.ScrewHeld}, 2, effect.DriftArrived
			}),
			"36 held by a screw: 37 comes 2.00 of 2.00 mm; 36 is taken not to move",
		},
		{
			outcome(func(o *effect.AnchorOutcome) {
				o.Anchorage.HoldRatio, o.Drift.End, last(o).Rotation = 2.5, effect.DriftCentreGone, r3.Vec{Z: -3 * degree}
			}),
			"36 alone (hold 2.5 times that of 37): 37 comes 0.46 of 2.00 mm by the time its centre of resistance has gone as far as planned; 36 turns 3.0°, mesial-out, and its slot moves 0.7 mm",
		},
		{
			outcome(func(o *effect.AnchorOutcome) {
				o.Drift.ReachedMM, o.Drift.End, *last(o) = -0.3, effect.DriftAside, effect.AnchorShift{SlotMM: r3.Vec{Z: 0.04}}
			}),
			"36 alone: 37 goes 0.30 mm against its travel of 2.00 mm and then hardly nearer; 36 keeps its angle and its slot moves 0.04 mm",
		},
		{
			outcome(func(o *effect.AnchorOutcome) {
				o.Drift.Turns, o.Drift.Planned, o.Drift.ReachedRad, o.Drift.End, *last(o) = true, r3.Vec{Y: 15 * degree}, 11*degree, effect.DriftAgainst, effect.AnchorShift{}
			}),
			"36 alone: 37 turns 11 of 15°, where the spring works the other way; 36 hardly moves",
		},
		{outcome(func(o *effect.AnchorOutcome) { o.Fault = effect.ErrNoDrift }), "36 alone: no prediction: the tooth is to stay where it stands"},
	} {
		if got := NewBook(English).AnchorOutcome(tooth.Pair{Anchor: 36, Active: 37}, c.outcome); got != c.want {
			t.Errorf("got  %q\nwant %q", got, c.want)
		}
	}
}

func TestAnchorLimitIsSaidWithItsUnit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		verdict target.LimitVerdict
		want    string
	}{
		{target.LimitVerdict{Limit: target.AnchorLossLimit, Value: 0.734, Allowed: 0.5}, "anchorage loss|at most 0.73 mm|at most 0.50 mm"},
		{target.LimitVerdict{Limit: target.AnchorTipLimit, Value: 5.6 * degree, Allowed: 8 * degree, Met: true}, "tipping of the anchor|at most 5.6°|at most 8.0°"},
		{target.LimitVerdict{Limit: target.AnchorTipLimit, Allowed: 8 * degree, Unknown: true}, "tipping of the anchor|not known|at most 8.0°"},
	} {
		name, value, limit := NewBook(English).LimitVerdict(c.verdict)
		if got := strings.Join([]string{name, value, limit}, "|"); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestFirstDayIsARange(t *testing.T) {
	t.Parallel()
	up := spring.Spring{End: spring.Seat{AtMM: r3.Vec{Z: 2}}}.Travel()
	record := func(loss wire.Relaxation, l tooth.Load) spring.Record {
		return spring.Record{FirstDayLoss: loss, Positions: []spring.Position{{Active: l}}}
	}
	some := wire.Relaxation{Low: 0.05, High: 0.1}
	for _, c := range []struct {
		record spring.Record
		want   string
	}{
		{record(some, tooth.Load{ForceN: r3.Vec{Z: 0.44}}), "after the first day the force is 0.40 to 0.42 N at the start, and 0.02 to 0.04 N lower all the way, as the wire relaxes (from memory)"},
		{record(some, tooth.Load{CoupleNMM: r3.Vec{Y: -4}}), "after the first day the couple is 3.60 to 3.80 N·mm at the start, and 0.20 to 0.40 N·mm lower all the way, as the wire relaxes (from memory)"},
		{record(some, tooth.Load{}), ""},
		{record(wire.Relaxation{}, tooth.Load{ForceN: r3.Vec{Z: 0.5}}), ""},
	} {
		if got := NewBook(English).FirstDay(c.record, up); got != c.want {
			t.Errorf("got  %q\nwant %q", got, c.want)
		}
	}
}

// sayAnchors says all that is said of anchors, for a language to lack nothing.
func sayAnchors(b *Book, told func(what ...any)) {
	teeth := tooth.Pair{Anchor: 36, Active: 37}
	for _, held := range []design.Anchorage{{}, {Joined: []tooth.Number{35}, HoldRatio: 2}, {Held: design.BarHeld}, {Held: design.ScrewHeld}} {
		for end := effect.DriftArrived; end <= effect.DriftAgainst; end++ {
			for _, reached := range []float64{-1, 1} {
				for _, lost := range []effect.AnchorShift{{}, {SlotMM: r3.Vec{X: 1}}, {SlotMM: r3.Vec{Z: -1}, Rotation: r3.Vec{Y: 0.1}}, {SlotMM: r3.Vec{Y: 1}, Rotation: r3.Vec{X: 0.1}}} {
					for _, turns := range []bool{true, false} {
						o := outcome(func(o *effect.AnchorOutcome) {
							o.Anchorage, o.Drift.End, o.Drift.ReachedMM, o.Drift.ReachedRad, o.Drift.Turns = held, end, reached, reached/10, turns
							o.Drift.Planned, o.Drift.Steps[1].Anchor = r3.Vec{Y: 0.2}, lost
						})
						told(b.AnchorOutcome(teeth, o))
						told(b.AnchorSlot(teeth, o))
					}
				}
			}
		}
		told(b.AnchorOutcome(teeth, effect.AnchorOutcome{Anchorage: held, Fault: errors.New("anything")}))
	}
	for _, unknown := range []bool{true, false} {
		told(b.LimitVerdict(target.LimitVerdict{Limit: notice.AnchorLossLimit, Unknown: unknown}))
	}
	for _, l := range []tooth.Load{{ForceN: r3.Vec{X: 1}}, {CoupleNMM: r3.Vec{Y: 1}}} {
		told(b.FirstDay(spring.Record{FirstDayLoss: wire.Relaxation{Low: 0.05, High: 0.1}, Positions: []spring.Position{{Active: l}}}, spring.Travel{}))
	}
}
