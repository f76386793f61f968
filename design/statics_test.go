package design_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"springwright/design"
	"springwright/design/designtest"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

func Within(least, most float64) target.Window { return target.Window{Min: least, Max: most} }

// What no wire on two teeth can do, by hand. The active slot lies 12.5 mm from the anchor's
// along x and 2 mm to 0 below it, so of an intrusive force F (along z) force times distance is
// arm × F = −12.5 F about y.
func TestStaticsForbids(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name   string
		change func(*design.Case)
		want   []tooth.Component
		joint  bool
	}{
		{"nothing asked of the anchor", func(*design.Case) {}, nil, false},
		{"intrusion of both teeth", func(c *design.Case) {
			c.Target.Travel.ForceN[2], c.Target.Anchor.ForceN[2] = Within(0.2, 0.5), Within(0.1, 0.5)
		}, []tooth.Component{tooth.ForceZ}, false},
		{"what intrudes one extrudes the other", func(c *design.Case) {
			c.Target.Travel.ForceN[2], c.Target.Anchor.ForceN[2] = Within(0.2, 0.5), Within(-0.5, -0.1)
		}, nil, false},
		{"one tooth mesially, the other as well", func(c *design.Case) {
			c.Target.Travel.ForceN[0], c.Target.Anchor.ForceN[0] = Within(-1, -0.8), Within(-0.5, 0)
		}, []tooth.Component{tooth.ForceX}, false},
		{"a couple on one tooth alone", func(c *design.Case) {
			c.Target.Travel.CoupleNMM[1], c.Target.Anchor.CoupleNMM[1] = Within(5, 8), Within(-0.5, 0.5)
			c.Target.Travel.ForceN = [3]target.Window{Within(-0.1, 0.1), Within(-0.1, 0.1), Within(-0.1, 0.1)}
		}, []tooth.Component{tooth.CoupleY}, false}, // 5 − 0.5 − 12.5·0.1 − 2·0.1 > 0
		{"a couple balanced by the other", func(c *design.Case) {
			c.Target.Travel.CoupleNMM[1], c.Target.Anchor.CoupleNMM[1] = Within(5, 8), Within(-8, -4)
			c.Target.Travel.ForceN = [3]target.Window{Within(-0.1, 0.1), Within(-0.1, 0.1), Within(-0.1, 0.1)}
		}, nil, false},
		{"a couple balanced by a force", func(c *design.Case) {
			c.Target.Travel.CoupleNMM[1], c.Target.Anchor.CoupleNMM[1] = Within(5, 8), Within(-0.5, 0.5)
			c.Target.Travel.ForceN[2] = Within(0.3, 0.6) // −12.5·0.4 = −5
		}, nil, false},
		{"the force has the wrong sense for the couple", func(c *design.Case) {
			c.Target.Travel.CoupleNMM[1], c.Target.Anchor.CoupleNMM[1] = Within(5, 8), Within(-0.5, 0.5)
			c.Target.Travel.ForceN = [3]target.Window{Within(-0.1, 0.1), target.FreeWindow(), Within(-0.6, -0.3)}
		}, []tooth.Component{tooth.CoupleY}, false},
		{"no couple anywhere, and a force", func(c *design.Case) {
			c.Target.Travel.CoupleNMM[1], c.Target.Anchor.CoupleNMM[1] = Within(-0.5, 0.5), Within(-0.5, 0.5)
			c.Target.Travel.ForceN = [3]target.Window{Within(-0.05, 0.05), target.FreeWindow(), Within(0.3, 0.6)}
		}, []tooth.Component{tooth.CoupleY}, false}, // 12.5·0.3 = 3.75 > 1.1
		{"torque on one tooth alone, forces across the arch free", func(c *design.Case) {
			c.Target.Travel.CoupleNMM[0], c.Target.Anchor.CoupleNMM[0] = Within(5, 8), Within(-0.5, 0.5)
			c.Goal.CentreMM, c.Now.CentreMM = r3.Vec{X: 12.5}, r3.Vec{X: 13.5} // no arm about x
		}, []tooth.Component{tooth.CoupleX}, false},
		{"three axes, one force", func(c *design.Case) {
			// About z the buccal force F has 12.5 F, about x 2 F at the start: 4 N·mm about z ask
			// for −0.32 N, 4 about x for 2 N.
			for i := range 3 {
				c.Target.Anchor.CoupleNMM[i] = Within(-0.1, 0.1)
			}
			c.Target.Travel.CoupleNMM = [3]target.Window{Within(3.9, 4.1), target.FreeWindow(), Within(3.9, 4.1)}
			c.Target.Travel.ForceN = [3]target.Window{Within(-3, 3), Within(-3, 3), Within(-3, 3)}
		}, nil, true},
	} {
		c := designtest.LoopCase()
		test.change(&c)
		var got []tooth.Component
		joint := false
		for _, i := range c.Imbalances() {
			if joint = i.Joint; !joint {
				got = append(got, i.Component)
			}
		}
		if len(got) != len(test.want) || len(got) > 0 && got[0] != test.want[0] || joint != test.joint {
			t.Errorf("%s: forbidden are %v, joint %v, want %v, %v", test.name, got, joint, test.want, test.joint)
		}
	}
}

// A hook takes no couple about itself, and about the centre of resistance that of its force.
func TestStaticsOfAHook(t *testing.T) {
	t.Parallel()
	c := designtest.LoopCase()
	c.ActiveSlot, c.Heading = spring.Slot{Hook: true}, spring.On
	c.Target.Travel.CoupleNMM[1] = Within(2, 4)
	if found := c.Imbalances(); len(found) != 1 || !found[0].Hook || found[0].Component != tooth.CoupleY {
		t.Errorf("a couple at the hook: %+v", found)
	}
	// 10 mm below the centre of resistance: a force along x of F has a couple of −off × F about
	// it, off = 10 z, so −10 F about y.
	c.Target.AtResistance = true
	c.Resistance.Active = tooth.Resistance{ApicalMM: 10}
	c.Target.Travel.ForceN = [3]target.Window{Within(-0.3, -0.1), Within(0, 0.01), Within(0, 0.1)}
	if found := c.Imbalances(); len(found) != 0 {
		t.Errorf("2 N·mm about the centre of resistance by −0.2 N: %+v", found)
	}
	c.Target.Travel.ForceN[0] = Within(0.1, 0.3)
	if found := c.Imbalances(); len(found) != 1 || !found[0].Hook {
		t.Errorf("the same with the force the other way: %+v", found)
	}
}

// No load that a wire has is ever forbidden: windows round true loads of random forces and
// couples, moved to the points that the target is judged at, are in balance.
func TestStaticsForbidsNothingThatIs(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(7, 7))
	number := func(size float64) float64 { return size * (2*random.Float64() - 1) }
	forbidden := 0
	for n := range 2000 {
		c := designtest.LoopCase()
		c.Now.CentreMM = r3.Vec{X: 5 + 20*random.Float64(), Y: number(3), Z: number(3)}
		c.Goal.CentreMM = c.Now.CentreMM
		c.Goal.CentreMM.Z += number(1)
		c.Target.AtResistance = n%2 == 0
		c.Resistance.Active = tooth.Resistance{InwardMM: number(5), DistalMM: number(3), ApicalMM: 8}
		c.Resistance.Anchor = tooth.Resistance{InwardMM: number(5), DistalMM: number(3), ApicalMM: 8}
		if c.ActiveSlot.Hook = n%3 == 0; c.ActiveSlot.Hook {
			c.ActiveSlot.LengthMM = 0
		}
		force := r3.Vec{X: number(1), Y: number(1), Z: number(1)}
		couple := r3.Vec{X: number(8), Y: number(8), Z: number(8)}
		if c.ActiveSlot.Hook {
			couple = r3.Vec{}
		}
		active := tooth.Load{ForceN: force, CoupleNMM: couple}
		s := c.SpringFor(spring.Path{})
		seat := s.SeatAt(0)
		at := r3.Add(s.Centre(seat.Pose(s.Heading)), r3.Vec{X: s.AnchorSlotLengthMM / 2})
		anchor := tooth.Load{ForceN: r3.Scale(-1, force), CoupleNMM: r3.Scale(-1, r3.Add(couple, r3.Cross(at, force)))}
		judge := c.Judge([]spring.Seat{seat})
		j := judge.At(0, active, anchor, active)
		for k := range tooth.Components {
			round := func(l tooth.Load) target.Window {
				v := l.Component(k)
				return Within(v-1e-6, v+1e-6)
			}
			set := func(to *target.LoadWindow, w target.Window) {
				if k.Couple() {
					to.CoupleNMM[k-tooth.CoupleX] = w
				} else {
					to.ForceN[k] = w
				}
			}
			set(&c.Target.Start, round(j.Active))
			set(&c.Target.Anchor, target.FreeWindow())
			set(&c.Target.Travel, target.FreeWindow())
		}
		if found := c.Imbalances(); len(found) > 0 {
			t.Fatalf("%d: forbidden is a load that is: %+v", n, found)
		}
		// The same with one couple of the anchor asked to be 1 N·mm off what it is.
		k := random.IntN(3)
		w := Within(j.Anchor.Component(tooth.CoupleX+tooth.Component(k))+1, math.Inf(1))
		c.Target.Anchor.CoupleNMM[k] = w
		c.Positions = 2
		c.Goal = c.Now
		if len(c.Imbalances()) > 0 {
			forbidden++
		}
	}
	if forbidden != 2000 {
		t.Errorf("of 2,000 anchor couples that are 1 N·mm off, %d were found out", forbidden)
	}
}
