package design_test

import (
	"math"
	"testing"

	"springwright/design"
	"springwright/design/designtest"
	"springwright/design/tooth"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// By hand from the surfaces of roots: 440 of 36, 271.8 of 35 and 251.5 of 34 beside 410 of 37; a bar
// adds as much as the anchor tooth has, and a number of the case's own stands for all of it.
func TestHoldAddsUpOverTheRoots(t *testing.T) {
	t.Parallel()
	c := designtest.LoopCase()
	for _, test := range []struct {
		anchorage design.Anchorage
		want      float64
	}{
		{design.Anchorage{}, 440 / 410.},
		{design.Anchorage{Joined: []tooth.Number{35}}, (440 + 271.8) / 410},
		{design.Anchorage{Joined: []tooth.Number{34, 35}}, (440 + 251.5 + 271.8) / 410},
		{design.Anchorage{Held: design.BarHeld}, 2 * 440 / 410.},
		{design.Anchorage{Joined: []tooth.Number{35}, Held: design.BarHeld}, (2*440 + 271.8) / 410},
		{design.Anchorage{HoldRatio: 0.5}, 0.5},
		{design.Anchorage{Held: design.ScrewHeld}, 0},
		{design.Anchorage{Joined: []tooth.Number{35}, Held: design.ScrewHeld}, 0},
	} {
		c.Anchorage = test.anchorage
		if got := c.HoldRatio(); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("%+v: %v times as firmly, want %v", test.anchorage, got, test.want)
		}
	}
}

// A premolar joined to the molar stands half of both crowns, 9 mm, in front of it, with its own
// centre of resistance; the fellow behind a bar lies across the mouth.
func TestRootsStandWhereTheirTeethDo(t *testing.T) {
	t.Parallel()
	for _, teeth := range []tooth.Pair{{Anchor: 36, Active: 37}, {Anchor: 36, Active: 33}, {Anchor: 46, Active: 47}, {Anchor: 46, Active: 43}} {
		c := designtest.LoopCase()
		c.Teeth = teeth
		c.Resistance = design.Resistances{Active: tooth.ResistanceOf(teeth.Active), Anchor: tooth.ResistanceOf(teeth.Anchor)}
		c.Anchorage = design.Anchorage{Joined: []tooth.Number{teeth.Anchor - 1}, Held: design.BarHeld}
		roots := c.AnchorRoots()
		if len(roots) != 3 || roots[0].Number != teeth.Anchor || roots[1].Number != teeth.Anchor-1 || roots[2].Number != teeth.Anchor.Mirrored() {
			t.Fatalf("%v: %+v", teeth, roots)
		}
		premolar := tooth.ResistanceOf(35)
		want := r3.Add(r3.Vec{X: 9 * teeth.MesialSign()}, tooth.ResistanceOffset(teeth, premolar))
		if d := r3.Norm(r3.Sub(roots[1].OffsetMM, want)); d > 1e-12 || roots[1].LeverMM2 != premolar.LeverMM2 {
			t.Errorf("%v: the premolar's centre is off by %v mm: %+v", teeth, d, roots[1])
		}
		across := r3.Sub(roots[2].OffsetMM, roots[0].OffsetMM)
		if d := r3.Norm(r3.Sub(across, r3.Vec{Y: -45 * teeth.BuccalSign()})); d > 1e-12 {
			t.Errorf("%v: the fellow lies %v from the anchor tooth", teeth, across)
		}
		if mirrored := c.Mirrored(); mirrored.Anchorage.Joined[0] != (teeth.Anchor-1).Mirrored() || c.Anchorage.Joined[0] != teeth.Anchor-1 {
			t.Errorf("%v: mirrored %+v of %+v", teeth, mirrored.Anchorage, c.Anchorage)
		}
	}
}

// One more tooth, two, a screw: on the side away from the active tooth first, no third molar, and
// no neighbour of the active tooth.
func TestBetterAnchorages(t *testing.T) {
	t.Parallel()
	joined := func(teeth ...tooth.Number) design.Anchorage { return design.Anchorage{Joined: teeth} }
	screw := func(teeth ...tooth.Number) design.Anchorage {
		return design.Anchorage{Joined: teeth, Held: design.ScrewHeld}
	}
	for _, test := range []struct {
		teeth tooth.Pair
		want  []design.Anchorage
	}{
		{tooth.Pair{Anchor: 36, Active: 37}, []design.Anchorage{joined(35), joined(35, 34), screw(35, 34)}},
		{tooth.Pair{Anchor: 46, Active: 47}, []design.Anchorage{joined(45), joined(45, 44), screw(45, 44)}},
		{tooth.Pair{Anchor: 16, Active: 13}, []design.Anchorage{joined(17), joined(17, 15), screw(17, 15)}},
		{tooth.Pair{Anchor: 27, Active: 23}, []design.Anchorage{joined(26), joined(26, 25), screw(26, 25)}},
		{tooth.Pair{Anchor: 36, Active: 35}, []design.Anchorage{joined(37), screw(37)}},
		{tooth.Pair{Anchor: 31, Active: 32}, []design.Anchorage{screw()}},
	} {
		c := designtest.LoopCase()
		c.Teeth = test.teeth
		var got []design.Anchorage
		for {
			better, ok := c.BetterAnchorage()
			if !ok {
				break
			}
			got = append(got, better)
			c.Anchorage = better
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%v (-want +got):\n%s", test.teeth, diff)
		}
	}
	c := designtest.LoopCase()
	c.Anchorage.Held = design.BarHeld
	if better, ok := c.BetterAnchorage(); !ok || better.Held != design.ScrewHeld {
		t.Errorf("better than a bar: %+v, %v", better, ok)
	}
	c.Anchorage = design.Anchorage{HoldRatio: 0.5}
	if better, _ := c.BetterAnchorage(); math.Abs(better.HoldRatio-(0.5+271.8/410)) > 1e-12 {
		t.Errorf("a hold of 0.5 and a premolar: %+v", better)
	}
	c.Family = design.UprightingSpringName
	if better, ok := c.BetterAnchorage(); ok {
		t.Errorf("a molar that is to be set upright is held by %+v", better)
	}
}
