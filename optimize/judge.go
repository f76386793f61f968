package optimize

import (
	"fmt"
	"math"

	"springwright/design"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// Miss is a window of the target that a spring does not meet, on the trade's name for the
// quantity.
type Miss struct {
	Name         string // such as "intrusive force"
	Quantity     design.Quantity
	Value        float64
	Window       design.Window
	AtStart      bool // of the window at the start; else of that over the travel
	TravelLeftMM float64
	Axes         design.Miss // the same on the global axes
}

// String says what was asked, what came out and where.
func (m Miss) String() string {
	unit := m.Quantity.Unit()
	when := fmt.Sprintf("with %.2f mm of travel left", m.TravelLeftMM)
	switch {
	case m.Quantity == design.Rate:
		when = "over the travel"
	case m.AtStart:
		when = "at the start of the travel"
	}
	return fmt.Sprintf("%s %.3f %s %s, asked: %s", m.Name, m.Value, unit, when, windowText(m.Window, unit))
}

func windowText(w design.Window, unit string) string {
	switch {
	case math.IsInf(w.Min, -1):
		return fmt.Sprintf("at most %.3g %s", w.Max, unit)
	case math.IsInf(w.Max, 1):
		return fmt.Sprintf("at least %.3g %s", w.Min, unit)
	}
	return fmt.Sprintf("%.3g to %.3g %s", w.Min, w.Max, unit)
}

// judge returns the windows that a record misses, the worst place of each.
func judge(c design.Case, record design.Record) []Miss {
	var misses []Miss
	worst := map[missKey]int{}
	judged := c.JudgedRecord(record)
	for i, p := range record.Positions {
		for q := range design.Quantities {
			for _, atStart := range [...]bool{true, false} {
				window := c.Target.WindowAt(q, p.TravelLeftMM, atStart)
				if window.Free() || atStart && i > 0 {
					continue
				}
				value := c.Target.Value(q, judged[i])
				if window.Misses(value) <= 0 {
					continue
				}
				miss := clinicalMiss(c, q, value, window)
				miss.AtStart, miss.TravelLeftMM = atStart, p.TravelLeftMM
				miss.Axes = design.Miss{
					Quantity: q, Value: value, Window: window, AtStart: atStart, TravelLeftMM: p.TravelLeftMM,
					AtResistance: q.Couple() && c.Target.AtResistance,
				}
				key := missKey{q, atStart}
				if at, seen := worst[key]; !seen {
					worst[key] = len(misses)
					misses = append(misses, miss)
				} else if window.Misses(value) > misses[at].Window.Misses(misses[at].Value) {
					misses[at] = miss
				}
			}
		}
	}
	return misses
}

type missKey struct {
	quantity design.Quantity
	atStart  bool
}

// clinicalMiss turns a value and its window to the sign of the trade's name.
func clinicalMiss(c design.Case, q design.Quantity, value float64, window design.Window) Miss {
	name, sign := c.NamingOf(q, value)
	if sign < 0 {
		window.Min, window.Max = -window.Max, -window.Min
	}
	return Miss{Name: name, Quantity: q, Value: sign * value, Window: window}
}

// Summary is what the target is about, over the whole travel.
type Summary struct {
	// Driving is the load that drives most of the travel, DrivingMin and DrivingMax what it
	// comes to while the force is asked for: N, or N·mm where the slot only turns.
	Driving                tooth.Component
	DrivingMin, DrivingMax float64
	SideForceN             float64 // largest force beside it
	CoupleNMM              float64 // largest distance of an asked couple from its middle
	StressRatio            float64
}

func summarise(c design.Case, record design.Record) Summary {
	s := Summary{DrivingMin: math.Inf(1), DrivingMax: math.Inf(-1)}
	s.Driving, _ = c.SpringFor(nil).Travel().Component()
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
			if w := c.Target.WindowAt(design.OfActive(k), p.TravelLeftMM, false); w.Asked() {
				middle := (w.Min + w.Max) / 2
				if math.IsInf(middle, 0) {
					middle = 0
				}
				s.CoupleNMM = max(s.CoupleNMM, math.Abs(judged.Component(k)-middle))
			}
		}
		s.StressRatio = max(s.StressRatio, p.StressRatio)
	}
	return s
}
