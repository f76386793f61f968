package main

import (
	"context"
	"path/filepath"

	"springwright/design/casefile"
	"springwright/optimize/asbent"
)

// goOn finds the numbers of what is still to be bent.
func (o adjustOptions) goOn(ctx context.Context, c console, job asbent.Job, place *destination) error {
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
		text.line("\"springwright sheet %s\" draws it; from here on give it to \"adjust\" in place of the old one", printable(filepath.Join(o.out, "spring.toml")))
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
