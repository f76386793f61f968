package desk

import (
	"errors"
	"math"
	"net/http"
	"strings"

	"springwright/design"
	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/fault"
	"springwright/design/photo"
	"springwright/design/quantity"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/export/words"
	"springwright/optimize/asbent"

	"gonum.org/v1/gonum/spatial/r3"
)

type bentRequest struct {
	Text   string `json:"text"`
	Spring string `json:"spring"`
	Lang   string `json:"lang"`
}

// bentForm is what can be measured of a spring, and where it is on the wire.
type bentForm struct {
	Label string      `json:"label"`
	Box   [4]float64  `json:"box"`
	Ends  []lettered  `json:"ends"`
	Steps []bentStep  `json:"steps"`
	Free  []bentField `json:"free"` // the free end
	Gauge string      `json:"gauge"`
	Off   []bentField `json:"off"` // what readings are off by
	// NoPicture is why a picture tells nothing of this spring, and what to do; "" where it does.
	NoPicture string `json:"noPicture"`
}

// bentStep is a bend, twist or straight of the wire.
type bentStep struct {
	Key    string       `json:"key"`
	Letter string       `json:"letter"` // its number, or the letter of a straight
	Label  string       `json:"label"`
	Unit   string       `json:"unit"`
	Drawn  string       `json:"drawn"`
	Points [][2]float64 `json:"points"`
	At     [2]float64   `json:"at"` // of its letter
}

// bentField is another number that can be measured. Of several keys one is written, by which way it goes.
type bentField struct {
	Label string   `json:"label"`
	Keys  []choice `json:"keys"`
	Unit  string   `json:"unit"`
	Usual string   `json:"usual"`
}

// madeFor reads a spring and the case that it is for, as the command "adjust" takes them.
func (a *api) madeFor(text, springText string) (design.Case, spring.Spring, error) {
	c, err := a.cases.get(text)
	if err != nil {
		return c, spring.Spring{}, err
	}
	made, err := casefile.ReadSpring("", []byte(springText))
	if err != nil {
		return c, made, err
	}
	if misfits := c.Misfits(made); len(misfits) > 0 {
		return c, made, fault.List{{Text: "this is no spring for the case: its " + strings.Join(misfits, "; "), Hint: "search again"}}
	}
	made.Teeth = c.Teeth
	return asbent.CaseFor(c, made), made, nil
}

func (a *api) bent(w http.ResponseWriter, r *http.Request) {
	q, ok := request[bentRequest](w, r)
	if !ok {
		return
	}
	_, made, err := a.madeFor(q.Text, q.Spring)
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	drawn, err := solve.Evaluate(r.Context(), made, solve.Options{AllowYield: true})
	if err != nil && !errors.Is(err, solve.ErrYield) {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	b := book(q.Lang)
	out := bentForm{Label: b.Say("The spring as drawn, seen from the cheek, free")}
	_, err = photo.ExpectOf(made)
	if refused, ok := errors.AsType[*photo.PictureError](err); ok {
		text, hint := b.PictureRefusal(refused)
		out.NoPicture = words.Capital(text) + ". " + words.Capital(hint) + "."
	}
	if out.Gauge = b.GaugeReading(made, drawn.Gauge); out.Gauge != "" {
		out.Gauge = words.Capital(out.Gauge) + "."
	}
	out.place(b, made)
	active := made.Teeth.ActiveMember()
	way := func(k tooth.Component, sign float64, key string) choice {
		return choice{key, b.Way(active, k, sign)}
	}
	mesial, outward := made.Teeth.MesialSign(), made.Teeth.BuccalSign()
	out.Free = []bentField{
		{b.Say("up or down"), []choice{way(tooth.ForceZ, 1, "end_apical_mm"), way(tooth.ForceZ, -1, "end_occlusal_mm")}, "mm", ""},
		{b.Say("along the arch"), []choice{way(tooth.ForceX, mesial, "end_mesial_mm"), way(tooth.ForceX, -mesial, "end_distal_mm")}, "mm", ""},
		{b.Say("in or out"), []choice{
			way(tooth.ForceY, outward, "end_"+made.Teeth.Active.OutwardWord()+"_mm"), way(tooth.ForceY, -outward, "end_"+made.Teeth.Active.InwardWord()+"_mm"),
		}, "mm", ""},
		{b.Say("turned, seen from the cheek"), []choice{{"end_anticlockwise_deg", b.Say("anticlockwise")}, {"end_clockwise_deg", b.Say("clockwise")}}, "°", ""},
	}
	out.Off = []bentField{
		{b.Say("angles, one standard deviation"), []choice{{"angle_sd_deg", ""}}, "°", b.Number(casefile.UsualAngleSDDeg, 1)},
		{b.Say("lengths, one standard deviation"), []choice{{"length_sd_mm", ""}}, "mm", b.Number(casefile.UsualLengthSDMM, 1)},
	}
	answer(w, http.StatusOK, out)
}

// place lays out the wire, its steps and their letters.
func (f *bentForm) place(b *words.Book, made spring.Spring) {
	see := seen{bend.ViewOf(made.Teeth)}
	steps, numbers, names, keys := made.Path.Steps(), made.Path.BendNumbers(), b.StepNames(made), casefile.StepKeys(made.Path)
	lines := linesOf(made.Path, see)
	all := drawing{}
	for _, line := range lines {
		all.Shapes = append(all.Shapes, shape{Points: line})
	}
	straights := 0
	var taken [][2]float64
	for i, s := range steps {
		one := bentStep{Key: keys[i], Label: names[i], Unit: "°", Points: lines[i], Letter: b.Number(float64(numbers[i]), 0)}
		if s.Kind == spring.Straight {
			one.Letter, one.Label = letterOf(straights), b.Say("straight %s", names[i])
			straights++
			one.Unit, one.Drawn = "mm", b.Number(s.LengthMM, 2)
		} else {
			one.Drawn = b.Number(quantity.Degree.Outside(math.Abs(s.AngleRad)), 1)
		}
		one.At = besideLine(lines, i, taken)
		taken = append(taken, one.At)
		f.Steps = append(f.Steps, one)
	}
	first, last := lines[0][0], lines[len(lines)-1][len(lines[len(lines)-1])-1]
	f.Ends = []lettered{{"A", beyondEnd(lines[0][min(1, len(lines[0])-1)], first)}, {"E", beyondEnd(lines[len(lines)-1][0], last)}}
	f.Box = boxOf(all, 1)
	cover := drawing{Box: f.Box}
	cover.cover(append(taken, f.Ends[0].At, f.Ends[1].At))
	f.Box = cover.Box
}

// letterOf is the letter of a straight: a to z, then a2 and so on.
func letterOf(i int) string {
	letter := string(rune('a' + i%26))
	if i >= 26 {
		letter += string(rune('1' + i/26))
	}
	return letter
}

// linesOf are the steps of a path as seen, each with both of its ends.
func linesOf(path spring.Path, see seen) [][][2]float64 {
	const piecesOfBend = 12
	var lines [][][2]float64
	pose := beam.Origin()
	for _, piece := range path.Pieces() {
		n := 1
		if r3.Norm(piece.Curvature) > 0 {
			n = piecesOfBend
		}
		line := [][2]float64{see.point(pose.At)}
		for range n {
			pose = pose.Advance(piece.Curvature, piece.LengthMM/float64(n))
			line = append(line, see.point(pose.At))
		}
		lines = append(lines, line)
	}
	return lines
}

// besideLine is a place for the letter of a step: off the wire and off other letters.
func besideLine(lines [][][2]float64, step int, taken [][2]float64) [2]float64 {
	line := lines[step]
	at, from, to := line[len(line)/2], line[max(len(line)/2-1, 0)], line[min(len(line)/2+1, len(line)-1)]
	if len(line) == 2 {
		at = [2]float64{(line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2}
		from, to = line[0], line[1]
	}
	along := math.Atan2(to[1]-from[1], to[0]-from[0])
	best, room := at, -1.0
	for _, reach := range [...]float64{1.5, 2.1, 2.8} {
		for _, turn := range [...]float64{90, -90, 60, -60, 120, -120} {
			sin, cos := math.Sincos(along + turn*math.Pi/180)
			p := [2]float64{rounded(at[0]+reach*cos, 2), rounded(at[1]+reach*sin, 2)}
			near := math.Inf(1)
			for _, other := range lines {
				for i := 1; i < len(other); i++ {
					near = min(near, toSegment(p, other[i-1], other[i]))
				}
			}
			for _, t := range taken {
				near = min(near, math.Hypot(t[0]-p[0], t[1]-p[1])/2)
			}
			const enough, nearer = 1.15, 0.05 // a letter's circle is about 1 mm wide; each step away costs a little (choices)
			if worth := min(near, enough) - nearer*reach; worth > room {
				best, room = p, worth
			}
		}
	}
	return best
}

// toSegment is how far a point is from a segment.
func toSegment(p, a, b [2]float64) float64 {
	x, y := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if long := x*x + y*y; long > 0 {
		t = min(1, max(0, ((p[0]-a[0])*x+(p[1]-a[1])*y)/long))
	}
	return math.Hypot(p[0]-a[0]-t*x, p[1]-a[1]-t*y)
}

// beyondEnd is a place for a letter behind the end of a wire.
func beyondEnd(from, end [2]float64) [2]float64 {
	x, y := end[0]-from[0], end[1]-from[1]
	long := max(math.Hypot(x, y), 1e-6)
	const awayMM = 1.2
	return [2]float64{rounded(end[0]+awayMM*x/long, 2), rounded(end[1]+awayMM*y/long, 2)}
}
