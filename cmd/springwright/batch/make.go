package batch

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/orders"
	"springwright/design/report"
	"springwright/design/solve"
	"springwright/export"
	"springwright/export/words"
	"springwright/optimize"
)

// makeGroup makes orders of one case, of which one is searched: those on the other side of the mouth are the
// same in the mirror.
func (r *run) makeGroup(ctx context.Context, group []int, workers int) {
	var first *optimize.Chosen
	var firstErr error
	for _, i := range group {
		o := &r.all[i]
		if ctx.Err() != nil {
			return // open
		}
		err := r.guarded(func() error {
			text, c, err := r.read(ctx, o.Order)
			if err != nil {
				return err
			}
			if first == nil {
				found, err := optimize.SearchChoices(ctx, c, optimize.Options{Workers: workers})
				if ctx.Err() != nil {
					return ctx.Err()
				}
				first, firstErr = &found, err
			}
			return r.make(ctx, o, text, c, *first, firstErr)
		})
		switch {
		case ctx.Err() != nil:
			return
		case err != nil:
			o.State, o.Lacking = orders.InTheWay, faultLines(err)
		}
		o.Fresh = true
		r.tick(*o)
	}
}

// guarded turns a panic into an error: a fault of the program in one order must not stop the others.
func (r *run) guarded(do func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("a fault of the program: %v", p)
		}
	}()
	return do()
}

// make writes the files of an order.
func (r *run) make(ctx context.Context, o *Outcome, text []byte, c design.Case, found optimize.Chosen, searchErr error) error {
	book := words.NewBook(r.Frame.Language)
	o.State, o.Lacking = orders.Missed, nil
	o.Wire, o.CutMM, o.Share = "", 0, -1
	var files []File
	switch {
	case errors.Is(searchErr, optimize.ErrNothingSolved), errors.Is(searchErr, solve.ErrYield):
		o.Lacking = []string{book.Reason(searchErr)}
	case searchErr != nil:
		return searchErr
	default:
		made, err := r.report(ctx, c, found)
		if err != nil {
			return err
		}
		if files, err = r.files(o, made, book); err != nil {
			return err
		}
	}
	kept, err := o.kept(r.Program)
	if err != nil {
		return err
	}
	return r.Write(ctx, filepath.Join(r.Dir, o.Name), append(files, kept))
}

// report is what is said of the spring for an order, whose case may be that of the search in the mirror.
func (r *run) report(ctx context.Context, c design.Case, found optimize.Chosen) (report.Report, error) {
	chosen, s, e := found.Case, found.Spring, found.Evaluation
	if chosen.Teeth != c.Teeth {
		var err error
		if chosen, s, e, err = found.Mirrored(ctx); err != nil {
			return report.Report{}, err
		}
	}
	chosen.Code, chosen.Title = c.Code, c.Title
	s.Title = c.Title
	e.Record.Title = c.Title
	return report.Of(ctx, chosen, s, report.Options{Evaluation: &e})
}

// files fills in what became of an order, and renders its spring where that is to be bent.
func (r *run) files(o *Outcome, made report.Report, book *words.Book) ([]File, error) {
	o.Lacking = book.Shortfall(made.Case.Teeth, made.Spring)
	met := made.Met()
	for _, v := range made.Teeth.AnchorVerdicts(made.Case.Target) {
		if v.Unknown {
			met = false
			o.Lacking = append(o.Lacking, book.Say("what the anchor loses is limited, but not known"))
		}
	}
	if !met && !r.Anyway {
		return nil, nil
	}
	if s := made.Evaluation.Record.Spread; s != nil && s.Springs > 0 {
		o.Share = s.Share()
	}
	o.Wire, o.CutMM = book.Wire(made.Spring.Wire), export.CutMM(made.Spring, made.Case.Teeth)
	if met {
		o.State = orders.Made
		for _, n := range made.Evaluation.Warnings {
			if n.Kind() == notice.FewMeetKind {
				text, _ := book.Notice(n)
				o.Lacking = append(o.Lacking, text)
			}
		}
	}
	job := export.Job{Frame: r.Frame, Report: made}
	job.Fingerprint = o.Fingerprint
	return r.Render(job)
}
