package optimize

import (
	"context"
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/target"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Advice is what would turn a target that cannot be met into one that can. Every line
// alone is enough; each was tried out by a search of its own.
type Advice struct {
	Limits []Relief
	// Wires are standard sizes of the same alloy that do it within the same limits.
	Wires []wire.Size
	// ReactivateMM is the travel left at which a second spring could take over, when two
	// springs for the two halves of the travel meet the target; 0 where they do not.
	ReactivateMM float64
}

// Empty tells whether nothing helps.
func (a Advice) Empty() bool { return len(a.Limits) == 0 && len(a.Wires) == 0 && a.ReactivateMM == 0 }

// Relief is one limit, where it stands and where it would have to be.
type Relief struct {
	Name     string
	From, To float64 // mm; of an angle rad
	Angle    bool
	Count    bool // a number of bends
	Measured bool // a room in the mouth, not a choice
}

// String says it in words.
func (r Relief) String() string {
	if r.Angle {
		return fmt.Sprintf("%s %.0f° instead of %.0f°", r.Name, r.To*180/math.Pi, r.From*180/math.Pi)
	}
	if r.Count {
		return fmt.Sprintf("%s %.0f instead of %.0f", r.Name, r.To, r.From)
	}
	return fmt.Sprintf("%s %.1f mm instead of %.1f mm", r.Name, r.To, r.From)
}

// adviceStarts is how many points each trial search starts from: enough to find a spring
// where there is room for one, not to polish it.
const adviceStarts = 16

// Advise looks for what stands in the way of a case whose search has failed: it gives one
// limit after the other more room, tries neighbouring wires and halves the travel. It
// takes some seconds. Its only error is that of ctx.
func Advise(ctx context.Context, c design.Case, o Options) (Advice, error) {
	var a Advice
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
			to := limit.widen(&trial.Limits, step)
			if met(ctx, trial, o) {
				a.Limits = append(a.Limits, Relief{Name: limit.name, From: limit.from, To: to, Angle: limit.angle, Count: limit.count, Measured: limit.measured})
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
			a.Wires = append(a.Wires, size)
		}
		tick()
	}
	if first, second := halves(c); met(ctx, first, o) && met(ctx, second, o) {
		a.ReactivateMM = r3.Norm(r3.Sub(c.Goal.CentreMM, first.Goal.CentreMM))
	}
	tick()
	return a, ctx.Err()
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
	name     string
	from     float64
	angle    bool
	count    bool
	measured bool
	steps    []float64
	widen    func(l *design.Limits, by float64) (to float64)
}

func reliefs(c design.Case) []relief {
	room := []float64{1, 2, 4} // mm
	bend := []float64{math.Pi / 12, math.Pi / 6}
	give := func(field func(*design.Limits) *float64) func(*design.Limits, float64) float64 {
		return func(l *design.Limits, by float64) float64 {
			*field(l) += by
			return *field(l)
		}
	}
	l := c.Limits
	list := []relief{
		foldRelief(l, room),
		{name: limitName(target.LoopWidthLimit), from: l.LoopWidthMM, steps: room, widen: give(func(l *design.Limits) *float64 { return &l.LoopWidthMM })},
		{name: limitName(target.RoomMesialLimit), measured: true, from: l.RoomMesialMM, steps: room, widen: give(func(l *design.Limits) *float64 { return &l.RoomMesialMM })},
		{name: limitName(target.RoomDistalLimit), measured: true, from: l.RoomDistalMM, steps: room, widen: give(func(l *design.Limits) *float64 { return &l.RoomDistalMM })},
		{name: "largest pre-activation bend", from: l.LargestPreBendRad, angle: true, steps: bend, widen: give(func(l *design.Limits) *float64 { return &l.LargestPreBendRad })},
	}
	if l.BitingReachMM > 0 {
		list = append(list, relief{name: limitName(target.BitingLimit), measured: true, from: l.BitingReachMM, steps: room, widen: give(func(l *design.Limits) *float64 { return &l.BitingReachMM })})
	}
	if l.CheekBulgeMM > 0 {
		list = append(list, relief{name: limitName(target.CheekLimit), measured: true, from: l.CheekBulgeMM, steps: room, widen: give(func(l *design.Limits) *float64 { return &l.CheekBulgeMM })})
	}
	if l.MostBends > 0 {
		list = append(list, relief{
			name: limitName(target.BendsLimit), from: float64(l.MostBends), count: true, steps: []float64{1, 2, 4},
			widen: func(l *design.Limits, by float64) float64 {
				l.MostBends += int(by)
				return float64(l.MostBends)
			},
		})
	}
	return list
}

// foldRelief gives a loop more height, in the terms of what was measured for it.
func foldRelief(l design.Limits, steps []float64) relief {
	if l.FoldDepthMM <= 0 {
		return relief{
			name: "height of the spring, which is usual as no " + limitName(target.FoldLimit) + " is given,", measured: true, from: l.LoopHeightMM, steps: steps,
			widen: func(l *design.Limits, byMM float64) float64 {
				l.LoopHeightMM += byMM
				return l.LoopHeightMM
			},
		}
	}
	return relief{
		name: limitName(target.FoldLimit), measured: true, from: l.FoldDepthMM, steps: steps,
		widen: func(l *design.Limits, byMM float64) float64 {
			l.LoopHeightMM += byMM
			l.FoldDepthMM += byMM
			return l.FoldDepthMM
		},
	}
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
