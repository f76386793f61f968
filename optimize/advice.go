package optimize

import (
	"context"
	"math"
	"slices"
	"sync"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// How many changes there is time for, one alone, two together, and of measured room: each takes a
// tenth to half a second of the processor, so that all of them end within 5 s on two cores. A
// variant that was screened before takes the place of one of them.
const (
	mostAlone    = 12
	leastAlone   = 6
	mostTogether = 2
	mostMeasured = 5
	mostWires    = 4
	mostKinds    = 3
)

// change is a change of a case, and what would be told if it worked.
type change struct {
	cases []design.Case // all of them have to be met
	told  func(notice.Drive) notice.Notice
}

// Advise looks for what stands in the way of a case whose search has failed: another wire from the
// drawer or of the next size, another kind of spring, the other way into the slot, two springs for
// half the travel each, limits that nobody measures; where none of these helps, two springs of another
// wire, and then more room than was measured. Of every sort of change the first that works is told: each notice alone is enough,
// each was tried out by a search of its own. Where nothing helps it is notice.NoRelief. Its only
// error is that of ctx.
//
// nearest is what the search came to; variants that it tried are not tried again.
func Advise(ctx context.Context, nearest Chosen, o Options) (notice.List, error) {
	c := nearest.Case
	for _, v := range nearest.Variants {
		c.Choice.OtherWires = append(c.Choice.OtherWires, v.Case.Wire)
		c.Choice.OtherFamilies = append(c.Choice.OtherFamilies, v.Case.Family)
		c.Choice.EitherEntry = c.Choice.EitherEntry || v.Case.Family == c.Family && v.Case.Heading != c.Heading
	}
	var list notice.List
	for _, round := range [...]struct {
		sorts [][]change
		most  int
	}{
		{[][]change{otherWires(c), otherKinds(c), otherEntry(c), twoVisits(c), limitChanges(c, false)}, max(mostAlone-len(nearest.Variants), leastAlone)},
		{[][]change{twoVisitsOtherWire(c)}, mostTogether},
		{[][]change{limitChanges(c, true)}, mostMeasured},
	} {
		if list = firstThatWork(ctx, round.sorts, round.most, o); len(list) > 0 || ctx.Err() != nil {
			break
		}
	}
	if len(list) == 0 {
		list = append(list, notice.NoRelief{})
	}
	return list, ctx.Err()
}

// firstThatWork tells of each sort of change the first that works, of at most so many in all.
func firstThatWork(ctx context.Context, sorts [][]change, most int, o Options) (list notice.List) {
	type place struct{ sort, at int }
	var places []place
	// The first of each sort come first, for the last may find no time left.
	for at := range most {
		for sort, changes := range sorts {
			if at < len(changes) && len(places) < most {
				places = append(places, place{sort, at})
			}
		}
	}
	works := make([]notice.Notice, len(places))
	var mutex sync.Mutex
	done, first := 0, map[int]int{} // of each sort the first that works
	sideBySide(len(places), o.Workers, func(i int) bool {
		p := places[i]
		mutex.Lock()
		before, found := first[p.sort]
		mutex.Unlock()
		if !found || p.at < before {
			works[i] = sorts[p.sort][p.at].tried(ctx)
		}
		mutex.Lock()
		defer mutex.Unlock()
		if now, found := first[p.sort]; works[i] != nil && (!found || p.at < now) {
			first[p.sort] = p.at
		}
		if done++; o.Progress != nil {
			o.Progress(done, len(places))
		}
		return ctx.Err() == nil
	})
	for sort := range sorts {
		for i, p := range places {
			if at, found := first[sort]; found && p == (place{sort, at}) {
				list = append(list, works[i])
			}
		}
	}
	return list
}

// tried is what is told of a change that works; nil for one that does not.
func (t change) tried(ctx context.Context) notice.Notice {
	var drive notice.Drive
	for i, c := range t.cases {
		if c.Validate() != nil {
			return nil
		}
		s := screen(ctx, c, true)
		if !s.met {
			return nil
		}
		if i == 0 {
			drive = driveOf(c, s.result)
		}
	}
	return t.told(drive)
}

// otherWires are the wires of the drawer and those next in size, as far as they go into both slots
// and round the pliers and are not the case's own or chosen from.
func otherWires(c design.Case) []change {
	var list []change
	var seen []wire.Wire
	add := func(size wire.Size, w wire.Wire) {
		w.StressRelieved = c.Wire.StressRelieved
		if c.Wire.CornerRadiusMM > 0 {
			w = w.RealSize()
		}
		same := func(o wire.Wire) bool { return notice.NameOf(o) == notice.NameOf(w) }
		trial := c
		trial.Choice = design.Choice{OtherWires: []wire.Wire{w}}
		if same(c.Wire) || slices.ContainsFunc(c.Choice.OtherWires, same) || slices.ContainsFunc(seen, same) || len(trial.OtherWireFaults()) > 0 || len(list) == mostWires {
			return
		}
		seen = append(seen, w)
		list = append(list, change{[]design.Case{single(c).WithWire(w)}, func(d notice.Drive) notice.Notice {
			return notice.WireRelief{Size: size, Alloy: w.Alloy, Drive: d}
		}})
	}
	if !c.Wire.Round() {
		for _, s := range wire.Drawer() {
			add(s.Size, s.Wire())
		}
	}
	for _, size := range neighbours(c) {
		w := c.Wire
		w.ThicknessMM, w.WidthMM, w.DiameterMM = size.ThicknessMM(), size.WidthMM(), size.DiameterMM()
		w.CornerRadiusMM = 0
		add(size, w)
	}
	return list
}

// single is a case without a choice.
func single(c design.Case) design.Case {
	c.Choice = design.Choice{}
	return c
}

// otherKinds are the kinds of springs that suit the task, and those that do most things.
func otherKinds(c design.Case) []change {
	if c.SpringFile != "" || len(c.FreePath.Steps) > 0 {
		return nil
	}
	own, err := design.FamilyOf(c.Family)
	if err != nil || own.MovesAnchor {
		return nil
	}
	open := single(c)
	open.Choice.EitherEntry = true
	suited := open.WithSuitedKind()
	names := append([]string{suited.Family}, suited.Choice.OtherFamilies...)
	if !own.Hooked {
		names = append(names, design.RectangularLoopName, design.LLoopName, design.TLoopName)
	}
	var list []change
	seen := append([]string{own.Name}, c.Choice.OtherFamilies...)
	for _, name := range names {
		f, err := design.FamilyOf(name)
		if err != nil || f.Hooked != own.Hooked || slices.Contains(seen, name) || len(list) == mostKinds {
			continue
		}
		seen = append(seen, name)
		trial := single(c)
		trial.Family = name
		if !f.FromBehind {
			trial.Heading = spring.On
		}
		list = append(list, change{[]design.Case{trial}, func(d notice.Drive) notice.Notice { return notice.FamilyRelief{Family: name, Drive: d} }})
	}
	return list
}

// otherEntry is the other way into the active slot.
func otherEntry(c design.Case) []change {
	f, err := design.FamilyOf(c.Family)
	if err != nil || !f.FromBehind || c.Choice.EitherEntry || c.SpringFile != "" || len(c.FreePath.Steps) > 0 {
		return nil
	}
	trial := single(c)
	trial.Heading = spring.Back - c.Heading
	return []change{{[]design.Case{trial}, func(d notice.Drive) notice.Notice {
		return notice.EntryRelief{FromBehind: trial.Heading == spring.Back, Drive: d}
	}}}
}

// twoVisits are two springs for half of the travel each.
func twoVisits(c design.Case) []change {
	first, second := halves(single(c))
	return []change{{[]design.Case{first, second}, func(notice.Drive) notice.Notice {
		return notice.TwoSpringsRelief{ReactivateMM: r3.Norm(r3.Sub(c.Goal.CentreMM, first.Goal.CentreMM))}
	}}}
}

// twoVisitsOtherWire are two springs for half of the travel each, of a wire of the drawer.
func twoVisitsOtherWire(c design.Case) []change {
	var list []change
	for _, other := range otherWires(c) {
		trial := other.cases[0]
		first, second := halves(trial)
		wire := notice.NameOf(trial.Wire)
		list = append(list, change{[]design.Case{first, second}, func(notice.Drive) notice.Notice {
			return notice.TwoSpringsRelief{ReactivateMM: r3.Norm(r3.Sub(c.Goal.CentreMM, first.Goal.CentreMM)), Wire: &wire}
		}})
	}
	return list
}

// limitChanges are limits with more room, those that were measured in the mouth or the others.
func limitChanges(c design.Case, measured bool) []change {
	var list []change
	for _, limit := range reliefs(c) {
		if limit.measured != measured {
			continue
		}
		for _, step := range limit.steps {
			trial := single(c)
			relieved := limit.widen(&trial.Limits, step)
			list = append(list, change{[]design.Case{trial}, func(notice.Drive) notice.Notice { return relieved }})
		}
	}
	return list
}

// relief is a limit that can be given more room, in steps of growing size.
type relief struct {
	measured bool // in the mouth, which does not get larger by asking
	steps    []float64
	widen    func(l *design.Limits, by float64) notice.Notice // and says from where to where
}

func reliefs(c design.Case) []relief {
	room := []float64{2} // mm: hardly more than a measurement may be off by (choice)
	give := func(limit target.Limit, field func(*design.Limits) *float64) relief {
		return relief{limit.Measured(), room, func(l *design.Limits, byMM float64) notice.Notice {
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
		{false, []float64{math.Pi / 12, math.Pi / 6}, func(l *design.Limits, byRad float64) notice.Notice {
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
		list = append(list, relief{false, []float64{1, 2}, func(l *design.Limits, by float64) notice.Notice {
			from := l.MostBends
			l.MostBends += int(by)
			return notice.LimitRelief{Limit: target.BendsLimit, From: float64(from), To: float64(l.MostBends)}
		}})
	}
	return list
}

// foldRelief gives a loop more height, in the terms of what was measured for it.
func foldRelief(steps []float64) relief {
	return relief{true, steps, func(l *design.Limits, byMM float64) notice.Notice {
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
