package main

import (
	"context"
	"math"

	"springwright/design/casefile"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/optimize/asbent"
)

// soFarSprings are solved where nobody says how many: while bending the answer has to be there at once, and
// it tells a chance to 5 per cent (choice).
const soFarSprings = 60

// goOn finds the numbers of what is still to be bent.
func (o adjustOptions) goOn(ctx context.Context, c console, job asbent.Job, place *destination) error {
	if job.Springs == 0 {
		job.Springs = soFarSprings
	}
	r, err := asbent.Continue(ctx, job)
	c.doubt(job.Spring, r.Doubts)
	if err != nil {
		return o.unread(err)
	}
	var files []output
	if place != nil {
		if files, err = place.write(ctx, []output{{"spring.toml", casefile.WriteSpring(r.Spring)}}); err != nil {
			return err
		}
	}
	var text tableText
	text.soFar(job.Spring, r)
	if len(files) > 0 {
		text.line("")
		text.written(o.out, files)
		text.line("\"sheet\" draws it; hold later readings against it")
	}
	if err := writeResult(c.stdout, text.String(), o.out, files); err != nil {
		return err
	}
	if r.After.Met() {
		return nil
	}
	f := &failure{code: exitUnmet, text: "with what is bent so far no numbers for the rest were found that meet the target", details: missTexts(r.After)}
	return f.hint("put right the last bend, or begin a new spring")
}

// soFar lists what is still to be bent.
func (t *tableText) soFar(drawn spring.Spring, r asbent.SoFar) {
	notes := stepNotes(drawn)
	was, now := drawn.Path.Steps(), r.Spring.Path.Steps()
	rows := [][]string{{"still to be bent", "drawn", "now", ""}}
	changed := 0
	for i := r.Next; i < len(was) && i < len(now); i++ {
		remark := ""
		one, other := stepText(was[i], was[i]), stepText(now[i], was[i])
		if one != other {
			remark = "changed"
			changed++
		}
		name := notes(i)
		if was[i].Kind == spring.Straight {
			name = "straight " + name
		}
		rows = append(rows, []string{name, one, other, remark})
	}
	if changed == 0 {
		t.line("go on as drawn: no other numbers for the rest serve better")
	} else {
		t.line("go on with these numbers, new ones: %d", changed)
	}
	t.line("of 100 springs that may come of it %s meet the target; as drawn %s", wholePercent(r.After.Trial.Chance()), wholePercent(r.Before.Trial.Chance()))
	t.line("")
	t.labelled(rows)
	t.line("\nfinish on the drawing of the new numbers, not on the old one; lengths are within 1 mm of the old ones, so that the room is the same")
}

// stepText is the number of a step, an angle in the sense of the drawn one.
func stepText(s, drawn spring.Step) string {
	if s.Kind == spring.Straight {
		return fixed(s.LengthMM, 2) + " mm"
	}
	return fixed(quantity.Degree.Outside(math.Copysign(1, drawn.AngleRad)*s.AngleRad), 1) + "°"
}
