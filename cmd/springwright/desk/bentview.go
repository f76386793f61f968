package desk

import (
	"springwright/design/bent"
	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/bend"
	"springwright/export/words"
)

// bentView is a wire as it came out, or as corrections make it, over the wire as drawn, with its loads.
type bentView struct {
	Label  string            `json:"label"`
	Text   string            `json:"text"` // of the drawing
	Box    [4]float64        `json:"box"`
	Drawn  [][2]float64      `json:"drawn"`
	Wire   [][2]float64      `json:"wire"`
	Marks  []lettered        `json:"marks"` // what is to be corrected
	Charts []chart           `json:"charts"`
	Bands  map[string]beside `json:"bands"` // by the key of a chart
}

// viewsOf are the spring as bent and after each correction.
func viewsOf(b *words.Book, a *adjusted) []bentView {
	r := a.report
	var first []bent.Correction // of the best correction, or of the best two where no single one is worth making
	if ways := r.Ways(); len(ways) > 0 {
		first = ways[0].Corrections
	}
	views := []bentView{viewOf(b, a, b.Say("as bent"), r.AsBent, r.AsBent.Spring.Path, first)}
	if r.One != nil {
		views = append(views, viewOf(b, a, b.Say("after the best correction"), r.One.Outcome, r.One.Spring.Path, r.One.Corrections))
	}
	if r.Two != nil {
		views = append(views, viewOf(b, a, b.Say("after the best two corrections"), r.Two.Outcome, r.Two.Spring.Path, r.Two.Corrections))
	}
	return views
}

func viewOf(b *words.Book, a *adjusted, label string, o bent.Outcome, path spring.Path, marked []bent.Correction) bentView {
	see := seen{bend.ViewOf(a.drawn.Teeth)}
	v := bentView{Label: label, Marks: []lettered{}, Charts: []chart{}, Bands: map[string]beside{}}
	v.Text = b.Say("The wire %s, black, over the wire as drawn, grey, both free; ringed is what to correct", label)
	lines := linesOf(a.drawn.Path, see)
	v.Drawn, v.Wire = joinedLines(lines), joinedLines(linesOf(path, see))
	came := linesOf(a.report.AsBent.Spring.Path, see)
	numbers := a.drawn.Path.BendNumbers()
	straights := map[int]int{}
	for i, n := range numbers {
		if n == 0 {
			straights[i] = len(straights)
		}
	}
	for _, c := range marked {
		if c.Step >= len(came) {
			continue
		}
		line := came[c.Step]
		at := line[len(line)/2]
		name := b.Number(float64(numbers[c.Step]), 0)
		if c.Fresh || c.Seat {
			at = [2]float64{(line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2}
			name = letterOf(straights[c.Step])
		}
		v.Marks = append(v.Marks, lettered{name, at})
	}
	d := drawing{Shapes: []shape{{Points: v.Drawn}, {Points: v.Wire}}}
	v.Box = boxOf(d, 2.2)
	if o.NoRest != nil || len(o.Evaluation.Record.Positions) == 0 {
		return v
	}
	v.Charts = charts(b, a.c, o.Evaluation)
	band := func(anchor bool, bands [][tooth.Components]spring.Band) {
		for k := range tooth.Components {
			var one beside
			for _, at := range bands {
				one.Low, one.High = append(one.Low, rounded(at[k].Low, 4)), append(one.High, rounded(at[k].High, 4))
			}
			v.Bands[chartKey(anchor, k)] = one
		}
	}
	band(false, o.Trial.Active)
	band(true, o.Trial.Anchor)
	return v
}

// joinedLines are steps as one line.
func joinedLines(lines [][][2]float64) [][2]float64 {
	var all [][2]float64
	for i, line := range lines {
		if i > 0 {
			line = line[1:]
		}
		all = append(all, line...)
	}
	return all
}
