package solve

import (
	"fmt"
	"math"
	"testing"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// The loads of SeatedPath are those of Evaluate, but for the coarser steps, and its slopes are
// their differences: by every number of the path and by the place of the active slot, for all ways
// of seating, also where the wire was slid to rest before it was cinched.
func TestSeatedPath(t *testing.T) {
	t.Parallel()
	loaded := intrudingLoop()
	loaded.Start.Rotation = r3.Vec{X: 0.05, Y: 0.02, Z: 0.04} // out of its plane: one state of rest
	loaded.End = loaded.Start
	loaded.End.AtMM = r3.Vec{X: 12.3, Y: 0.1, Z: -1}
	loaded.Positions = 3
	options := searching
	options.Tolerance = 1e-12
	options.StepMM, options.StepRad = 4.9, 0.7 // no length or angle lies at a whole number of steps
	for _, row := range []struct {
		name          string
		tubes         bool
		slide, toRest spring.Slide
	}{
		{"tied", false, spring.NoSlide, spring.NoSlide},
		{"tied, slid to rest", false, spring.NoSlide, spring.SlideActive},
		{"tubes", true, spring.NoSlide, spring.NoSlide},
		{"tubes, slid to rest", true, spring.NoSlide, spring.SlideActive},
		{"tubes, slid to rest in the anchor's", true, spring.NoSlide, spring.SlideAnchor},
		{"tubes, left to slide", true, spring.SlideActive, spring.NoSlide},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			s := loaded
			if row.tubes {
				s = inTubes(s, 0)
			}
			s.Slide, s.SlidToRest = row.slide, row.toRest
			parameters := allParameters(s.Path)
			slopes := make([]beam.Slope, len(parameters))
			type at struct {
				active, anchor tooth.Load
				play           *spring.PlayState
			}
			run := func(s spring.Spring, each func(i int, p *SeatedPath)) []at {
				p, err := NewSeatedPath(s, options)
				if err != nil {
					t.Fatal(err)
				}
				var all []at
				for i := range s.Positions {
					if err := p.Follow(s.SeatAt(i)); err != nil {
						t.Fatal(err)
					}
					active, anchor := p.Loads()
					all = append(all, at{active, anchor, p.Play()})
					if each != nil {
						each(i, p)
					}
				}
				return all
			}
			type byNumber struct{ active, anchor []tooth.Load }
			var byPath, bySeat []byNumber
			middle := run(s, func(i int, p *SeatedPath) {
				if !p.Slopes(parameters, slopes) {
					t.Fatal("no slopes")
				}
				var b byNumber
				for k := range parameters {
					active, anchor := p.LoadSlopes(&slopes[k])
					b.active, b.anchor = append(b.active, active), append(b.anchor, anchor)
				}
				byPath = append(byPath, b)
				if p.Spring().Plain() {
					return // HoldSlopes are of that
				}
				active, anchor, ok := p.SeatSlopes()
				if !ok {
					t.Fatal("no slopes by the seat")
				}
				bySeat = append(bySeat, byNumber{active[:], anchor[:]})
			})
			for i, p := range evaluated(t, s).Record.Positions {
				within(t, fmt.Sprintf("position %d, force beside Evaluate's", i+1), r3.Norm(r3.Sub(p.Active.ForceN, middle[i].active.ForceN)), 0, 2e-3*(1e-2+r3.Norm(p.Active.ForceN)))
			}
			const step = 1e-5
			compare := func(what string, got []byNumber, number int, low, high []at) {
				for i := range middle {
					if low[i].play != nil && (contactsOfSlots(low[i].play) != contactsOfSlots(middle[i].play) || contactsOfSlots(high[i].play) != contactsOfSlots(middle[i].play)) {
						continue // no slope there
					}
					for k, pair := range [][3]tooth.Load{{got[i].active[number], low[i].active, high[i].active}, {got[i].anchor[number], low[i].anchor, high[i].anchor}} {
						force := r3.Scale(1/(2*step), r3.Sub(pair[2].ForceN, pair[1].ForceN))
						couple := r3.Scale(1/(2*step), r3.Sub(pair[2].CoupleNMM, pair[1].CoupleNMM))
						size := 1e-5 * (1 + r3.Norm(couple))
						within(t, fmt.Sprintf("%s, position %d, tooth %d: force", what, i+1, k), r3.Norm(r3.Sub(force, pair[0].ForceN)), 0, size)
						within(t, fmt.Sprintf("%s, position %d, tooth %d: couple", what, i+1, k), r3.Norm(r3.Sub(couple, pair[0].CoupleNMM)), 0, size)
					}
				}
			}
			for k := range s.Path.Steps() {
				with := func(by float64) []at {
					changed := s
					steps := s.Path.Steps()
					if steps[k].Kind == spring.Straight {
						steps[k].LengthMM += by
					} else {
						steps[k].AngleRad += by
					}
					changed.Path = spring.PathOf(steps...)
					return run(changed, nil)
				}
				compare(fmt.Sprintf("step %d", k), byPath, k, with(-step), with(step))
			}
			for k := range 6 {
				if bySeat == nil {
					break
				}
				with := func(by float64) []at {
					moved := s
					for _, seat := range []*spring.Seat{&moved.Start, &moved.End} {
						pose := seat.Pose(s.Heading)
						centre := s.Centre(pose)
						var shift, turn r3.Vec
						*[]*float64{&shift.X, &shift.Y, &shift.Z, &turn.X, &turn.Y, &turn.Z}[k] = by
						pose = pose.Turned(turn)
						pose.At = r3.Add(centre, shift)
						pose = pose.Along(-s.ActiveSlotLengthMM / 2)
						*seat = spring.SeatOf(pose, s.Heading)
					}
					return run(moved, nil)
				}
				compare(fmt.Sprintf("seat %d", k), bySeat, k, with(-step), with(step))
			}
		})
	}
}

// contactsOfSlots are the contacts alone.
func contactsOfSlots(p *spring.PlayState) [6]spring.Contact {
	return [6]spring.Contact{p.Anchor.ThirdOrder, p.Anchor.SecondOrder, p.Anchor.FirstOrder, p.Active.ThirdOrder, p.Active.SecondOrder, p.Active.FirstOrder}
}

// A wire that is slid to rest and cinched has no force along its slot at the first seat, and keeps its
// length from there on; slid or cut by as much beforehand it is the same.
func TestSlidToRestForgetsWhereItWasPut(t *testing.T) {
	t.Parallel()
	s := inTubes(loopSpring(), 0)
	s.SlidToRest, s.Positions = spring.SlideActive, 3
	first := evaluated(t, s)
	longer := s
	steps := s.Path.Steps()
	steps[len(steps)-1].LengthMM += 0.3 // put in 0.3 mm less
	longer.Path = spring.PathOf(steps...)
	second := evaluated(t, longer)
	for i, p := range first.Record.Positions {
		q := second.Record.Positions[i]
		within(t, "force of the one put in elsewhere", r3.Norm(r3.Sub(p.Active.ForceN, q.Active.ForceN)), 0, 1e-6)
		within(t, "slid more", p.Play.SlidMM-q.Play.SlidMM, 0.3, 1e-6)
		within(t, "slid since", p.Play.SlidMM, first.Record.Positions[0].Play.SlidMM, 1e-12)
	}
	cinched := s
	cinched.SlidToRest = spring.NoSlide
	along := func(e Evaluation, i int) float64 {
		return math.Abs(r3.Dot(s.SeatAt(i).Pose(s.Heading).D1, e.Record.Positions[i].Active.ForceN))
	}
	// In the slot's heading the wire is tipped by its play: a tenth of the force across at most.
	if a := along(first, 0); a > 0.1 {
		t.Errorf("force along the slot %g N", a)
	}
	if a := along(evaluated(t, cinched), 0); !(a > 0.5) {
		t.Errorf("as it was put in, force along the slot %g N: nothing to slide for", a)
	}
}

// Steel, beta-titanium and slots of every kind: a wire behind the mirror lies behind the mirror.
func TestTubesBehindTheMirror(t *testing.T) {
	t.Parallel()
	s := inTubes(loopSpring(), 0)
	s.SlidToRest, s.Positions = spring.SlideActive, 3
	twin := evaluated(t, s.Mirrored()).Record.Positions
	for i, p := range evaluated(t, s).Record.Positions {
		got := mirrored(twin[i].Active)
		within(t, "force", r3.Norm(r3.Sub(got.ForceN, p.Active.ForceN)), 0, 1e-7)
		if a, b := p.Play.Active.Mirrored(), twin[i].Play.Active; a.FirstOrder != b.FirstOrder || a.SecondOrder != b.SecondOrder || a.ThirdOrder != b.ThirdOrder {
			t.Errorf("position %d: %+v, behind the mirror %+v", i+1, a, b)
		}
	}
}
