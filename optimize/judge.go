package optimize

import (
	"math"

	"springwright/design"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Summary is what the target is about, over the whole travel.
type Summary struct {
	// Driving is the load that drives most of the travel, DrivingMin and DrivingMax what it
	// comes to while the force is asked for: N, or N·mm where the slot only turns.
	Driving                tooth.Component
	DrivingMin, DrivingMax float64
	SideForceN             float64 // largest force beside it
	// CoupleNMM is the largest couple: of an asked one its distance from the middle of its window.
	CoupleNMM   float64
	StressRatio float64
}

func summarise(c design.Case, record spring.Record) Summary {
	s := Summary{DrivingMin: math.Inf(1), DrivingMax: math.Inf(-1)}
	s.Driving, _ = c.SpringFor(spring.Path{}).Travel().Component()
	for _, p := range record.Positions {
		judged := c.JudgedLoad(p.Active, p.Seat)
		if p.TravelLeftMM >= c.Target.ForceUntilMM-1e-9 {
			driving := judged.Component(s.Driving)
			s.DrivingMin, s.DrivingMax = min(s.DrivingMin, driving), max(s.DrivingMax, driving)
			side := judged.ForceN
			switch s.Driving {
			case tooth.ForceX:
				side.X = 0
			case tooth.ForceY:
				side.Y = 0
			case tooth.ForceZ:
				side.Z = 0
			}
			s.SideForceN = max(s.SideForceN, r3.Norm(side))
		}
		for k := tooth.CoupleX; k <= tooth.CoupleZ; k++ {
			middle := 0.0
			if w := c.Target.WindowAt(target.OfActive(k), p.TravelLeftMM, false); w.Asked() && !math.IsInf(w.Max-w.Min, 0) {
				middle = (w.Min + w.Max) / 2
			}
			s.CoupleNMM = max(s.CoupleNMM, math.Abs(judged.Component(k)-middle))
		}
		s.StressRatio = max(s.StressRatio, p.StressRatio)
	}
	return s
}
