package optimize_test

import (
	"context"
	"errors"
	"fmt"

	"springwright/design/fault"
	"springwright/optimize"
	"springwright/presets"
)

func ExampleSearch() {
	_, c, err := presets.Case("cantilever")
	if err != nil {
		fmt.Println(err)
		return
	}
	c.Search.Starts = 2  // a quick look
	c.Bender.Springs = 0 // none bent in trial
	result, err := optimize.Search(context.Background(), c, optimize.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(result.Family, "meets its target:", result.Met())
	fmt.Println("positions solved:", len(result.Evaluation.Record.Positions))

	c.Search.LengthStepMM = 0
	result, err = optimize.Search(context.Background(), c, optimize.Options{})
	var faults fault.List
	fmt.Println("refused:", errors.As(err, &faults), "met:", result.Met())
	fmt.Println(err)
	// Output:
	// cantilever meets its target: true
	// positions solved: 5
	// refused: true met: false
	// search.length_step_mm: 0 mm is out of range, allowed is 0.01 to 5 mm
	//   hint: check the value
}
