package asbent

import (
	"context"
	"sync"
	"sync/atomic"

	"springwright/optimize/hand"
)

// inParallel calls do for 0 to n−1 on so many goroutines, each with a bench of its own.
func inParallel(ctx context.Context, workers, n int, bench func() (*hand.Bench, error), do func(b *hand.Bench, i int)) error {
	var next atomic.Int64
	var group sync.WaitGroup
	for range workers {
		b, err := bench()
		if err != nil {
			group.Wait()
			return err
		}
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				do(b, i)
			}
		})
	}
	group.Wait()
	return ctx.Err()
}
