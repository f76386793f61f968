package optimize

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"springwright/design"
	"springwright/design/notice"
	"springwright/design/solve"
	"springwright/design/target"
)

// Variant is what one wire, kind of spring and entry of a case with a choice gives.
type Variant struct {
	Case      design.Case // without a choice
	Searched  bool        // by a whole search; else by a short one
	Met       bool        // by a spring that moves the tooth and keeps the anchor
	Shortfall target.Shortfall
	Drive     notice.Drive
	Share     float64 // of bent springs that meet the target, by the linear model
	Err       error   // why there is no spring; nil where there is one
}

// Chosen is the outcome of a search with a choice.
type Chosen struct {
	Result
	Case     design.Case // the variant that the result is for
	Variants []Variant   // in the order of design.Case.Variants; empty where there was nothing to choose
}

// wholeSearches is how many of the variants that promise most are searched wholly (choice: the short
// search mistakes the best for the second; a third costs as much time again).
const wholeSearches = 2

// SearchChoices is Search for a case that leaves wires, kinds of springs or the entry to be chosen:
// each variant is searched shortly, the most promising wholly. What meets the target comes first,
// and of that what most bent springs meet it with. The errors are those of Search, for the best.
func SearchChoices(ctx context.Context, c design.Case, o Options) (Chosen, error) {
	if err := c.Validate(); err != nil {
		return Chosen{Case: c}, err
	}
	cases := c.Variants()
	if len(cases) == 1 {
		r, err := bestSpring(ctx, cases[0], o)
		out := Chosen{Result: r, Case: cases[0]}
		out.Evaluation.Record.Chosen = append(chosenFor(c, out.Case), out.Evaluation.Record.Chosen...)
		return out, err
	}
	tick := o.ticker(len(cases) + wholeSearches)
	found := screenAll(ctx, cases, o.Workers, tick)
	if err := ctx.Err(); err != nil {
		return Chosen{Case: cases[0]}, err
	}
	out := Chosen{Variants: make([]Variant, len(found))}
	order := make([]int, len(found))
	for i, s := range found {
		out.Variants[i], order[i] = s.variant(), i
	}
	best := func(a, b int) int { return found[a].compare(found[b]) }
	slices.SortStableFunc(order, best)
	searched := order[:min(len(order), wholeSearches)]
	if found[order[0]].met && !found[order[1]].met {
		searched = order[:1]
	}
	for _, i := range searched {
		whole := o
		whole.Progress = nil
		r, cost, err := costedSpring(ctx, cases[i], whole)
		if ctx.Err() != nil {
			return Chosen{Case: cases[0]}, ctx.Err()
		}
		wholly := screened{cases[i], r, cost, err, err == nil && makesTravel(ctx, cases[i], r)}
		if short := &found[i]; wholly.compare(*short) <= 0 {
			*short = wholly
		} else if err := short.result.bendInTrial(ctx, cases[i], o.Workers); err != nil {
			return Chosen{Case: cases[0]}, err
		}
		out.Variants[i] = found[i].variant()
		out.Variants[i].Searched = true
		tick()
	}
	first := slices.MinFunc(searched, best)
	out.Result, out.Case = found[first].result, cases[first]
	out.Evaluation.Record.Chosen = append(chosenFor(c, out.Case), out.Evaluation.Record.Chosen...)
	return out, found[first].err
}

// chosenFor tells what was chosen for a case.
func chosenFor(c, chosen design.Case) notice.List {
	var list notice.List
	if c.Choice.Task != notice.NoTask {
		list = append(list, notice.KindChosen{Family: chosen.Family, Task: c.Choice.Task})
	}
	if n := len(c.Choice.OtherWires); n > 0 {
		list = append(list, notice.WireChosen{Wire: notice.NameOf(chosen.Wire), Among: n + 1})
	}
	return list
}

// ticker counts one step of progress each time.
func (o Options) ticker(total int) func() {
	done := 0
	return func() {
		if done++; o.Progress != nil {
			o.Progress(min(done, total), total)
		}
	}
}

// compare puts the better of two first.
func (s screened) compare(other screened) int {
	rank := func(s screened) int {
		switch {
		case s.met:
			return 0
		case s.err == nil:
			return 1
		case errors.Is(s.err, solve.ErrYield):
			return 2
		}
		return 3
	}
	if r := cmp.Compare(rank(s), rank(other)); r != 0 {
		return r
	}
	if s.met {
		if r := cmp.Compare(other.result.Traits.Share, s.result.Traits.Share); r != 0 {
			return r
		}
	}
	return cmp.Compare(s.cost, other.cost)
}

// variant is what is told of it.
func (s screened) variant() Variant {
	v := Variant{Case: s.c, Met: s.met, Shortfall: s.result.Shortfall(), Err: s.err}
	if s.result.solved() {
		v.Drive, v.Share = driveOf(s.c, s.result), s.result.Traits.Share
	}
	return v
}
