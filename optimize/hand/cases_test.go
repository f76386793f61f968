package hand

import (
	"testing"

	"springwright/design"
	"springwright/presets"
)

func demoCase(t testing.TB) design.Case {
	t.Helper()
	_, c, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
