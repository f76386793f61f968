package casefile

import (
	"fmt"

	"springwright/design/quantity"
	"springwright/design/spring"
)

// What came of the springs bent in trial, in the order of the keys.
type (
	spreadJSON struct {
		Springs          int              `json:"springs"`
		Met              int              `json:"met"`
		Unseated         int              `json:"unseated"`
		Share95          [2]figure        `json:"share_95"`
		LargestInfluence string           `json:"largest_influence"`
		InfluenceShare   figure           `json:"influence_share"`
		MostMissed       string           `json:"most_missed"`
		MissedShare      figure           `json:"missed_share"`
		Positions        []spreadPosition `json:"positions"`
		Tolerances       []stepTolerance  `json:"tolerances,omitempty"`
	}
	sharesJSON struct {
		Springs   int `json:"springs"`
		AsBent    int `json:"as_bent"`
		Checked   int `json:"free_end_checked"`
		Corrected int `json:"one_correction"`
		AsDrawn   int `json:"as_drawn"`
	}
	stepTolerance struct {
		Step    int     `json:"step"`
		LessMM  *figure `json:"less_mm,omitempty"`
		MoreMM  *figure `json:"more_mm,omitempty"`
		LessDeg *figure `json:"less_deg,omitempty"`
		MoreDeg *figure `json:"more_deg,omitempty"`
	}
	spreadPosition struct {
		TravelLeftMM     figure     `json:"travel_left_mm"`
		ActiveForceZN    vectorJSON `json:"active_force_z_n"` // of 5 %, median and 95 %, as all four
		ActiveCoupleYNMM vectorJSON `json:"active_couple_y_nmm"`
		AnchorForceZN    vectorJSON `json:"anchor_force_z_n"`
		AnchorCoupleYNMM vectorJSON `json:"anchor_couple_y_nmm"`
	}
)

func (w *recordWriter) spread(s *spring.Spread) *spreadJSON {
	w.place = "bent_springs"
	out := &spreadJSON{
		Springs: s.Springs, Met: s.Met, Unseated: s.Unseated,
		Share95:          [2]figure{w.number("share_95", s.Low), w.number("share_95", s.High)},
		LargestInfluence: s.Influence, InfluenceShare: w.number("influence_share", s.InfluenceShare),
		MostMissed: s.MostMissed, MissedShare: w.number("missed_share", s.MissedShare),
		Positions: []spreadPosition{},
	}
	for i, p := range s.Positions {
		w.place = fmt.Sprintf("bent_springs, position %d", i+1)
		band := func(key string, b spring.Band) vectorJSON {
			return vectorJSON{w.number(key, b.Low), w.number(key, b.Median), w.number(key, b.High)}
		}
		out.Positions = append(out.Positions, spreadPosition{
			w.number("travel_left_mm", p.TravelLeftMM),
			band("active_force_z_n", p.ActiveForceZN), band("active_couple_y_nmm", p.ActiveCoupleYNMM),
			band("anchor_force_z_n", p.AnchorForceZN), band("anchor_couple_y_nmm", p.AnchorCoupleYNMM),
		})
	}
	for i, t := range s.Tolerances {
		w.place = fmt.Sprintf("bent_springs, tolerance of step %d", i+1)
		less, more := w.number("less", t.Less), w.number("more", t.More)
		step := stepTolerance{Step: i + 1, LessMM: &less, MoreMM: &more}
		if t.Angle {
			less, more = w.number("less_deg", quantity.Degree.Outside(t.Less)), w.number("more_deg", quantity.Degree.Outside(t.More))
			step = stepTolerance{Step: i + 1, LessDeg: &less, MoreDeg: &more}
		}
		out.Tolerances = append(out.Tolerances, step)
	}
	return out
}
