package casefile

import (
	"springwright/design/effect"
	"springwright/design/tooth"
)

// argumentJSON is what is argued about a straight wire beside the spring, in the order of its keys.
type argumentJSON struct {
	NextTooth    tooth.Number   `json:"next_tooth,omitempty"`
	Unsolved     int            `json:"unsolved"`
	Spring       []arguedJSON   `json:"spring"`
	Wire         []straightJSON `json:"wire"`
	AtEqualForce []straightJSON `json:"at_equal_force"`
	Sayings      []heardJSON    `json:"sayings"`
}

type arguedJSON struct {
	TravelLeftMM    figure  `json:"travel_left_mm"`
	ForceN          figure  `json:"force_n"`
	ActiveCoupleNMM figure  `json:"active_couple_nmm"`
	ActiveMomentNMM figure  `json:"active_moment_nmm"`
	AnchorForceN    figure  `json:"anchor_force_n"`
	AnchorCoupleNMM figure  `json:"anchor_couple_nmm"`
	AnchorMomentNMM figure  `json:"anchor_moment_nmm"`
	PerNewtonMM     *figure `json:"anchor_couple_per_force_mm,omitempty"`
}

type straightJSON struct {
	Data    string `json:"data"`
	GoesOn  bool   `json:"goes_on"`
	LetBack bool   `json:"let_back"`
	arguedJSON
	NextForceN  figure `json:"next_force_n"`
	StressRatio figure `json:"stress_ratio"`
}

type heardJSON struct {
	Saying     string  `json:"saying"`
	FromMM     figure  `json:"from_mm"`
	ToMM       figure  `json:"to_mm"`
	Holds      int     `json:"holds"`
	Of         int     `json:"of"`
	Only       string  `json:"only,omitempty"`
	LeastTimes *figure `json:"least_times,omitempty"`
	MostTimes  *figure `json:"most_times,omitempty"`
}

func (w *recordWriter) argument(a *effect.Argument) *argumentJSON {
	if a == nil {
		return nil
	}
	out := argumentJSON{NextTooth: a.Next, Unsolved: a.Unsolved, Spring: []arguedJSON{}, Wire: []straightJSON{}, AtEqualForce: []straightJSON{}, Sayings: []heardJSON{}}
	for _, p := range a.Loop {
		out.Spring = append(out.Spring, w.argued(p.TravelLeftMM, p.Loads))
	}
	straight := func(f effect.StraightFigure) straightJSON {
		return straightJSON{f.State.Data.String(), f.State.Next > 0, f.State.LetBack, w.argued(f.TravelLeftMM, f.Loads), w.number("next_force_n", f.Loads.NextForceN), w.number("stress_ratio", f.StressRatio)}
	}
	for _, f := range a.Wires {
		out.Wire = append(out.Wire, straight(f))
	}
	for _, f := range a.AtEqualForce {
		out.AtEqualForce = append(out.AtEqualForce, straight(f))
	}
	for _, h := range a.Heard {
		heard := heardJSON{Saying: h.Saying.String(), FromMM: w.number("from_mm", h.FromMM), ToMM: w.number("to_mm", h.ToMM), Holds: h.Holds, Of: h.Of, Only: h.Only.String()}
		if h.Compares() {
			least, most := w.number("least_times", h.Least), w.number("most_times", h.Most)
			heard.LeastTimes, heard.MostTimes = &least, &most
		}
		out.Sayings = append(out.Sayings, heard)
	}
	return &out
}

func (w *recordWriter) argued(leftMM float64, l effect.ArguedLoads) arguedJSON {
	out := arguedJSON{
		TravelLeftMM: w.number("travel_left_mm", leftMM),
		ForceN:       w.number("force_n", l.ForceN), ActiveCoupleNMM: w.number("active_couple_nmm", l.ActiveCoupleNMM), ActiveMomentNMM: w.number("active_moment_nmm", l.ActiveMomentNMM),
		AnchorForceN: w.number("anchor_force_n", l.AnchorForceN), AnchorCoupleNMM: w.number("anchor_couple_nmm", l.AnchorCoupleNMM), AnchorMomentNMM: w.number("anchor_moment_nmm", l.AnchorMomentNMM),
	}
	if perN, ok := l.AnchorCouplePerForceMM(); ok {
		v := w.number("anchor_couple_per_force_mm", perN)
		out.PerNewtonMM = &v
	}
	return out
}
