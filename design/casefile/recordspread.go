package casefile

import (
	"fmt"

	"springwright/design/spring"
)

// spread writes what came of the springs bent in trial; a band is [5 %, median, 95 %].
func (w *recordWriter) spread(s *spring.Spread) {
	w.place = "bent_springs"
	fmt.Fprintf(&w.out, ",\n  \"bent_springs\": {\n    \"springs\": %d,\n    \"met\": %d,\n    \"unseated\": %d,\n", s.Springs, s.Met, s.Unseated)
	fmt.Fprintf(&w.out, "    \"share_95\": [%s, %s],\n", w.number("share_95", s.Low), w.number("share_95", s.High))
	fmt.Fprintf(&w.out, "    \"largest_influence\": %s,\n", w.text("largest_influence", s.Influence))
	fmt.Fprintf(&w.out, "    \"influence_share\": %s,\n", w.number("influence_share", s.InfluenceShare))
	fmt.Fprintf(&w.out, "    \"most_missed\": %s,\n", w.text("most_missed", s.MostMissed))
	fmt.Fprintf(&w.out, "    \"missed_share\": %s,\n    \"positions\": [", w.number("missed_share", s.MissedShare))
	for i, p := range s.Positions {
		if i > 0 {
			w.out.WriteByte(',')
		}
		w.place = fmt.Sprintf("bent_springs, position %d", i+1)
		fmt.Fprintf(&w.out, "\n      {\n        \"travel_left_mm\": %s", w.number("travel_left_mm", p.TravelLeftMM))
		for _, b := range []struct {
			key  string
			band spring.Band
		}{
			{"active_force_z_n", p.ActiveForceZN},
			{"active_couple_y_nmm", p.ActiveCoupleYNMM},
			{"anchor_force_z_n", p.AnchorForceZN},
			{"anchor_couple_y_nmm", p.AnchorCoupleYNMM},
		} {
			fmt.Fprintf(&w.out, ",\n        %q: [%s, %s, %s]", b.key,
				w.number(b.key, b.band.Low), w.number(b.key, b.band.Median), w.number(b.key, b.band.High))
		}
		w.out.WriteString("\n      }")
	}
	if len(s.Positions) > 0 {
		w.out.WriteString("\n    ")
	}
	w.out.WriteString("]\n  }")
}
