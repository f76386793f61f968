// Package bend turns a path into the list of motions with which a hand bends it: feed the
// wire, turn it about its axis, bend. It knows nothing of paper.
//
// # Two languages
//
// The motions are those of general wire bending. The mark is where a bend begins on the
// straight wire, from the exit of the anchor slot; the feed is the straight in front of
// it. The turn is how far round the wire, right-handed about its running direction, the
// side that a bend goes to lies from the side of the bend before, at the first bend from
// the wire's apical side. The bend is then always positive. A machine that bends to one
// side alone turns the wire the other way.
//
// For a spring in one plane the turn is 0° or 180°, and a signed angle reads better: Seen
// is positive to the left and negative to the right of somebody who looks from the cheek
// and follows the wire from the anchor slot.
//
// Wire with a bend radius of two thicknesses or more keeps the length of its centreline
// (common practice), so marks need no allowance for stretching.
package bend

import (
	"math"

	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// HoldMM is the allowance for holding the wire at each end (common practice).
const HoldMM = 10

// ShallowRad is the bend below which turn and direction are ill-defined for a hand.
const ShallowRad = 5 * math.Pi / 180

// Row is one motion: a bend, or a twist.
type Row struct {
	Step      int // the bend's number: see design.Path.BendNumbers
	PathStep  int // index of its step in the path
	Twist     bool
	MarkMM    float64
	FeedMM    float64
	TurnRad   float64   // in (−π, π]
	BendRad   float64   // 0 or more; 0 for a twist
	RadiusMM  float64   // to the wire's centreline
	ArcMM     float64   // wire used up by the bend or the twist
	TwistRad  float64   // right-handed about the running direction; 0 for a bend
	SeenRad   float64   // left positive; only where InView
	InView    bool      // the bend lies in the plane seen from the cheek
	Direction Direction // which way the wire runs afterwards
	Line      Facing    // where the line on the wire's top faces while the free end is bent up; up for a twist
	TopToYou  bool      // of a twist: the top of the free end goes towards the hand's owner, else away
	Towards   string    // of a bend: which way it turns the wire in the finished spring, such as "buccal"
}

// Shallow tells whether the bend is too small to be set by turn and angle alone.
func (r Row) Shallow() bool { return !r.Twist && r.BendRad < ShallowRad }

// Table is how a spring is bent from a straight wire.
type Table struct {
	Rows         []Row
	EndFeedMM    float64 // the straight behind the last bend, up to the active slot
	DevelopedMM  float64 // wire between the slots
	AnchorSlotMM float64 // wire inside the anchor slot
	ActiveSlotMM float64 // wire inside the active slot
	Hooked       bool    // the wire ends in a hook and enters no active slot
	AnchorLeft   bool    // the anchor end is in the left hand, else in the right one
}

// CutMM is the length to cut: the wire between and in the slots, and HoldMM at each end.
func (t Table) CutMM() float64 { return t.CutEndMM() - t.CutStartMM() }

// CutStartMM is the mark of the wire's first end, before the exit of the anchor slot.
func (t Table) CutStartMM() float64 { return -t.AnchorSlotMM - HoldMM }

// CutEndMM is the mark of the wire's last end.
func (t Table) CutEndMM() float64 { return t.DevelopedMM + t.ActiveSlotMM + HoldMM }

// TableOf returns the bends of a spring. The teeth say what is seen from the cheek.
func TableOf(s spring.Spring, teeth tooth.Pair) Table {
	path, steps, numbers := s.Path, s.Path.Steps(), s.Path.BendNumbers()
	t := Table{
		DevelopedMM:  path.WireLengthMM(),
		AnchorSlotMM: s.AnchorSlotLengthMM,
		ActiveSlotMM: s.ActiveSlotLengthMM,
		Hooked:       s.ActiveHold.Hook,
	}
	view := ViewOf(teeth)
	t.AnchorLeft = view.AnchorLeft()
	pose := beam.Origin()
	markMM, feedMM, atRad := 0.0, 0.0, 0.0
	for i, piece := range path.Pieces() {
		step := steps[i]
		start := pose
		pose = pose.Advance(piece.Curvature, piece.LengthMM)
		if step.Kind == spring.Straight {
			feedMM += step.LengthMM
			markMM += step.LengthMM
			continue
		}
		row := Row{
			Step:      numbers[i],
			PathStep:  i,
			MarkMM:    markMM,
			FeedMM:    feedMM,
			ArcMM:     piece.LengthMM,
			Direction: view.Direction(pose.D1),
		}
		if step.Kind == spring.Twist {
			row.Twist, row.TwistRad, row.TopToYou = true, step.AngleRad, view.topToYou(step)
		} else {
			next := sideRad(step)
			row.TurnRad = wrap(next - atRad)
			atRad = next
			row.BendRad, row.RadiusMM = math.Abs(step.AngleRad), step.RadiusMM
			row.SeenRad, row.InView = view.seen(start, piece, row.BendRad)
			row.Line, row.Towards = view.facing(step), view.mainWord(side(step, start))
		}
		t.Rows = append(t.Rows, row)
		markMM += piece.LengthMM
		feedMM = 0
	}
	t.EndFeedMM = feedMM
	return t
}

// sideRad is the side of the wire towards which a bend turns it: an angle about d1 from
// its own thickness side +d3.
func sideRad(s spring.Step) float64 {
	switch {
	case s.Order == 1 && s.AngleRad > 0: // towards +d2, a quarter turn back from +d3
		return -math.Pi / 2
	case s.Order == 1:
		return math.Pi / 2
	case s.AngleRad < 0:
		return math.Pi
	}
	return 0
}

// wrap brings an angle into (−π, π].
func wrap(rad float64) float64 {
	rad = math.Remainder(rad, 2*math.Pi)
	if rad <= -math.Pi {
		rad += 2 * math.Pi
	}
	return rad
}

// seen returns the signed angle of a bend whose axis points at the viewer or away.
func (v View) seen(start beam.Pose, piece beam.Piece, bendRad float64) (float64, bool) {
	axis := start.ToGlobal(r3.Unit(piece.Curvature))
	// cos 1e-4 rad: far closer than paper shows, far wider than rounding.
	if math.Abs(axis.Y) < 1-5e-9 {
		return 0, false
	}
	// x to the right and z up, y points away from the viewer: a turn about −y is to the
	// left. Each mirroring swaps left and right.
	return -math.Copysign(bendRad, axis.Y) * v.XSign * v.ZSign, true
}
