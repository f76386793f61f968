package export_test

import (
	"bytes"
	"context"
	"fmt"
	"math"

	"springwright/design/report"
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
	made, err := report.Of(ctx, c, spring, report.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	pdf, pages, err := export.Sheets(export.Job{
		Report: made, Frame: export.Frame{Version: "example", Date: "2026-11-26"},
	})
	fmt.Println(len(pages), "pages, one PDF file:", bytes.HasPrefix(pdf, []byte("%PDF-")))
	fmt.Println("error:", err)
	// Output:
	// 6 pages, one PDF file: true
	// error: <nil>
}
