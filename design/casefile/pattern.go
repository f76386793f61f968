package casefile

import (
	"fmt"
	"math"

	"springwright/design/spring"
)

const (
	freePathName = "free path"
	// mostOpen is far above what a search can choose well.
	mostOpen = 60
	// loopBend is the least bend that begins or ends a loop; less only leads to it.
	loopBend = math.Pi / 4
)

// openNumbers are the numbers of a path that a file leaves open.
type openNumbers struct {
	freedoms []spring.Freedom
	step     int // the step that is being read
}

// ReadPattern reads a spring file whose path may leave numbers open: any length, angle or
// radius may be a range { min = …, max = …, step = … }, and a search is free there. name is
// the file's name for messages. Of the rest of a spring file nothing is needed and nothing
// but the path is kept: teeth, wire, slots and seats are those of the case. Left out: step as the
// case's search has it. The error is a fault.List with everything that is wrong.
//
// The loop, for the limits on room, runs from the first to the last bend of at least 45°.
func ReadPattern(name string, data []byte) (spring.Pattern, error) {
	r, root := open(name, data)
	r.open = &openNumbers{}
	var s spring.Spring
	root.title()
	s.Slide = root.slide()
	if root.has("teeth") {
		root.pair()
	}
	if root.has("wire") {
		s.Wire = root.wire()
	}
	steps := root.bentPath(s)
	if root.has("anchor") {
		anchor := root.table("anchor")
		anchor.slotHold(s.Wire, anchor.optional("slot_length_mm", slotSpan, 0), false)
		anchor.close()
	}
	if root.has("active") {
		root.active(&s)
	}
	switch n := len(r.open.freedoms); {
	case len(steps) == 0:
	case n == 0 && len(r.faults) == 0:
		root.blame("path", "leaves no number open: there is nothing to search", "write a range { min = 5, max = 9, step = 0.5 } in place of a length, an angle or a radius")
	case n > mostOpen:
		root.blame("path", fmt.Sprintf("leaves %d numbers open, more than the allowed %d", n, mostOpen), "give some of them a value")
	}
	root.close()
	if err := r.faults.Err(); err != nil {
		return spring.Pattern{}, err
	}
	p := spring.Pattern{Family: freePathName, Steps: steps, Freedoms: r.open.freedoms, LoopFirst: len(steps), LoopLast: -1}
	for i, step := range steps {
		if step.Kind == spring.Bend && step.Order == 2 && math.Abs(step.AngleRad) >= loopBend {
			p.LoopFirst, p.LoopLast = min(p.LoopFirst, i), i
		}
	}
	return p, nil
}

// number reads a number of a path: a quantity, or, where numbers may be left open, a range.
// The value of a range is its min. f says what the number is.
func (s *section) number(key string, a span, hint string, f spring.Freedom) float64 {
	e := s.ask(key)
	if e == nil || e.value.kind != table {
		return s.needed(key, a, hint)
	}
	t := s.table(key)
	defer t.close()
	if s.open == nil {
		for _, key := range []string{"min", "max", "step"} {
			t.ask(key)
		}
		s.blame(key, "is a range, but this spring is solved as it stands", "write one number; ranges are for the file that spring_file of a case names")
		return math.NaN()
	}
	const example = "write { min = 5, max = 9, step = 0.5 }"
	f.Min, f.Max = t.needed("min", a, example), t.needed("max", a, example)
	if f.Min >= f.Max {
		t.blame("max", "is not above min", "swap the two, or write one number")
	}
	if t.has("step") {
		step := a
		step.low, step.above = 0, true
		f.Grid = t.optional("step", step, 0)
	}
	f.Step = s.open.step
	f.Name = fmt.Sprintf("step %d, %s", f.Step+1, f.Name)
	f.Neutral = f.Min
	if f.Angle {
		f.Neutral = plainAngle(f)
	}
	s.open.freedoms = append(s.open.freedoms, f)
	return f.Min
}

// plainAngle is the angle of a range that counts as no pre-activation: the multiple of 90°
// that lies in it, that of least turn where there are several, on the range's steps from
// min; min where there is none.
func plainAngle(f spring.Freedom) float64 {
	const quarter = math.Pi / 2
	best := math.NaN()
	for k := math.Ceil(f.Min/quarter - 1e-9); k*quarter <= f.Max+1e-9; k++ {
		if !(math.Abs(best) <= math.Abs(k*quarter)) {
			best = k * quarter
		}
	}
	switch {
	case math.IsNaN(best):
		return f.Min
	case f.Grid > 0:
		return min(f.Min+math.Round((best-f.Min)/f.Grid)*f.Grid, f.Max)
	}
	return best
}
