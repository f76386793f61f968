package export

import (
	"math"

	"springwright/design/beam"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/wire"
	"springwright/export/plane"

	"gonum.org/v1/gonum/spatial/r3"
)

// shape is a wire as seen from the cheek, mm at true size, on the page's axes with the
// origin of the mechanics at the page's origin.
type shape struct {
	centre, left, right []plane.Point
}

// sagittaMM is how far a drawn chord may lie off its arc.
const sagittaMM = 0.0005

// passivePoses samples steps so finely that chords serve for arcs. start has the index of
// each step's first pose, and one more for the last pose.
func passivePoses(steps spring.Steps) (poses []beam.Pose, start []int) {
	pose := beam.Origin()
	poses = append(poses, pose)
	for _, piece := range steps.Pieces() {
		start = append(start, len(poses)-1)
		turn := r3.Norm(piece.Curvature) * piece.LengthMM
		parts := 1
		if turn > 0 {
			radius := math.Max(piece.LengthMM/turn, 0.1)
			chord := 2 * math.Acos(math.Max(1-sagittaMM/radius, 0))
			parts = max(1, int(math.Ceil(turn/math.Min(chord, 5*degree))))
		}
		for i := range parts {
			poses = append(poses, pose.Advance(piece.Curvature, piece.LengthMM*float64(i+1)/float64(parts)))
		}
		pose = poses[len(poses)-1]
	}
	return poses, append(start, len(poses)-1)
}

// smooth puts more poses between given ones, on the cubic that has their tangents.
func smooth(poses []beam.Pose, samples []solve.Sample) []beam.Pose {
	var out []beam.Pose
	for i := 1; i < len(poses); i++ {
		a, b := poses[i-1], poses[i]
		length := samples[i].ArcMM - samples[i-1].ArcMM
		parts := max(1, int(math.Ceil(r3.Norm(r3.Sub(b.D1, a.D1))/(3*degree))))
		for k := range parts {
			t := float64(k) / float64(parts)
			out = append(out, between(a, b, length, t))
		}
	}
	return append(out, poses[len(poses)-1])
}

func between(a, b beam.Pose, lengthMM, t float64) beam.Pose {
	h := beam.Pose{At: r3.Add(
		r3.Add(r3.Scale((1+2*t)*(1-t)*(1-t), a.At), r3.Scale(t*t*(3-2*t), b.At)),
		r3.Scale(lengthMM*t*(1-t), r3.Sub(r3.Scale(1-t, a.D1), r3.Scale(t, b.D1))))}
	mix := func(p, q r3.Vec) r3.Vec { return r3.Unit(r3.Add(r3.Scale(1-t, p), r3.Scale(t, q))) }
	h.D1, h.D2, h.D3 = mix(a.D1, b.D1), mix(a.D2, b.D2), mix(a.D3, b.D3)
	return h
}

// projection is where a point is seen on the page, mm.
type projection func(r3.Vec) plane.Point

// shapeOf projects a wire. Its edges are the silhouette of its real section: for a
// rectangle, both sides add to the half width seen across the wire.
func shapeOf(poses []beam.Pose, w wire.Wire, page projection) shape {
	dot := func(a, b plane.Point) float64 { return math.Abs(a.X*b.X + a.Y*b.Y) }
	var s shape
	normal := plane.Point{Y: 1}
	for _, p := range poses {
		// Where the wire runs at the viewer its direction on the page means nothing: keep
		// the last one.
		if along := page(p.D1); along.Norm() > 0.02 {
			normal = along.Unit().Left()
		}
		half := w.HeightMM() / 2
		if !w.Round() {
			half = dot(page(p.D3), normal)*w.HeightMM()/2 + dot(page(p.D2), normal)*w.DepthMM()/2
		}
		at := page(p.At)
		s.centre = append(s.centre, at)
		s.left = append(s.left, at.Add(normal.Times(half)))
		s.right = append(s.right, at.Sub(normal.Times(half)))
	}
	return s
}

// edge is the closed outline.
func (s shape) edge() []plane.Point {
	edge := append([]plane.Point(nil), s.left...)
	for i := len(s.right) - 1; i >= 0; i-- {
		edge = append(edge, s.right[i])
	}
	return append(edge, s.left[0])
}

// cover widens a box to hold the outline.
func (s shape) cover(b plane.Box) plane.Box {
	for i := range s.centre {
		b = b.Cover(s.left[i]).Cover(s.right[i])
	}
	return b
}
