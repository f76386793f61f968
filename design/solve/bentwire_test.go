package solve

import (
	"flag"
	"math"
	"slices"
	"testing"

	"springwright/design/beam"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Random springs that stay below yield but for their bends. A long run:
//
//	go test ./design/solve -run TestBentLossOfRandomSprings -v -timeout 1h -args -bentsprings 200
var bentSprings = flag.Int("bentsprings", 12, "random springs below yield")

// cornerLoop is a vertical one of beta-titanium 0.017 × 0.025 in with corners of 0.97 mm radius, pulled
// open by so much and let halfway back.
func cornerLoop(openMM float64) spring.Spring {
	const quarter, radiusMM, legMM = math.Pi / 2, 0.97, 6
	s := spring.Spring{
		Path: spring.PathOf(
			spring.StraightStep(2.5), spring.BendStep(quarter, radiusMM), spring.StraightStep(legMM), spring.BendStep(-2*quarter, radiusMM),
			spring.StraightStep(legMM), spring.BendStep(quarter, radiusMM), spring.StraightStep(2.5),
		),
		Wire:      wire.Wire{EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.4318, WidthMM: 0.635},
		Positions: 2,
	}
	end := passiveSeat(s).AtMM
	s.Start.AtMM, s.End.AtMM = r3.Add(end, r3.Vec{X: openMM}), r3.Add(end, r3.Vec{X: openMM / 2})
	return s
}

func solvedBelowYield(t *testing.T, s spring.Spring) Evaluation {
	t.Helper()
	e, err := Evaluate(t.Context(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// relieved is the spring without stress in its bends.
func relieved(s spring.Spring) spring.Spring {
	s.Wire.StressRelieved = true
	return s
}

// A vertical loop pulled open opens the bend at its top. An independent calculation has it lose
// 0.8, 2.6 and 5.2 % of its force at stresses of 0.66, 0.81 and 0.97 times yield; of its loop
// only the wire and the radius are known, so that a loss may be off by a quarter of itself.
func TestVerticalLoopPulledOpen(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ ratio, loss float64 }{{0.66, 0.008}, {0.81, 0.026}, {0.97, 0.052}} {
		openMM := 1.5
		for range 6 { // secant steps: the stress is nearly in proportion
			openMM *= c.ratio / solvedBelowYield(t, relieved(cornerLoop(openMM))).Record.Positions[0].StressRatio
		}
		elastic, bent := solvedBelowYield(t, relieved(cornerLoop(openMM))), solvedBelowYield(t, cornerLoop(openMM))
		warned := func(e Evaluation) bool {
			return slices.ContainsFunc(e.Warnings, func(n notice.Notice) bool { return n.Kind() == notice.OpposedBendsKind })
		}
		if warned(elastic) || !warned(bent) {
			t.Errorf("stress ratio %g: warnings %+v without stress in the bends, %+v with", c.ratio, elastic.Warnings, bent.Warnings)
		}
		if elastic.History || !bent.History {
			t.Fatalf("stress ratio %g: history %v without stress in the bends, %v with", c.ratio, elastic.History, bent.History)
		}
		for i, p := range elastic.Record.Positions {
			// The set takes the same force away all along the way back.
			loss := (p.Active.ForceN.X - bent.Record.Positions[i].Active.ForceN.X) / elastic.Record.Positions[0].Active.ForceN.X
			t.Logf("stress ratio %.2f, opened by %.2f mm, position %d: %.2f %% of the force lost", c.ratio, openMM, i, 100*loss)
			if math.Abs(loss-c.loss) > 0.25*c.loss {
				t.Errorf("stress ratio %g, position %d: %.2f %% of the force lost, want %.1f %%", c.ratio, i, 100*loss, 100*c.loss)
			}
		}
		if set := bent.Set.AfterTrial; set.Unknown || !(set.ShiftMM > 0 && set.ShiftMM < 0.1*openMM) || elastic.Set != (Set{}) {
			t.Errorf("set %+v, without stress in the bends %+v", set, elastic.Set)
		}
	}
}

// loads are all loads of a record.
func loads(r spring.Record) (all []tooth.Load) {
	for _, p := range r.Positions {
		all = append(all, p.Active, p.Anchor)
	}
	return all
}

// Springs of all kinds below yield: what the bends are reckoned to lose is what the loads lose
// with the history of every section, and where it is left out, it is little. Springs that play
// in their slots are left out: they may come to lie on other walls.
func TestBentLossOfRandomSprings(t *testing.T) {
	t.Parallel()
	solved, remembered := 0, 0
	for number := 0; solved < *bentSprings; number++ {
		d := newMemoryDraw(90000 + number)
		s, found := d.yieldingSpring()
		s.Wire.TangentMPa = 0
		wanted := d.between(0.3, 1)
		passive := passiveSeat(s)
		worst := 0.0
		var elastic Evaluation
		for range 8 {
			var err error
			if elastic, err = Evaluate(t.Context(), relieved(s), Options{AllowYield: true}); err != nil {
				found = false
				break
			}
			if worst, _ = elastic.worstStress(); worst < 1 && math.Abs(worst/wanted-1) < 0.1 {
				break
			}
			farther := min(3, wanted/worst)
			s.Start, s.End = passive.Towards(s.Start, farther), passive.Towards(s.End, farther)
		}
		if !found || worst >= 1 || worst < 0.2 {
			continue
		}
		solved++
		bent, err := evaluateWithHistory(t.Context(), s, nil)
		if err != nil {
			t.Errorf("spring %d: %v", number, err)
			continue
		}
		straight, err := evaluateWithHistory(t.Context(), relieved(s), nil)
		if err != nil {
			t.Errorf("spring %d, relieved: %v", number, err)
			continue
		}
		if miss := imbalance(s, bent.Record); miss > 1e-6 {
			t.Errorf("spring %d: out of balance by %g", number, miss)
		}
		solver := beam.NewSolver(s.Rod(), beam.Origin(), solverOptions(s))
		slots, err := newSlotFollower(s, solver)
		if err != nil {
			t.Fatal(err)
		}
		check := newBentCheck(s, s.Wire.Section(), s.Wire.Strength())
		for i := range s.Positions {
			if _, err := slots.follow(s.SeatAt(i)); err != nil {
				t.Fatalf("spring %d: %v", number, err)
			}
			if err := check.follow(solver.AppendNodes(nil)); err != nil {
				t.Errorf("spring %d: %v", number, err)
			}
		}
		var force, couple, forceMiss, coupleMiss float64
		with := loads(bent.Record)
		for i, l := range loads(straight.Record) {
			force, couple = max(force, r3.Norm(l.ForceN)), max(couple, r3.Norm(l.CoupleNMM))
			forceMiss = max(forceMiss, r3.Norm(r3.Sub(l.ForceN, with[i].ForceN)))
			coupleMiss = max(coupleMiss, r3.Norm(r3.Sub(l.CoupleNMM, with[i].CoupleNMM)))
		}
		miss := max(forceMiss/force, coupleMiss/couple)
		t.Logf("spring %d: stress ratio %.2f, loss reckoned %.4f, found %.4f, slides %v", number, worst, check.loss, miss, s.Slide)
		switch {
		case !check.yieldTooMuch() && miss > 2*leastBentLoss:
			t.Errorf("spring %d: loads miss %.2f %% of the largest, which was left out", number, 100*miss)
		case check.yieldTooMuch():
			remembered++
			if e := solvedBelowYield(t, s); !e.History {
				t.Errorf("spring %d: solved without history", number)
			}
			if ratio := miss / check.loss; ratio < 0.5 || ratio > 2 {
				t.Errorf("spring %d: loads miss %.2f %% of the largest, reckoned %.2f %%", number, 100*miss, 100*check.loss)
			}
		}
	}
	t.Logf("%d springs, %d of them with history", solved, remembered)
	if remembered == 0 || remembered == solved {
		t.Errorf("%d of %d springs with history: draw others", remembered, solved)
	}
}

// A moment or twist of leastAcross, beside one that comes as near to yield against the bend as
// is not looked into.
func TestBendsHardlyYieldAcross(t *testing.T) {
	t.Parallel()
	flat := cornerLoop(0).Wire
	round := flat
	round.ThicknessMM, round.WidthMM, round.DiameterMM = 0, 0, 0.4064
	for _, w := range []wire.Wire{flat, round} {
		section, yield := w.Section(), w.YieldMomentNMM()
		for _, curvature := range []r3.Vec{{X: 0.3}, {Y: 1 / 0.97}, {Y: 0.2}, {Z: 1 / 0.97}} {
			bent, _, err := w.Bending().Fibres(curvature)
			if err != nil {
				t.Fatal(err)
			}
			axis := r3.Unit(curvature)
			limit := w.ReverseTwistYield()
			if curvature.X == 0 {
				limit = w.ReverseYield(1/r3.Norm(curvature), 2)
			}
			for _, along := range []float64{leastAcross - limit, -0.5 * limit, 0, 0.5} {
				for angle := 0.0; angle < 6; angle += math.Pi / 4 {
					sin, cos := math.Sincos(angle)
					across := r3.Vec{X: sin, Z: cos}
					switch {
					case curvature.X != 0:
						across = r3.Vec{Y: sin, Z: cos}
					case curvature.Z != 0:
						across = r3.Vec{X: sin, Y: cos}
					}
					m := r3.Add(r3.Scale(along, axis), r3.Scale(leastAcross, across))
					m = r3.Vec{X: m.X * yield.X, Y: m.Y * yield.Y, Z: m.Z * yield.Z}
					elastic := r3.Vec{X: m.X / section.GJ, Y: m.Y / section.EI2, Z: m.Z / section.EI3}
					e, _, ok := bent.NewPoint().Respond(beam.Stretch{0, m.X, m.Y, m.Z})
					gained := r3.Dot(m, r3.Sub(r3.Vec{X: e[1], Y: e[2], Z: e[3]}, elastic)) / r3.Dot(m, elastic)
					if !ok || !(gained < 1e-3) {
						t.Errorf("bent to %v, %.2f of yield along, across %v: gains %g of the elastic curvature", curvature, along, across, gained)
					}
				}
			}
		}
	}
}
