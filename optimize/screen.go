package optimize

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/notice"
	"springwright/design/target"
)

// How short a screening search is, which tells within a few tenths of a second of the processor
// whether a variant has a spring at all.
const screeningStarts = 6

func screeningRanks() ranks {
	return ranks{quarterfinalists: 3, semifinalists: 2, finalists: 2, settled: 2, explored: 0}
}

// farFromMet is a worst miss, in tolerances or slacks and with every number left free, that the grid
// will not mend (choice: on it the worst miss is mostly larger).
const farFromMet = 1.5

// errFarFromMet ends a screening whose answer is no.
var errFarFromMet = errors.New("the target is far from met")

// screened is what a screening search comes to.
type screened struct {
	c      design.Case
	result Result
	cost   float64 // of the spring on bendable numbers
	err    error   // that no spring was found, or that the nearest one yields
	met    bool    // the target, by a spring that moves the tooth and keeps the anchor
}

// screen searches a case shortly, on one goroutine.
func screen(ctx context.Context, c design.Case, yesOrNo bool) screened {
	s := screened{c: c}
	c.Search.Starts = 0
	c.Bender.Springs = 0
	s.result, s.cost, s.err = costedSpring(ctx, c, Options{Workers: 1, screening: true, yesOrNo: yesOrNo})
	s.met = s.err == nil && makesTravel(ctx, c, s.result)
	return s
}

// makesTravel tells whether a spring meets its target, moves the tooth and keeps the anchor.
func makesTravel(ctx context.Context, c design.Case, r Result) bool {
	if !r.Met() {
		return false
	}
	teeth, err := effect.ReportTeeth(ctx, c, r.Spring, r.Evaluation.Record)
	return err == nil && (c.Target.AgainstTravelMeant || !teeth.NotMade()) && teeth.AnchorKept(c.Target)
}

// screenAll screens cases side by side, and stores them by index.
func screenAll(ctx context.Context, cases []design.Case, workers int, tick func()) []screened {
	found := make([]screened, len(cases))
	var mutex sync.Mutex
	sideBySide(len(cases), workers, func(i int) bool {
		found[i] = screen(ctx, cases[i], false)
		mutex.Lock()
		defer mutex.Unlock()
		tick()
		return ctx.Err() == nil
	})
	return found
}

// sideBySide runs f for 0 … n−1 on so many goroutines, 0 for one a core, until one of them says no.
func sideBySide(n, workers int, f func(i int) bool) {
	var next atomic.Int64
	var stop atomic.Bool
	var group sync.WaitGroup
	for range min(n, workersOf(workers)) {
		group.Go(func() {
			for !stop.Load() {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if !f(i) {
					stop.Store(true)
				}
			}
		})
	}
	group.Wait()
}

// driveOf is what the load that drives the travel comes to.
func driveOf(c design.Case, r Result) notice.Drive {
	d := notice.Drive{Couple: r.After.Driving.Couple()}
	judged := c.JudgedRecord(r.Evaluation.Record)
	for i, p := range r.Evaluation.Record.Positions {
		if i > 0 && p.TravelLeftMM < c.Target.ForceUntilMM-1e-9 {
			continue
		}
		v := c.Target.Value(target.OfActive(r.After.Driving), judged[i])
		if i == 0 {
			d.Start = v
		}
		d.End = v
	}
	if d.Start < 0 {
		d.Start, d.End = -d.Start, -d.End
	}
	return d
}
