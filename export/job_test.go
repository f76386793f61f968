package export

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

const testRadiusMM = 0.966

// loopPath is an invented rectangular loop that runs back into the active slot.
func loopPath() spring.Path {
	var steps spring.Steps
	for _, leg := range [...]struct{ lengthMM, thenDeg float64 }{
		{1.5, -14}, {1.5, 104}, {6, -83}, {10, -98}, {6, -76}, {3, -15}, {3, 0},
	} {
		steps = append(steps, spring.StraightStep(leg.lengthMM))
		if leg.thenDeg != 0 {
			steps = append(steps, spring.BendStep(leg.thenDeg*degree, testRadiusMM))
		}
	}
	return spring.PathOf(steps...)
}

// spatialPath has a first-order bend and a twist as well.
func spatialPath() spring.Path {
	return spring.PathOf(
		spring.StraightStep(2), spring.BendStep(90*degree, testRadiusMM), spring.StraightStep(6),
		spring.Step{Kind: spring.Bend, AngleRad: 20 * degree, RadiusMM: testRadiusMM, Order: 1},
		spring.StraightStep(2.5),
		spring.Step{Kind: spring.Bend, AngleRad: -20 * degree, RadiusMM: testRadiusMM, Order: 1},
		spring.StraightStep(1),
		spring.BendStep(-90*degree, testRadiusMM), spring.StraightStep(5),
		spring.Step{Kind: spring.Twist, AngleRad: 12 * degree, LengthMM: 2},
		spring.StraightStep(3),
	)
}

// jobFor makes a job for a path with invented loads: the figures are for drawing only.
func jobFor(path spring.Path, pair tooth.Pair, heading spring.Heading) Job {
	c := design.Case{
		Code: "demo-37", Title: "intrusion of an over-erupted second molar", Teeth: pair,
		AnchorSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 4}, ActiveSlot: spring.Slot{HeightMM: 0.5588, LengthMM: 3.5},
		Heading:   heading,
		Now:       design.Placement{CentreMM: r3.Vec{X: 12.5, Z: -2}},
		Goal:      design.Placement{CentreMM: r3.Vec{X: 12.5}},
		Positions: 7,
		Wire: wire.Wire{
			Alloy: "beta-titanium", EMPa: 65000, Poisson: 0.33, YieldMPa: 900,
			ThicknessMM: 0.4318, WidthMM: 0.635,
		},
		Limits: design.Limits{ShortestStraightMM: 1, BendRadiusMM: testRadiusMM},
	}
	for i := range 3 {
		c.Target.Travel.ForceN[i], c.Target.Travel.CoupleNMM[i] = target.FreeWindow(), target.FreeWindow()
	}
	c.Target.Travel.ForceN[2] = target.Window{Min: 0.05, Max: 0.6}
	c.Target.Travel.CoupleNMM[1] = target.Window{Min: -0.5, Max: 0.5}
	c.Target.ForceUntilMM = 0.5
	s := c.SpringFor(path)

	e := solve.Evaluation{
		Record:   spring.Record{Title: s.Title, FirstDayLoss: s.Wire.FirstDayLoss()},
		Gauge:    solve.GaugeCheck{Axis: tooth.ForceZ, ForceN: 0.43, TravelMM: -3.42, Solved: true},
		Warnings: notice.List{notice.NearYield{StressRatio: 0.93, TravelLeftMM: 2}},
	}
	for i := range s.Positions {
		left := 2 - 2*float64(i)/6
		f := 0.05 + 0.2*left
		m := 0.11 * math.Cos(2*left)
		e.Record.Positions = append(e.Record.Positions, spring.Position{
			Seat: s.SeatAt(i), TravelLeftMM: left,
			Active:      tooth.Load{ForceN: r3.Vec{X: 0.02 * left, Z: f}, CoupleNMM: r3.Vec{Y: m}},
			Anchor:      tooth.Load{ForceN: r3.Vec{X: -0.02 * left, Z: -f}, CoupleNMM: r3.Vec{Y: -m + f*12.5}},
			StressRatio: 0.2 + 0.35*left,
		})
	}
	// The seated shape is only drawn: the passive one, turned little by little so that it
	// comes near the slot.
	pose := beam.Origin()
	length := path.WireLengthMM()
	end := s.Rod().UnloadedEnd(beam.Origin())
	shift := r3.Sub(s.Start.AtMM, end.At)
	arc := 0.0
	add := func(step int) {
		share := arc / length
		p := pose
		p.At = r3.Add(p.At, r3.Scale(share*share*(3-2*share), shift))
		e.Passive = append(e.Passive, pose)
		e.Seated = append(e.Seated, p)
		e.Samples = append(e.Samples, solve.Sample{Step: step, ArcMM: arc})
	}
	add(0)
	for i, piece := range path.Pieces() {
		parts := max(1, int(math.Ceil(piece.LengthMM/0.25)))
		for range parts {
			pose = pose.Advance(piece.Curvature, piece.LengthMM/float64(parts))
			arc += piece.LengthMM / float64(parts)
			add(i)
		}
	}
	c.Resistance = design.Resistances{Active: tooth.ResistanceOf(pair.Active), Anchor: tooth.ResistanceOf(pair.Anchor)}
	return Job{
		Report: report.Report{Case: c, Spring: s, Evaluation: e, Teeth: teethReport(c, e.Record)},
		Frame:  Frame{Version: "0.1.0", Fingerprint: "7c3e91d2", Date: "2026-11-24", Paper: A4},
	}
}

// teethReport has the figures of a record and invented drifts.
func teethReport(c design.Case, r spring.Record) *effect.TeethReport {
	loads := effect.AtResistance(c, r)
	of := func(n tooth.Number, at tooth.Resistance, l tooth.Load, offset r3.Vec) effect.ToothReport {
		return effect.ToothReport{
			Number: n, Resistance: at, AtResistance: l,
			Movements: effect.Movements(l, at.LeverMM2), Remedy: effect.Remedy(l, offset),
		}
	}
	report := effect.TeethReport{
		Teeth:  c.Teeth,
		Active: of(c.Teeth.Active, c.Resistance.Active, loads[0].Active, c.ActiveOffset(r.Positions[0].Seat)),
		Anchor: of(c.Teeth.Anchor, c.Resistance.Anchor, loads[0].Anchor, c.AnchorOffset()),
		Drift:  effect.Drift{PlannedMM: 2, ReachedMM: 1.7, SlackMM: 0.3, End: effect.DriftDied},
	}
	for i := range 21 {
		share := float64(i) / 20
		report.Drift.Steps = append(report.Drift.Steps, effect.DriftStep{
			ShiftMM:  r3.Vec{Z: 1.7 * share},
			Rotation: r3.Vec{X: 0.05 * share, Y: -0.02 * math.Sin(5*share), Z: 0.01 * share},
			Active:   r.Positions[0].Active,
		})
	}
	given := effect.AnchorOutcome{HoldRatio: c.HoldRatio(), Drift: effect.Drift{
		PlannedMM: 2, ReachedMM: 0.46, SlackMM: 1.54, End: effect.DriftDied,
		Steps: []effect.DriftStep{{}, {Anchor: effect.AnchorShift{SlotMM: r3.Vec{X: -0.72, Z: 0.12}, Rotation: r3.Vec{X: -0.012, Y: 0.098, Z: 0.004}}}},
	}}
	report.Anchors = []effect.AnchorOutcome{given}
	if better, ok := c.BetterAnchorage(); ok {
		next := given
		next.Anchorage, next.Drift.ReachedMM, next.Drift.SlackMM = better, 0.51, 1.49
		next.Drift.Steps = []effect.DriftStep{{}, {Anchor: effect.AnchorShift{SlotMM: r3.Vec{X: -0.5, Z: -0.31}, Rotation: r3.Vec{X: -0.012, Y: 0.058, Z: 0.004}}}}
		report.Anchors = append(report.Anchors, next)
	}
	return &report
}

func testJob() Job {
	return jobFor(loopPath(), tooth.Pair{Anchor: 36, Active: 37}, spring.Back)
}

func spatialJob() Job {
	return jobFor(spatialPath(), tooth.Pair{Anchor: 16, Active: 15}, spring.On)
}

func TestEveryPageReadsCleanly(t *testing.T) {
	for name, job := range map[string]Job{"loop": testJob(), "spatial": spatialJob()} {
		for _, paper := range [...]Paper{A4, Letter} {
			job.Paper = paper
			doc, err := compose(job)
			if err != nil {
				t.Errorf("%s on %v: %v", name, paper, err)
				continue
			}
			for i, p := range doc.Pages {
				for _, fault := range p.Faults() {
					t.Errorf("%s on %v, page %d: %s", name, paper, i+1, fault)
				}
			}
		}
	}
}
