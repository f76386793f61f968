package optimize

import (
	"context"
	"maps"
	"math"
	"slices"

	"springwright/design"
	"springwright/design/family"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/optimize/hand"
)

// Room is the room that a case leaves for a wire: where it may lie, free and seated along the travel, and how near
// it may come to itself.
type Room struct {
	c      design.Case
	spring spring.Spring
	kind   spring.Pattern // of the spring's own path
	known  bool           // which kind the spring is of: else limits on parts of it cannot be told
}

// RoomOf is that of a spring as drawn.
func RoomOf(c design.Case, drawn spring.Spring) Room {
	r := Room{c: c, spring: drawn}
	r.c.Positions = drawn.Positions
	r.kind, r.known = kindOf(c, drawn.Path.Steps())
	return r
}

// Exceeded lists how far a wire goes beyond each limit by more than leastMM; fresh are the steps of the path as drawn
// in whose middles it has a bend more. Positions that it cannot be seated in are left out. The error is that of
// solve.NewSeatedPath.
func (r Room) Exceeded(ctx context.Context, steps spring.Steps, fresh []int, leastMM float64) ([]target.Excess, error) {
	kind := widened(r.kind, fresh)
	kind.Steps = steps
	o := &objective{c: r.c, pattern: kind, spring: r.spring, reaches: reachTerms(r.c, kind, r.spring), gap: newSelfGap(r.c, kind)}
	if !r.known {
		for i := range o.gap.rank {
			o.gap.rank[i] = -1 // who knows where it has to pass itself
		}
	}
	for i := range r.spring.Positions {
		o.seats = append(o.seats, r.spring.SeatAt(i).Pose(r.spring.Heading))
	}
	var err error
	if o.path, err = solve.NewSeatedPath(r.spring, hand.Accuracy); err != nil {
		return nil, err
	}
	o.solver = o.path.Solver()
	excessMM := o.excesses(nil)
	var list []target.Excess
	for _, limit := range slices.Sorted(maps.Keys(excessMM)) {
		if excessMM[limit] > leastMM {
			list = append(list, target.Excess{Limit: limit, Beyond: excessMM[limit]})
		}
	}
	return list, ctx.Err()
}

// mostDropped is how many bends of a pattern may be none: 2^12 ways are tried in a blink.
const mostDropped = 12

// kindOf is the pattern that steps were searched in, with the numbers of its ranges those of the steps; ok is false
// where no pattern of the case has such steps. Bends that came to nothing are gone from a path.
func kindOf(c design.Case, steps spring.Steps) (kind spring.Pattern, ok bool) {
	nearest := math.Inf(1)
	for _, v := range c.Variants() {
		p, err := family.PatternFor(v)
		if err != nil {
			continue
		}
		all := slices.Clone(p.Steps)
		var droppable []int
		for i, s := range all {
			if s.Kind == spring.Straight {
				all[i].LengthMM = 1
			} else if s.AngleRad == 0 {
				all[i].AngleRad = 1e-9
			}
		}
		for _, f := range p.Freedoms {
			if f.Angle && f.Neutral == 0 && len(droppable) < mostDropped {
				droppable = append(droppable, f.Step)
			}
		}
		for ways := range 1 << len(droppable) {
			some := slices.Clone(all)
			for k, step := range droppable {
				if ways&(1<<k) != 0 {
					some[step].AngleRad = 0
				}
			}
			path, from := spring.Tidied(some)
			if off := unlike(path.Steps(), steps); off < nearest {
				nearest, ok = off, true
				kind = renumbered(p, from)
			}
		}
	}
	if !ok { // no step is of a loop that is known
		kind.LoopLast = -1
	}
	kind.Steps = steps
	return kind, ok
}

// unlike is how far the angles of steps lie off from those of a kind, rad²; infinite where they are other steps.
func unlike(kind, steps spring.Steps) float64 {
	if len(kind) != len(steps) {
		return math.Inf(1)
	}
	var sum float64
	for i, s := range steps {
		if k := kind[i]; k.Kind != s.Kind || k.Order != s.Order {
			return math.Inf(1)
		}
		sum += (s.AngleRad - kind[i].AngleRad) * (s.AngleRad - kind[i].AngleRad)
	}
	return sum
}

// renumbered is a pattern whose ranges are counted in steps of which each is the first of those in from.
func renumbered(p spring.Pattern, from []int) spring.Pattern {
	among := func(first, last int) (int, int) {
		a, _ := slices.BinarySearch(from, first)
		b, _ := slices.BinarySearch(from, last+1)
		return a, b - 1
	}
	p.LoopFirst, p.LoopLast = among(p.LoopFirst, p.LoopLast)
	if p.FrontLast > 0 {
		p.FrontFirst, p.FrontLast = among(p.FrontFirst, p.FrontLast)
	}
	// What has grown together with a step that passes may be as near as that.
	covers := func(steps [2]int) [2]int {
		first, exact := slices.BinarySearch(from, steps[0])
		if !exact {
			first = max(0, first-1)
		}
		last, _ := slices.BinarySearch(from, steps[1]+1)
		return [2]int{first, last - 1}
	}
	p.Passings = slices.Clone(p.Passings)
	for i, one := range p.Passings {
		p.Passings[i] = spring.Passing{One: covers(one.One), Other: covers(one.Other)}
	}
	p.Freedoms = nil // they are numbers of the pattern's own steps
	return p
}

// widened is a pattern with a bend more in the middle of each of these straights.
func widened(p spring.Pattern, fresh []int) spring.Pattern {
	var from []int // of each step, which one it was
	for i := range p.Steps {
		from = append(from, i)
		if slices.Contains(fresh, i) {
			from = append(from, i, i)
		}
	}
	return renumbered(p, from)
}
