package design_test

import (
	"testing"

	"springwright/design"
	"springwright/design/designtest"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestAgainstTravel(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name   string
		change func(*design.Case)
		want   []tooth.Component
	}{
		{"an intrusive force for an intrusion", func(c *design.Case) { c.Target.Start.ForceN[2] = Within(0.3, 0.6) }, nil},
		{"an extrusive force for an intrusion", func(c *design.Case) { c.Target.Start.ForceN[2] = Within(-0.6, -0.3) }, []tooth.Component{tooth.ForceZ}},
		{"the same over the travel alone", func(c *design.Case) { c.Target.Travel.ForceN[2] = Within(-0.6, 0) }, []tooth.Component{tooth.ForceZ}},
		{"a force that may be nothing", func(c *design.Case) { c.Target.Travel.ForceN[2] = Within(-0.6, 0.1) }, nil},
		{"an intrusive force while the tooth comes down", func(c *design.Case) {
			c.Now, c.Goal = c.Goal, c.Now
			c.Target.Start.ForceN[2] = Within(0.3, 0.6)
		}, []tooth.Component{tooth.ForceZ}},
		{"against a small part of the travel", func(c *design.Case) {
			c.Goal.CentreMM.X += 0.3
			c.Target.Travel.ForceN[0] = Within(-0.3, -0.1)
		}, nil},
		{"against both large parts, the larger first", func(c *design.Case) {
			c.Goal.CentreMM.X += 2.5
			c.Target.Travel.ForceN[0], c.Target.Travel.ForceN[2] = Within(-0.3, -0.1), Within(-0.3, -0.1)
		}, []tooth.Component{tooth.ForceX, tooth.ForceZ}},
		{"the same with the larger one last", func(c *design.Case) {
			c.Goal.CentreMM.X += 1.5
			c.Target.Travel.ForceN[0], c.Target.Travel.ForceN[2] = Within(-0.3, -0.1), Within(-0.3, -0.1)
		}, []tooth.Component{tooth.ForceZ, tooth.ForceX}},
		{"from nothing up, while the tooth comes down", func(c *design.Case) {
			c.Now, c.Goal = c.Goal, c.Now
			c.Target.Travel.ForceN[2] = Within(0, 0.6)
		}, []tooth.Component{tooth.ForceZ}},
		{"a couple against a turn", func(c *design.Case) {
			c.Goal = c.Now
			c.Goal.Rotation = r3.Vec{X: 0.2}
			c.Target.Start.CoupleNMM[0] = Within(-8, -5)
		}, []tooth.Component{tooth.CoupleX}},
		{"a couple with a turn", func(c *design.Case) {
			c.Goal = c.Now
			c.Goal.Rotation = r3.Vec{X: 0.2}
			c.Target.Start.CoupleNMM[0] = Within(5, 8)
		}, nil},
		{"a couple against a turn on the way", func(c *design.Case) {
			c.Goal.Rotation = r3.Vec{Y: 0.2}
			c.Target.Start.CoupleNMM[1] = Within(-8, -5)
		}, []tooth.Component{tooth.CoupleY}},
		{"a couple with a turn on the way", func(c *design.Case) {
			c.Goal.Rotation = r3.Vec{Y: 0.2}
			c.Target.Start.CoupleNMM[1] = Within(5, 8)
		}, nil},
		{"a couple against less of a turn than is measured", func(c *design.Case) {
			c.Goal.Rotation = r3.Vec{Y: 0.02}
			c.Target.Start.CoupleNMM[1] = Within(-8, -5)
		}, nil},
		{"both against the shift and against the turn", func(c *design.Case) {
			c.Goal.Rotation = r3.Vec{Z: -0.2}
			c.Target.Start.CoupleNMM[2], c.Target.Start.ForceN[2] = Within(5, 8), Within(-0.6, -0.3)
		}, []tooth.Component{tooth.ForceZ, tooth.CoupleZ}},
	} {
		c := designtest.LoopCase()
		test.change(&c)
		var got []tooth.Component
		for _, a := range c.AgainstTravel() {
			got = append(got, a.Component)
			if a.Sense*a.Travel >= 0 {
				t.Errorf("%s: %+v is not against the travel", test.name, a)
			}
		}
		if len(got) != len(test.want) {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
			continue
		}
		for i := range got {
			if got[i] != test.want[i] {
				t.Errorf("%s: %v, want %v", test.name, got, test.want)
			}
		}
	}
}
