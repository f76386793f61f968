package hand

import (
	"testing"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/optimize/internal/invented"
)

func demoCase(t testing.TB) design.Case {
	t.Helper()
	c, err := invented.TiedLoop()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// benchFor is a bench for springs of a hand.
func benchFor(t testing.TB, h *Hand) *bench {
	t.Helper()
	b, err := newBench(h)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// pathFor solves the springs of a hand as accurately as told.
func pathFor(t testing.TB, h *Hand, o beam.Options) *solve.SeatedPath {
	t.Helper()
	p, err := solve.NewSeatedPath(h.spring, o)
	if err != nil {
		t.Fatal(err)
	}
	p.Wary = true
	return p
}
