package optimize

import (
	"testing"

	"springwright/design"
	"springwright/design/target"
	"springwright/optimize/internal/invented"
)

func degree(angle float64) float64                  { return invented.Degree(angle) }
func allFree() target.LoadWindow                    { return invented.AllFree() }
func within(value, tolerance float64) target.Window { return invented.Within(value, tolerance) }
func studyCase() design.Case                        { return invented.Study() }
func spatialCase() design.Case                      { return invented.Spatial() }

func askingAll() design.Case { return invented.AskingAll() }

func demoCase(t testing.TB) design.Case {
	t.Helper()
	c, err := invented.TiedLoop()
	if err != nil {
		t.Fatal(err)
	}
	return c
}
