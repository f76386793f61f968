package solve

import (
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// searching is the accuracy of a search.
var searching = beam.Options{StepMM: 5, StepRad: math.Pi / 4, Tolerance: 1e-8, SmallestStep: 1.0 / 64, RoughTangent: true}

// intrudingLoop is the rectangular loop that the search found for the demo in tied slots.
func intrudingLoop() spring.Spring {
	degree := math.Pi / 180
	bend := func(angleDeg float64) spring.Step { return spring.BendStep(angleDeg*degree, 0.9659) }
	return spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(1), bend(31), spring.StraightStep(4), bend(63), spring.StraightStep(3.5), bend(-90), spring.StraightStep(8.5),
			bend(-90), spring.StraightStep(7.5), bend(-126), spring.StraightStep(1), bend(32), spring.StraightStep(1),
		),
		Wire: betaTitanium(), AnchorSlotLengthMM: 4, ActiveSlotLengthMM: 3.5, Heading: spring.Back,
		Start: spring.Seat{AtMM: r3.Vec{X: 12.25, Z: -2}}, End: spring.Seat{AtMM: r3.Vec{X: 12.25}}, Positions: 7,
	}
}

// inTubes puts a spring into tubes of 0.022 × 0.028 in, which may be larger by a share.
func inTubes(s spring.Spring, larger float64) spring.Spring {
	s.AnchorHold = spring.SlotHold{Play: true, Shifts: true, HeightMM: 0.5588 * (1 + larger), DepthMM: 0.7112 * (1 + larger)}
	s.ActiveHold = s.AnchorHold
	return s
}

// A search goes by tangents to first order, to which this loop in tubes is neutral where it begins to roll
// out of its plane: it has to come to rest there all the same, with the loads that it has.
func TestCoarseSeatedPathOfALoopThatRolls(t *testing.T) {
	t.Parallel()
	s := inTubes(intrudingLoop(), 0)
	s.SlidToRest = spring.SlideActive
	coarse, err := NewSeatedPath(s, searching)
	if err != nil {
		t.Fatal(err)
	}
	positions := evaluated(t, s).Record.Positions
	for i, want := range positions {
		if err := coarse.Follow(s.SeatAt(i)); err != nil {
			t.Fatalf("position %d: %v", i+1, err)
		}
		active, _ := coarse.Loads()
		if i == len(positions)-1 { // all but free of load: there it lies in another way
			continue
		}
		// Which way it rolls is left to chance: both have the same force in the plane. Steps that long are off by 1e-5.
		off := r3.Sub(active.ForceN, want.Active.ForceN)
		within(t, "force in the plane", math.Hypot(off.X, off.Z), 0, 1e-4)
	}
}

// allParameters are what a mm of every straight and a rad of every bend and twist does.
func allParameters(path spring.Path) []beam.Parameter {
	all := spring.Pattern{Steps: path.Steps()}
	for i, step := range all.Steps {
		all.Freedoms = append(all.Freedoms, spring.Freedom{Step: i, Angle: step.Kind != spring.Straight})
	}
	return all.Parameters(all.Steps)
}

// BenchmarkSeatedPath is a spring of the search over its travel in tubes, slid to rest and cinched,
// with slopes and without; "tied" is how many times as long it takes as the same in tied slots in
// the same run.
func BenchmarkSeatedPath(b *testing.B) {
	for _, row := range []struct {
		name   string
		slopes bool
	}{{"loads", false}, {"with slopes", true}} {
		b.Run(row.name, func(b *testing.B) {
			s := intrudingLoop()
			seated := inTubes(s, 0)
			seated.SlidToRest = spring.SlideActive
			parameters := allParameters(s.Path)
			slopes := make([]beam.Slope, len(parameters))
			run := func(p *SeatedPath) {
				p.SetPath(s.Path)
				for i := range s.Positions {
					if err := p.Follow(s.SeatAt(i)); err != nil {
						b.Fatal(err)
					}
					if row.slopes && !p.Slopes(parameters, slopes) {
						b.Fatal("no slopes")
					}
				}
			}
			var paths [2]*SeatedPath
			var took [2]float64
			for k, s := range []spring.Spring{s, seated} {
				var err error
				if paths[k], err = NewSeatedPath(s, searching); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportAllocs()
			for b.Loop() {
				for k, p := range paths {
					began := cpuTime(b)
					run(p)
					took[k] += (cpuTime(b) - began).Seconds()
				}
			}
			b.ReportMetric(took[1]/took[0], "tied/op")
		})
	}
}
