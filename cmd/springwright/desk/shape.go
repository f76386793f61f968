package desk

import (
	"context"
	"math"

	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
)

// drawnSteps are as fine as package solve draws a wire.
var drawnSteps = beam.Options{StepMM: 0.5, StepRad: math.Pi / 36}

// shapeAt is the wire in both slots at a position of its travel; none where it has a memory, which
// only the whole way tells, or cannot be followed.
func shapeAt(ctx context.Context, s spring.Spring, e solve.Evaluation, here int) []beam.Pose {
	if here == 0 {
		return e.Seated
	}
	if e.History {
		return nil
	}
	path, err := solve.NewSeatedPath(s, drawnSteps)
	if err != nil {
		return nil
	}
	for i := range here + 1 {
		if ctx.Err() != nil || path.Follow(s.SeatAt(i)) != nil {
			return nil
		}
	}
	var out []beam.Pose
	for _, n := range path.Solver().AppendNodes(nil) {
		out = append(out, n.Pose)
	}
	return out
}
