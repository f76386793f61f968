package optimize

import (
	"context"
	"math"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/target"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// adviceStarts is how many points each trial search starts from: enough to find a spring
// where there is room for one, not to polish it.
const adviceStarts = 16

// Advise looks for what stands in the way of a case whose search has failed: it gives one
// limit after the other more room, tries neighbouring wires and halves the travel. Each notice
// alone is enough; each was tried out by a search of its own. Where nothing helps it is
// notice.NoRelief. It takes some seconds. Its only error is that of ctx.
func Advise(ctx context.Context, c design.Case, o Options) (notice.List, error) {
	var list notice.List
	c.Search.Starts = adviceStarts
	c.Bender.Springs = 0
	limits, sizes := reliefs(c), neighbours(c)
	done, total := 0, len(limits)+len(sizes)+1
	tick := func() {
		if done++; o.Progress != nil {
			o.Progress(done, total)
		}
	}
	for _, limit := range limits {
		for _, step := range limit.steps {
			trial := c
			if relieved := limit.widen(&trial.Limits, step); met(ctx, trial, o) {
				list = append(list, relieved)
				break
			}
		}
		tick()
	}
	for _, size := range sizes {
		trial := c
		trial.Wire.ThicknessMM, trial.Wire.WidthMM, trial.Wire.DiameterMM = size.ThicknessMM(), size.WidthMM(), size.DiameterMM()
		trial.Limits.BendRadiusMM += (trial.Wire.HeightMM() - c.Wire.HeightMM()) / 2 // the same pliers
		if met(ctx, trial, o) {
			list = append(list, notice.WireRelief{Size: size})
		}
		tick()
	}
	if first, second := halves(c); met(ctx, first, o) && met(ctx, second, o) {
		list = append(list, notice.TwoSpringsRelief{ReactivateMM: r3.Norm(r3.Sub(c.Goal.CentreMM, first.Goal.CentreMM))})
	}
	tick()
	if len(list) == 0 {
		list = append(list, notice.NoRelief{})
	}
	return list, ctx.Err()
}

// met tells whether a search meets its target with a spring that moves the tooth and keeps the
// anchor.
func met(ctx context.Context, c design.Case, o Options) bool {
	r, err := bestSpring(ctx, c, Options{Workers: o.Workers})
	if err != nil || !r.Met() {
		return false
	}
	teeth, err := effect.ReportTeeth(ctx, c, r.Spring, r.Evaluation.Record)
	return err == nil && (c.Target.AgainstTravelMeant || !teeth.NotMade()) && teeth.AnchorKept(c.Target)
}

// relief is a limit that can be given more room, in steps of growing size.
type relief struct {
	steps []float64
	widen func(l *design.Limits, by float64) notice.Notice // and says from where to where
}

func reliefs(c design.Case) []relief {
	room := []float64{1, 2, 4} // mm
	give := func(limit target.Limit, field func(*design.Limits) *float64) relief {
		return relief{room, func(l *design.Limits, byMM float64) notice.Notice {
			from := *field(l)
			*field(l) += byMM
			return notice.LimitRelief{Limit: limit, From: from, To: *field(l)}
		}}
	}
	l := c.Limits
	list := []relief{
		foldRelief(room),
		give(target.LoopWidthLimit, func(l *design.Limits) *float64 { return &l.LoopWidthMM }),
		give(target.RoomMesialLimit, func(l *design.Limits) *float64 { return &l.RoomMesialMM }),
		give(target.RoomDistalLimit, func(l *design.Limits) *float64 { return &l.RoomDistalMM }),
		{[]float64{math.Pi / 12, math.Pi / 6}, func(l *design.Limits, byRad float64) notice.Notice {
			from := l.LargestPreBendRad
			l.LargestPreBendRad += byRad
			return notice.PreBendRelief{FromRad: from, ToRad: l.LargestPreBendRad}
		}},
	}
	if l.BitingReachMM > 0 {
		list = append(list, give(target.BitingLimit, func(l *design.Limits) *float64 { return &l.BitingReachMM }))
	}
	if l.CheekBulgeMM > 0 {
		list = append(list, give(target.CheekLimit, func(l *design.Limits) *float64 { return &l.CheekBulgeMM }))
	}
	if l.MostBends > 0 {
		list = append(list, relief{[]float64{1, 2, 4}, func(l *design.Limits, by float64) notice.Notice {
			from := l.MostBends
			l.MostBends += int(by)
			return notice.LimitRelief{Limit: target.BendsLimit, From: float64(from), To: float64(l.MostBends)}
		}})
	}
	return list
}

// foldRelief gives a loop more height, in the terms of what was measured for it.
func foldRelief(steps []float64) relief {
	return relief{steps, func(l *design.Limits, byMM float64) notice.Notice {
		height, fold := l.LoopHeightMM, l.FoldDepthMM
		l.LoopHeightMM += byMM
		if fold <= 0 {
			return notice.HeightRelief{FromMM: height, ToMM: l.LoopHeightMM}
		}
		l.FoldDepthMM += byMM
		return notice.LimitRelief{Limit: target.FoldLimit, From: fold, To: l.FoldDepthMM}
	}}
}

// neighbourCount is how many softer and how many stiffer sizes are tried.
const neighbourCount = 2

// neighbours lists the standard sizes of the same form next to the case's wire in
// stiffness that go into both slots.
func neighbours(c design.Case) []wire.Size {
	slotMM := min(c.AnchorSlot.HeightMM, c.ActiveSlot.HeightMM)
	stiffness := func(s wire.Size) float64 {
		w := c.Wire
		w.ThicknessMM, w.WidthMM, w.DiameterMM = s.ThicknessMM(), s.WidthMM(), s.DiameterMM()
		return w.Section().EI2
	}
	own := c.Wire.Section().EI2
	var softer, stiffer []wire.Size
	for _, s := range wire.Sizes() {
		if s.Round() != c.Wire.Round() || max(s.ThicknessMM(), s.DiameterMM()) > slotMM {
			continue
		}
		switch ei := stiffness(s); {
		case ei < own*(1-1e-9):
			softer = insertBy(softer, s, func(a, b wire.Size) bool { return stiffness(a) > stiffness(b) })
		case ei > own*(1+1e-9):
			stiffer = insertBy(stiffer, s, func(a, b wire.Size) bool { return stiffness(a) < stiffness(b) })
		}
	}
	return append(softer[:min(len(softer), neighbourCount)], stiffer[:min(len(stiffer), neighbourCount)]...)
}

// insertBy inserts s into a sorted list, behind its equals.
func insertBy(list []wire.Size, s wire.Size, before func(a, b wire.Size) bool) []wire.Size {
	at := 0
	for at < len(list) && !before(s, list[at]) {
		at++
	}
	return append(list[:at:at], append([]wire.Size{s}, list[at:]...)...)
}

// halves splits a travel in the middle into two cases.
func halves(c design.Case) (first, second design.Case) {
	mix := func(a, b r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(a, b)) }
	middle := design.Placement{
		CentreMM: mix(c.Now.CentreMM, c.Goal.CentreMM),
		Rotation: mix(c.Now.Rotation, c.Goal.Rotation),
	}
	first, second = c, c
	first.Goal, second.Now = middle, middle
	for _, half := range []*design.Case{&first, &second} {
		half.Target.ForceUntilMM = min(half.Target.ForceUntilMM, r3.Norm(r3.Sub(half.Goal.CentreMM, half.Now.CentreMM))/2)
	}
	return first, second
}
