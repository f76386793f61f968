package export_test

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"springwright/design/effect"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/export"
	"springwright/presets"
)

// A spring of the demo on paper: the template, the bends, the loads on both teeth.
func ExampleSheets() {
	ctx := context.Background()
	_, c, err := presets.Case(presets.Demo)
	if err != nil {
		fmt.Println(err)
		return
	}
	var steps spring.Steps
	for _, leg := range [...]struct{ lengthMM, thenDeg float64 }{{2.5, 17}, {3, 90}, {5.5, -120}, {9.5, -73}, {5, -102}, {1.5, 10}, {1, 0}} {
		steps = append(steps, spring.StraightStep(leg.lengthMM))
		if leg.thenDeg != 0 {
			steps = append(steps, spring.BendStep(leg.thenDeg*math.Pi/180, c.Limits.BendRadiusMM))
		}
	}
	spring := c.SpringFor(spring.PathOf(steps...))
	evaluation, err := solve.Evaluate(ctx, spring, solve.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	teeth, err := effect.ReportTeeth(ctx, c, spring, evaluation.Record)
	if err != nil {
		fmt.Println(err)
		return
	}
	pdf, pages, untranslated, err := export.Sheets(export.Job{
		Case: c, Spring: spring, Evaluation: evaluation, Teeth: &teeth, Frame: export.Frame{Version: "example", Date: "2026-11-26"},
	})
	fmt.Println(len(pages), "pages, one PDF file:", bytes.HasPrefix(pdf, []byte("%PDF-")))
	fmt.Println("untranslated:", len(untranslated), "error:", err)
	// Output:
	// 5 pages, one PDF file: true
	// untranslated: 0 error: <nil>
}
