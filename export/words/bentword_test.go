package words

import (
	"springwright/design"
	"springwright/design/bent"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// sayBent says what is told of bent springs: usable or not, with one correction, two or none, measured in part.
func sayBent(b *Book, told func(what ...any)) {
	teeth := tooth.Pair{Anchor: 36, Active: 37}
	path := func(shift float64) spring.Path {
		return spring.PathOf(spring.StraightStep(3+shift), spring.BendStep(1+shift, 0.75), spring.StraightStep(4), spring.BendStep(-0.5-shift, 0.75), spring.StraightStep(2))
	}
	drawn := spring.Spring{Teeth: teeth, Path: path(0), Wire: wire.Wire{Alloy: "beta-titanium", EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.4, WidthMM: 0.56}}
	c := design.Case{Teeth: teeth, Wire: drawn.Wire}
	c.Target.Start.ForceN[2], c.Target.Travel.ForceN[2] = target.Window{Min: 0.3, Max: 0.6}, target.Window{Min: 0.05, Max: 0.6}
	load := func(n float64) spring.Position {
		return spring.Position{Active: tooth.Load{ForceN: r3.Vec{Z: n}, CoupleNMM: r3.Vec{Y: 2 * n}}, Anchor: tooth.Load{ForceN: r3.Vec{Z: -n}}}
	}
	var bands [tooth.Components]spring.Band
	for k := range bands {
		bands[k] = spring.Band{Low: 0.1 * float64(k), Median: 0.2 * float64(k), High: 0.3 * float64(k)}
	}
	outcome := func(met int, misses ...target.Miss) bent.Outcome {
		both := [][tooth.Components]spring.Band{bands, bands}
		return bent.Outcome{
			Spring: drawn, Misses: misses, Trial: bent.Trial{Springs: 50, Met: met, Unseated: 7, Active: both, Anchor: both},
			Evaluation: solve.Evaluation{Record: spring.Record{Positions: []spring.Position{load(0.4), load(0.1)}}},
		}
	}
	miss := target.Miss{Quantity: target.OfActive(tooth.ForceZ), Value: 0.8, Window: target.Window{Min: 0.3, Max: 0.6}, AtStart: true}
	corrected := func(met int, by ...float64) *bent.Corrected {
		made := &bent.Corrected{WithLast: 0.93, Outcome: outcome(met, miss)}
		for i, rad := range by {
			made.Corrections = append(made.Corrections, bent.Correction{Place: bent.Place{Step: 1 + 2*i}, ByRad: rad})
		}
		return made
	}
	for _, r := range []bent.Report{
		{HasTarget: false, AsBent: outcome(40)},
		{HasTarget: true, AsBent: outcome(40), Allowed: 0.95},
		{HasTarget: true, AsBent: outcome(10), Allowed: 0.9},
		{HasTarget: true, AsBent: outcome(5, miss), Allowed: 0.9, One: corrected(30, 0.05), Two: corrected(45, 0.05, -0.04), CorrectionSDRad: 0.01},
		{HasTarget: true, AsBent: outcome(5, miss), Allowed: 0.9, Two: corrected(45, -0.05, 0.04), CorrectionSDRad: 0.02},
		{HasTarget: true, AsBent: outcome(5, miss), Lost: &bent.Lost{Lost: report.Lost{Off: [tooth.Components]float64{0.4, 0, -0.3, 0, 0.04, 0}}}},
		{HasTarget: true, AsBent: outcome(5, miss), Lost: &bent.Lost{Lost: report.Lost{Within: true}}},
	} {
		for i, s := range drawn.Path.Steps() {
			size := s.LengthMM
			if s.Kind != spring.Straight {
				size = s.AngleRad
			}
			r.Steps = append(r.Steps, bent.StepEstimate{Step: s, Drawn: size, Estimate: bent.Estimate{Value: 1.1 * size, SD: 0.02}, Measured: i%2 == 1})
		}
		r.Stiffness = bent.Estimate{Value: 1.07, SD: 0.05}
		told(b.Bent(c, drawn, r))
	}
	for _, s := range []bent.SoFar{
		{Next: 2, Spring: spring.Spring{Path: path(0.1)}, Before: outcome(10), After: outcome(30)},
		{Next: 2, Spring: spring.Spring{Path: path(0)}, Before: outcome(10), After: outcome(30)},
	} {
		told(b.SoFar(drawn, s))
	}
	told(b.StepNames(drawn))
}
