package desk

import (
	"errors"
	"fmt"
	"math"
	"net/http"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/export/bend"
	"springwright/export/words"
)

type liveRequest struct {
	Text   string    `json:"text"`
	Spring string    `json:"spring"` // as a spring file
	Values []float64 `json:"values"` // mm and degrees for every step of its path; nil: as the file says
	Here   int       `json:"here"`   // position of the travel that is drawn
	Lang   string    `json:"lang"`
}

type liveAnswer struct {
	Spring     string        `json:"spring"`
	Values     []float64     `json:"values"`
	Handles    []handle      `json:"handles"`
	Mouth      drawing       `json:"mouth"`
	Passive    [][2]float64  `json:"passive"`
	Seated     [][2]float64  `json:"seated"`
	Arrows     []arrow       `json:"arrows"`
	Charts     []chart       `json:"charts"`
	Verdicts   []verdictText `json:"verdicts"`
	Headline   string        `json:"headline"`
	Met        bool          `json:"met"`
	State      string        `json:"state"`
	Note       string        `json:"note"` // what nobody has checked of it
	Positions  int           `json:"positions"`
	Left       float64       `json:"left"`
	TravelText string        `json:"travelText"`
}

// handle is a number of the path that can be dragged or typed.
type handle struct {
	Index int         `json:"index"`
	Label string      `json:"label"`
	Way   string      `json:"way"`
	Unit  string      `json:"unit"`
	Text  string      `json:"text"`
	Value float64     `json:"value"`
	Min   float64     `json:"min"`
	Max   float64     `json:"max"`
	Step  float64     `json:"step"`
	Flip  float64     `json:"flip"` // of the path's number: it is shown above 0
	Angle bool        `json:"angle"`
	At    *[2]float64 `json:"at"`    // nil: it is not seen from the cheek
	About [2]float64  `json:"about"` // what an angle turns about
	Along [2]float64  `json:"along"` // which way a length grows
	Sense float64     `json:"sense"` // of the value where the page turns to the left
}

// arrow is a force or a couple: a line and its head.
type arrow struct {
	Points [][2]float64 `json:"points"`
	Head   [][2]float64 `json:"head"`
	Text   string       `json:"text"`
	At     [2]float64   `json:"at"` // of its text
}

// chart is a load over the travel. Key names it where reportAnswer has more to draw beside it, in
// the axes of the mechanics; Sign turns that into the sense of the chart's label.
type chart struct {
	Key    string       `json:"key"`
	Sign   float64      `json:"sign"`
	Label  string       `json:"label"`
	Unit   string       `json:"unit"`
	Text   string       `json:"text"`
	Travel []float64    `json:"travel"`
	Values []float64    `json:"values"`
	Band   *[2]*float64 `json:"band"`
}

type verdictText struct {
	Text string `json:"text"`
	Met  bool   `json:"met"`
}

// changed is the path of a spring with new values, mm and degrees, one for each step.
func changed(p spring.Path, values []float64) (spring.Path, error) {
	if values == nil {
		return p, nil
	}
	steps := p.Steps()
	if len(values) != len(steps) {
		return p, fmt.Errorf("%d values for %d steps of the path", len(values), len(steps))
	}
	for i, v := range values {
		const leastLegMM, leastTurnDeg = 0.05, 0.01 // a step of nothing would be none, and the numbers move up
		switch {
		case math.IsNaN(v) || math.IsInf(v, 0):
			return p, errors.New("a value is not finite")
		case steps[i].Kind == spring.Straight:
			steps[i].LengthMM = max(v, leastLegMM)
		case math.Abs(v) < leastTurnDeg:
			steps[i].AngleRad = math.Copysign(leastTurnDeg, v) * math.Pi / 180
		default:
			steps[i].AngleRad = v * math.Pi / 180
		}
	}
	return spring.PathOf(steps...), nil
}

// judge says how the loads stand to the target.
func (out *liveAnswer) judge(b *words.Book, c design.Case, e solve.Evaluation, yields bool) {
	missed := 0
	for _, v := range c.Verdicts(e.Record) {
		name, value, limit := b.Verdict(c, v)
		out.Verdicts = append(out.Verdicts, verdictText{words.Capital(b.Say("%s %s (limit %s).", name, value, limit)), v.Met})
		if !v.Met {
			missed++
		}
	}
	switch {
	case yields:
		out.Headline, out.State = b.Say("The wire yields: no loads can be told."), b.Say("yields")
	case missed > 0:
		out.Headline, out.State = b.Say("NOT MET: %d of %d windows of the target are missed.", missed, len(out.Verdicts)), b.Say("NOT MET")
	default:
		out.Met = true
		out.Headline, out.State = b.Say("Every window of the target is met as drawn."), b.Say("met")
	}
}

func (a *api) live(w http.ResponseWriter, r *http.Request) {
	q, ok := request[liveRequest](w, r)
	if !ok {
		return
	}
	c, err := a.caseOf(q.Text)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	s, err := casefile.ReadSpring("", []byte(q.Spring))
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	path, err := changed(s.Path, q.Values)
	if err != nil {
		refuse(w, http.StatusBadRequest, err, "")
		return
	}
	made := c.SeatedSpring(path)
	e, err := solve.Evaluate(r.Context(), made, solve.Options{})
	if err != nil && !errors.Is(err, solve.ErrYield) {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	b := book(q.Lang)
	here := min(max(q.Here, 0), len(e.Record.Positions)-1)
	out := liveAnswer{Spring: q.Spring, Positions: len(e.Record.Positions), Left: e.Record.Positions[here].TravelLeftMM}
	if q.Values != nil { // else it stays as its file has it, with what that says of it
		out.Spring = string(casefile.WriteSpring(made))
	}
	for _, step := range path.Steps() {
		if step.Kind == spring.Straight {
			out.Values = append(out.Values, rounded(step.LengthMM, 3))
		} else {
			out.Values = append(out.Values, rounded(step.AngleRad*180/math.Pi, 3))
		}
	}
	see := seen{bend.ViewOf(c.Teeth)}
	out.Handles = handles(b, c, path, e, see)
	at := placementAt(c, made, e.Record.Positions[here])
	out.Mouth = planOf(c).draw(b, at, false)
	out.Passive, out.Seated = see.wire(e.Passive), see.wire(shapeAt(r.Context(), made, e, here))
	out.Mouth.cover(out.Passive, out.Seated)
	out.Arrows = arrows(b, c, e.Record.Positions[here], at, see)
	for _, one := range out.Arrows {
		out.Mouth.cover(one.Points, [][2]float64{one.At})
	}
	out.Charts = charts(b, c, e)
	out.TravelText = b.Say("%s mm of the travel left", b.Number(out.Left, 1))
	out.judge(b, c, e, err != nil)
	if a.found.of(q.Text, out.Spring) == nil {
		out.Note = b.Say("Not as a search has left it: whether it keeps to the room in the mouth is not checked. Look at the dashed lines, or search again.")
	}
	answer(w, http.StatusOK, out)
}

func rounded(v float64, digits int) float64 {
	p := math.Pow10(digits)
	return math.Round(v*p) / p
}
