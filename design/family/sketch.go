package family

import (
	"math"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sketch is the wire of a kind of spring as it looks before any pre-activation, from slot to slot
// along +x: a picture to choose by. The numbers are invented, of usual size.
func Sketch(f design.Family) ([]beam.Pose, error) {
	c := design.Case{
		Teeth: tooth.Pair{Anchor: 36, Active: 37}, Family: f.Name,
		AnchorSlot: spring.Slot{LengthMM: 3}, ActiveSlot: spring.Slot{LengthMM: 3, Hook: f.Hooked},
		Now: design.Placement{CentreMM: r3.Vec{X: 14}}, Goal: design.Placement{CentreMM: r3.Vec{X: 14}},
		Positions: 2, Wire: wire.Wire{EMPa: 70000, Poisson: 0.3, ThicknessMM: 0.432, WidthMM: 0.635},
		Limits: design.Limits{
			LoopHeightMM: 7, LoopWidthMM: 9, RoomMesialMM: 14, RoomDistalMM: 5,
			BendRadiusMM: 1, ShortestStraightMM: 1, LargestPreBendRad: math.Pi / 6,
		},
		Search: design.Search{LengthStepMM: 0.5, AngleStepRad: math.Pi / 180},
	}
	if f.Hooked {
		c.ActiveSlot.LengthMM = 0
		c.Now.CentreMM.X, c.Goal.CentreMM.X = 20, 20
	}
	pattern, err := PatternFor(c)
	if err != nil {
		return nil, err
	}
	values := make([]float64, len(pattern.Freedoms))
	for i, free := range pattern.Freedoms {
		values[i] = free.Neutral
		if !free.Angle && !free.Radius {
			values[i] = sketchedMM(free, f.Hooked)
		}
	}
	s := c.SpringFor(pattern.PathFor(values))
	solver := beam.NewSolver(s.Rod(), beam.Origin(), beam.Options{})
	var poses []beam.Pose
	for _, n := range solver.AppendNodes(nil) {
		poses = append(poses, n.Pose)
	}
	return poses, nil
}

// sketchedMM is a length that looks right (tried on the kinds there are): legs are short beside a
// loop and long where they are the spring, uprights are as high as a loop usually is.
func sketchedMM(free spring.Freedom, hooked bool) float64 {
	const legMM, armMM, uprightMM, mostLoopMM = 2, 6, 6, 15
	switch {
	case free.Max > mostLoopMM && hooked:
		return free.Min + armMM
	case free.Max > mostLoopMM:
		return free.Min + legMM
	}
	return max(free.Min, min((free.Min+free.Max)/2, uprightMM))
}
