package solve

import (
	"fmt"
	"testing"

	"springwright/design/notice"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// mirrored is a load seen in the plane of x and z: a force's y changes sign, and a couple's x
// and z.
func mirrored(l tooth.Load) tooth.Load {
	l.ForceN.Y = -l.ForceN.Y
	l.CoupleNMM.X, l.CoupleNMM.Z = -l.CoupleNMM.X, -l.CoupleNMM.Z
	return l
}

// A loop that lies in one plane falls out of it to either side, where it is free to roll and
// loaded: the other rest is the mirror image of the first. Where it rattles or is tied there
// is none to tell.
func TestPlaneLoopRestsOnEitherSide(t *testing.T) {
	t.Parallel()
	for _, slide := range []spring.Slide{spring.NoSlide, spring.SlideActive} {
		s := playing(intrusionLoop(), 0.5588, 0)
		s.Slide = slide
		e := evaluated(t, s)
		for i, p := range e.Record.Positions {
			if loaded := i < 3; loaded != (p.OtherRest != nil) {
				t.Errorf("%v, position %d: other rest %+v", slide, i+1, p.OtherRest)
			}
			if p.OtherRest == nil {
				continue
			}
			for _, pair := range [][2]tooth.Load{{p.Active, p.OtherRest.Active}, {p.Anchor, p.OtherRest.Anchor}} {
				got := mirrored(pair[1])
				// Both are solved to 1e-12 of EI/L² and EI/L.
				within(t, "force of the mirror image", r3.Norm(r3.Sub(got.ForceN, pair[0].ForceN)), 0, 1e-7)
				within(t, "couple of the mirror image", r3.Norm(r3.Sub(got.CoupleNMM, pair[0].CoupleNMM)), 0, 1e-7)
			}
			if a, b := p.Play.Anchor.ThirdOrder, p.OtherRest.Play.Anchor.ThirdOrder; a != spring.MinusWall || b != spring.PlusWall {
				t.Errorf("position %d lies on %v and %v", i+1, a, b)
			}
		}
		if w, ok := only(e.Warnings).(notice.OtherRest); !ok || w.At != 3 || w.Positions != 7 {
			t.Errorf("warnings %+v", e.Warnings)
		}
	}
	for _, p := range evaluated(t, intrusionLoop()).Record.Positions {
		if p.OtherRest != nil {
			t.Error("a tied wire rests in two ways")
		}
	}
}

// The search for another rest leaves the wire where it was: the travel goes on from there.
func TestSearchForAnotherRestLeavesNoTrace(t *testing.T) {
	t.Parallel()
	s := playing(loopSpring(), 0.5588, 0) // which is not plane: a plane one needs no search
	whole := evaluated(t, s).Record.Positions
	solver, f := followerOf(t, s)
	for i, p := range whole {
		play, err := f.follow(s.SeatAt(i)) // without a search
		if err != nil {
			t.Fatal(err)
		}
		if fmt.Sprint(contactsOf(play)) != fmt.Sprint(contactsOf(p.Play)) {
			t.Errorf("position %d: %v, without a search %v", i+1, contactsOf(p.Play), contactsOf(play))
		}
		within(t, "force", r3.Norm(r3.Add(p.Active.ForceN, solver.EndLoad().ForceN)), 0, 1e-7)
	}
}

// A spring that lies in one plane rests in the mirror image of every rest: nothing is searched for,
// whether the image has other loads or the same.
func TestPlaneLoopNeedsNoSearchForAnotherRest(t *testing.T) {
	t.Parallel()
	s := playing(intrusionLoop(), 0.5588, 0)
	solver, f := followerOf(t, s)
	for i := range s.Positions {
		if _, err := f.follow(s.SeatAt(i)); err != nil {
			t.Fatal(err)
		}
		before := solver.Crossings()
		f.otherRest(s.SeatAt(i), spring.Position{
			Active: s.ActiveLoad(solver.EndLoad(), solver.End().At, s.SeatAt(i).Pose(s.Heading)),
			Anchor: s.AnchorLoad(solver.BaseLoad()),
			Play:   f.state(),
		})
		if n := solver.Crossings() - before; n != 0 {
			t.Errorf("position %d: %d steps crossed in search", i+1, n)
		}
	}
}

// only is the one notice of a list; nil where there is none or there are more.
func only(list notice.List) notice.Notice {
	if len(list) != 1 {
		return nil
	}
	return list[0]
}
