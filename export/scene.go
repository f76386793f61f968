package export

import (
	"math"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/wire"
	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"

	"gonum.org/v1/gonum/spatial/r3"
)

// scene is all that is drawn of a spring in one view, at true size.
type scene struct {
	wire            wire.Wire
	by              plane.Point // what true sizes are drawn larger by
	see             projection
	plan            bool        // seen from the biting side
	poses           []beam.Pose // of the passive wire
	passive, seated shape
	start           []int // of each step of the tidy path, in passive
	slots           []slot
	bounds          plane.Box
	barMM           float64 // length on the page of the bar beside it
}

// slot is a slot as seen.
type slot struct {
	name    string
	outline []plane.Point // closed; a single stroke where the slot has no length
	goal    bool          // where the tooth should come to
	upwards plane.Point   // from its middle to the long side that its outline ends with
}

// scene is the side view.
func (s *subject) scene() scene { return s.seated(s.passiveScene()) }

// plan is the view from the biting side.
func (s *subject) plan() scene { return s.seated(s.sceneSeen(s.bitingSide(), true)) }

// seated adds the seated wire to a scene.
func (of *subject) seated(s scene) scene {
	seated := shapeOf(smooth(of.job.Evaluation.Seated, of.job.Evaluation.Samples), of.job.Spring.Wire, s.see)
	s.seated = seated.scaled(of.scale)
	s.bounds = s.seated.cover(s.bounds)
	return s
}

// passiveScene is a side view without the seated wire, which needs no loads.
func (of *subject) passiveScene() scene { return of.sceneSeen(of.cheek(), false) }

func (of *subject) sceneSeen(see projection, plan bool) scene {
	made, c := of.job.Spring, of.job.Case
	poses, start := passivePoses(made.Path.Steps())
	// The wire also fills the slots; drawn so, both ends can be laid on the sheet.
	behind := beam.Origin().Along(-made.AnchorSlotLengthMM)
	beyond := poses[len(poses)-1].Along(made.ActiveSlotLengthMM)
	for i := range start {
		start[i]++
	}
	poses = append(append([]beam.Pose{behind}, poses...), beyond)

	s := scene{
		wire: made.Wire, by: of.scale, see: see, plan: plan, poses: poses,
		passive: shapeOf(poses, made.Wire, see).scaled(of.scale),
		barMM:   nearBarMM * of.scale.X,
		start:   start,
	}
	now, goal := made.Start.Pose(made.Heading), made.End.Pose(made.Heading)
	add := func(name string, goal bool, at beam.Pose, lengthMM float64, size spring.Slot) {
		half := of.slotHalf(at, size, plan)
		s.slots = append(s.slots, slot{
			name: name, goal: goal, upwards: see(half).Unit(),
			outline: scaled(slotOutline(at, lengthMM, half, see), of.scale),
		})
	}
	anchor, active := int(c.Teeth.Anchor), int(c.Teeth.Active)
	add(of.say("%d slot", anchor), false, behind, made.AnchorSlotLengthMM, c.AnchorSlot)
	add(of.say("%d now", active), false, now, made.ActiveSlotLengthMM, c.ActiveSlot)
	if r3.Norm(r3.Sub(now.At, goal.At)) > 0.05 || r3.Norm(r3.Sub(made.Start.Rotation, made.End.Rotation)) > degree/2 {
		add(of.say("%d goal", active), true, goal, made.ActiveSlotLengthMM, c.ActiveSlot)
	}
	s.bounds = s.passive.cover(plane.Empty())
	for _, slot := range s.slots {
		for _, q := range slot.outline {
			s.bounds = s.bounds.Cover(q)
		}
	}
	return s
}

// slotHalf is from the middle of a slot to its side: half its height, or half its depth
// where it is seen from the biting side.
func (s *subject) slotHalf(at beam.Pose, size spring.Slot, plan bool) r3.Vec {
	mm, wireMM, side := size.HeightMM, s.job.Spring.Wire.HeightMM(), at.D3
	if plan {
		mm, wireMM, side = size.DepthMM, s.job.Spring.Wire.DepthMM(), at.D2
	}
	if mm <= 0 {
		mm = 1.3 * wireMM // not told: a usual slot is that much wider
	}
	return r3.Scale(mm/2, side)
}

// slotOutline is the silhouette of a slot that starts at a pose and follows its d1.
func slotOutline(at beam.Pose, lengthMM float64, half r3.Vec, see projection) []plane.Point {
	corner := func(along, up float64) plane.Point {
		return see(r3.Add(at.At, r3.Add(r3.Scale(along, at.D1), r3.Scale(up, half))))
	}
	if lengthMM == 0 {
		return []plane.Point{corner(0, -3), corner(0, 3)}
	}
	return []plane.Point{corner(0, -1), corner(lengthMM, -1), corner(lengthMM, 1), corner(0, 1), corner(0, -1)}
}

// cheek is the side view.
func (s *subject) cheek() projection {
	return func(p r3.Vec) plane.Point {
		x, y := s.view.Page(p)
		return plane.Point{X: x, Y: y}
	}
}

// bitingSide is the plan, as wide as the side view and aligned with it.
func (s *subject) bitingSide() projection {
	return func(p r3.Vec) plane.Point {
		x, y := s.view.Plan(p)
		return plane.Point{X: x, Y: y}
	}
}

// draw draws slots, ghost and wire, in that order.
func (s scene) draw(p *sheet.Page, at plane.Point, scale float64) {
	place := func(points []plane.Point) []plane.Point { return plane.Placed(points, at, scale) }
	for _, sl := range s.slots {
		if sl.goal {
			p.Dashed(sheet.Mark, place(sl.outline), 0.8, 0.5)
		} else {
			p.Polyline(sheet.Mark, place(sl.outline))
		}
	}
	if len(s.seated.centre) > 0 {
		p.Polyline(sheet.Construction, place(s.seated.edge()))
	}
	if s.plan {
		drawSilhouette(p, s.by, s.poses, s.wire, s.see, at, scale)
	} else {
		p.Polyline(sheet.Outline, place(s.passive.edge()))
	}
	p.Polyline(sheet.Centreline, place(s.passive.centre))
	if scale > 1 && !s.plan {
		// Where bends begin and end, and where the wire leaves and enters the slots.
		for _, i := range s.start {
			p.Line(sheet.Centreline, at.Add(s.passive.left[i].Times(scale)), at.Add(s.passive.right[i].Times(scale)))
		}
	}
}

// board is the room for labels round a drawn spring.
func (s scene) board(room plane.Box, at plane.Point, scale float64) *label.Board {
	b := &label.Board{Bounds: room, ClearMM: 0.35}
	half := scale * math.Max(s.wire.HeightMM(), s.wire.DepthMM()) / 2
	for _, wire := range [...]shape{s.passive, s.seated} {
		if len(wire.centre) > 0 {
			b.Block(thin(wire.centre, at, scale), half)
		}
	}
	for _, sl := range s.slots {
		b.Block(thin(sl.outline, at, scale), 0.1)
	}
	return b
}

// thin places a line and leaves out points that lie within 0.1 mm of a chord's direction
// change: labels need no finer obstacles.
func thin(points []plane.Point, at plane.Point, scale float64) []plane.Point {
	out := []plane.Point{at.Add(points[0].Times(scale))}
	for i := 1; i < len(points); i++ {
		q := at.Add(points[i].Times(scale))
		last := out[len(out)-1]
		if i == len(points)-1 || q.Sub(last).Norm() > 0.8 || !straightOn(points, i) {
			out = append(out, q)
		}
	}
	return out
}

// straightOn tells whether the line hardly turns at point i.
func straightOn(points []plane.Point, i int) bool {
	a, b := points[i].Sub(points[i-1]), points[i+1].Sub(points[i])
	if a.Norm() < 1e-9 || b.Norm() < 1e-9 {
		return true
	}
	a, b = a.Unit(), b.Unit()
	return math.Abs(a.X*b.Y-a.Y*b.X) < math.Sin(8*degree)
}
