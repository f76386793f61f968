// Package report puts together all that has to be said of a spring: its loads, how it stands to
// its target, what it does to both teeth, and every warning. Whoever draws a sheet, prints a
// table, writes a record or fills a page starts from here, so that none of them leaves out what
// another one warns of.
package report

import (
	"context"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
)

// Report is a spring with all that is to be said of it. Its numbers are on the axes of package
// design; package export/words has the words.
type Report struct {
	Case   design.Case // of OfSpring: its teeth alone
	Spring spring.Spring
	// Evaluation has the loads and every warning; from Of the weightiest first.
	Evaluation solve.Evaluation
	// Teeth is what the spring does to both teeth; nil where no case says what it is for.
	Teeth *effect.TeethReport
	// Straight is a straight wire over the same travel, to be held against the spring; nil where no
	// case says which.
	Straight *effect.StraightWire
}

// Options sets what a report starts from.
type Options struct {
	// Evaluation is that of the spring where it is known, as by optimize.Search; nil solves the
	// spring. What becomes of the spring in a bender's hand, and whether it keeps to the room in
	// the mouth, a search alone can tell: without one, a spring is never said to meet its target.
	Evaluation *solve.Evaluation
}

// Of reports on a spring that is to be made for a case. The errors are those of design.Evaluate
// and that of ctx.
func Of(ctx context.Context, c design.Case, s spring.Spring, o Options) (Report, error) {
	r := Report{Case: c, Spring: s}
	if o.Evaluation != nil {
		r.Evaluation = *o.Evaluation
	} else {
		var err error
		if r.Evaluation, err = solve.Evaluate(ctx, s, solve.Options{}); err != nil {
			return Report{}, err
		}
	}
	teeth, err := effect.ReportTeeth(ctx, c, s, r.Evaluation.Record)
	if err != nil {
		return Report{}, err
	}
	straight, err := effect.StraightWireBeside(ctx, c, s)
	if err != nil {
		return Report{}, err
	}
	r.Teeth, r.Straight = &teeth, &straight
	r.judge()
	if s := r.Evaluation.Record.Spread; s != nil && s.Springs > 0 && s.High < fewShare {
		r.Evaluation.Warnings = append(notice.List{notice.FewMeet{Share: s.Share()}}, r.Evaluation.Warnings...)
	}
	play := append(slidNotice(c, s, r.Evaluation.Record), playNotice(ctx, c, s)...)
	play = append(play, frictionNotice(ctx, c.Teeth, s)...)
	if err := ctx.Err(); err != nil {
		return Report{}, err
	}
	r.Evaluation.Warnings = append(append(teeth.Warnings(c, r.Evaluation.Record), r.Evaluation.Warnings...), play...)
	return r, nil
}

// OfSpring reports on a spring that no case says more of, taken for teeth, which may be none. It
// says again what its file says that it misses. The error is that of design.Evaluate.
func OfSpring(ctx context.Context, s spring.Spring, teeth tooth.Pair, o solve.Options) (Report, error) {
	e, err := solve.Evaluate(ctx, s, o)
	e.Record.Verdict = s.Shortfall
	if err == nil {
		e.Warnings = append(e.Warnings, frictionNotice(ctx, teeth, s)...)
	}
	return Report{Case: design.Case{Teeth: teeth}, Spring: s, Evaluation: e}, err
}

// fewShare is the share of springs bent by hand below which it is told that most miss the target.
const fewShare = 0.5

// judge has the spring and its record say what they miss. A spring file is changed by hands: it
// keeps a warning, and never says that all is met.
func (r *Report) judge() {
	record := &r.Evaluation.Record
	short := target.Shortfall{Misses: r.Case.Misses(*record)}
	known := record.Verdict != nil
	if known {
		short.Exceeded, short.Untold = record.Verdict.Exceeded, record.Verdict.Untold
	} else if r.Spring.Shortfall != nil {
		short.Exceeded, short.Untold = r.Spring.Shortfall.Exceeded, r.Spring.Shortfall.Untold
	}
	if r.NotMade() {
		short.Exceeded = append(short.Exceeded[:len(short.Exceeded):len(short.Exceeded)], r.Teeth.LeftUndone()...)
	}
	if beyond := r.Teeth.AnchorBeyond(r.Case.Target); len(beyond) > 0 {
		short.Exceeded = append(short.Exceeded[:len(short.Exceeded):len(short.Exceeded)], beyond...)
	}
	if !short.None() {
		r.Spring.Shortfall = &short
	}
	if known || !short.None() {
		record.Verdict = &short
	}
}

// NotMade tells that the spring does not bring the tooth along its travel, where nobody means it
// to work against that.
func (r Report) NotMade() bool {
	return r.Teeth != nil && r.Teeth.NotMade() && !r.Case.Target.AgainstTravelMeant
}

// Met tells whether the spring is known to meet the whole target within the limits.
func (r Report) Met() bool {
	return r.Evaluation.Record.Verdict != nil && r.Evaluation.Record.Verdict.None()
}

// UnnamedTeeth warns where nobody can tell for which side the spring of a file is.
func UnnamedTeeth(file string, s spring.Spring, teeth tooth.Pair) notice.List {
	none := tooth.Pair{}
	if s.Teeth != none || teeth == none || !s.OneSided() {
		return nil
	}
	return notice.List{notice.TeethUnnamed{File: file, Teeth: teeth}}
}
