package main

import (
	"context"
	"fmt"

	"springwright/design"
	"springwright/optimize"
)

// wayOut says what would turn a target that cannot be met into one that can: lines that
// each were tried out, or that nothing was found.
func wayOut(ctx context.Context, wanted design.Case, p *progress) ([]string, error) {
	defer p.clear()
	advice, err := optimize.Advise(ctx, wanted, optimize.Options{Progress: p.update})
	if err != nil {
		return nil, err
	}
	var lines []string
	for _, limit := range advice.Limits {
		prefix := "would do: "
		if limit.Measured {
			prefix = "would do, if the mouth has it, which only measuring again can tell: "
		}
		lines = append(lines, prefix+limit.String())
	}
	for _, size := range advice.Wires {
		lines = append(lines, fmt.Sprintf("would do: a %s wire of the same alloy, which the prescriber must judge", size))
	}
	if advice.ReactivateMM > 0 {
		lines = append(lines, fmt.Sprintf("would do: two springs, the second one made for the last %.2f mm of the travel", advice.ReactivateMM))
	}
	if advice.Empty() {
		lines = append(lines, "tried without success: more room, more bend, wires next in size, two springs for half the travel each")
	}
	return lines, nil
}
