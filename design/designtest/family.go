package designtest

import (
	"testing"

	"springwright/design"
	"springwright/design/family"
	"springwright/design/spring"

	"gonum.org/v1/gonum/spatial/r3"
)

// FamilyCase is an invented case with room for any spring of a family.
func FamilyCase(f design.Family) design.Case {
	c := LoopCase()
	c.Family, c.Heading = f.Name, spring.On
	c.Now.CentreMM, c.Goal.CentreMM = r3.Vec{X: 22, Z: -1}, r3.Vec{X: 22}
	if f.Hooked {
		c.ActiveSlot = spring.Slot{HeightMM: 0.5588, Hook: true}
	}
	return c
}

// FamilyPattern is the pattern of a case; the test fails where it has none.
func FamilyPattern(t *testing.T, c design.Case) spring.Pattern {
	t.Helper()
	p, err := family.PatternFor(c)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// PlainValues are a family's numbers with no pre-activation, all lengths in their ranges.
func PlainValues(p spring.Pattern) []float64 {
	x := make([]float64, len(p.Freedoms))
	for i, f := range p.Freedoms {
		switch {
		case f.Angle, f.Radius:
			x[i] = f.Neutral
		default:
			x[i] = f.Min + 0.3*min(f.Max-f.Min, 6)
		}
	}
	return x
}
