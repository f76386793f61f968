package main

import (
	"context"

	"springwright/design/casefile"
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
	told := english().SoFar(job.Spring, r)
	text.line("%s\n%s\n", told.GoOn, told.Chance)
	text.labelled(told.Rows)
	text.line("\n%s", told.Finish)
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
	f := &failure{code: exitUnmet, text: "with what is bent so far no numbers for the rest were found that meet the target", details: english().BentMisses(r.After)}
	return f.hint("put right the last bend, or begin a new spring")
}
