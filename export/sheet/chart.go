package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/words"
)

// Series is a curve of a chart.
type Series struct {
	Label  string
	Dashed bool
	DashMM float64       // of a dashed curve: length of dashes and gaps; 0: 2 mm and 1 mm
	Plain  bool          // without dots at its points
	Marks  bool          // dots alone, larger, without a curve
	Thin   bool          // a limit of another curve: a thin line without a label
	Points []plane.Point // in the units of the axes
}

// Chart is a small line chart with curves labelled directly.
type Chart struct {
	Title     string
	XTitle    string
	YTitle    string
	XReversed bool // the largest x on the left
	Series    []Series
	ToX       []float64 // x that the axis reaches beside those of the curves
	Bands     []Band
	LabelMM   float64 // room for the labels at the right; 0: 14 mm
	// LabelsLeft puts the labels to the left of the chart and the numbers of y to the right.
	LabelsLeft bool
}

// Draw draws the chart into box.
func (c Chart) Draw(p *Page, box plane.Box) {
	p.Figure(c.alt(p.document.Words), func() { c.draw(p, box) })
}

// In one piece: one drawing, from the back to the front.
func (c Chart) draw(p *Page, box plane.Box) {
	small, head := Style{SizePt: SmallPt}, Style{SizePt: BodyPt, Bold: true}
	p.Text(plane.Point{X: box.Min.X, Y: box.Max.Y - head.CapMM()}, c.Title, head)
	labelMM := c.LabelMM
	if labelMM == 0 {
		labelMM = 14
	}
	frame := plane.Box{
		Min: plane.Point{X: box.Min.X + 12, Y: box.Min.Y + 7.5},
		Max: plane.Point{X: box.Max.X - labelMM - 1, Y: box.Max.Y - 5.5},
	}
	if c.LabelsLeft {
		frame.Min.X, frame.Max.X = box.Min.X+labelMM+1, box.Max.X-12
	}
	values, xStep, yStep := c.reach()
	at := func(q plane.Point) plane.Point {
		f := (q.X - values.Min.X) / values.Width()
		if c.XReversed {
			f = 1 - f
		}
		return plane.Point{X: frame.Min.X + f*frame.Width(), Y: frame.Min.Y + (q.Y-values.Min.Y)/values.Height()*frame.Height()}
	}

	for _, band := range c.Bands {
		band.draw(p, values, at)
	}
	decimals := decimalsFor(yStep)
	for k := math.Round(values.Min.Y / yStep); k*yStep <= values.Max.Y+yStep/1000; k++ {
		tick := at(plane.Point{X: values.Min.X, Y: k * yStep})
		if c.XReversed {
			tick.X = frame.Min.X
		}
		pen := Construction
		if k == 0 {
			pen = Mark
		}
		p.Line(pen, plane.Point{X: frame.Min.X, Y: tick.Y}, plane.Point{X: frame.Max.X, Y: tick.Y})
		label, x := small, frame.Min.X-1
		label.Align = Right
		if c.LabelsLeft {
			label.Align, x = Left, frame.Max.X+1
		}
		p.Text(plane.Point{X: x, Y: tick.Y - small.CapMM()/2}, p.document.Words.Number(k*yStep, decimals), label)
	}
	for k := math.Ceil(values.Min.X/xStep - 1e-9); k*xStep <= values.Max.X+xStep/1000; k++ {
		x := at(plane.Point{X: k * xStep, Y: 0}).X
		p.Line(Mark, plane.Point{X: x, Y: frame.Min.Y}, plane.Point{X: x, Y: frame.Min.Y - 1})
		label := small
		label.Align = Centre
		p.Text(plane.Point{X: x, Y: frame.Min.Y - 1.6 - small.CapMM()}, p.document.Words.Number(k*xStep, decimalsFor(xStep)), label)
	}
	p.Rectangle(Mark, frame)
	axis := small
	axis.Align = Centre
	p.Text(plane.Point{X: frame.Centre().X, Y: box.Min.Y + 0.8}, c.XTitle, axis)
	axis.Upright = true
	x := box.Min.X + small.CapMM()
	if c.LabelsLeft {
		x = box.Max.X - small.DescentMM()
	}
	p.Text(plane.Point{X: x, Y: frame.Centre().Y}, c.YTitle, axis)

	c.curves(p, frame, at, small)
}

// reach is what the axes cover, and how far apart their ticks are.
func (c Chart) reach() (values plane.Box, xStep, yStep float64) {
	values = plane.Empty()
	for _, s := range c.Series {
		for _, q := range s.Points {
			values = values.Cover(q)
		}
	}
	drawn := c.coverEnds(values)
	for _, x := range c.ToX {
		values = values.Cover(plane.Point{X: x})
	}
	values = values.Cover(plane.Point{X: values.Min.X, Y: 0})
	values = c.coverBands(values)
	xStep = tickStep(values.Width(), 6)
	yStep = tickStep(values.Height(), 6)
	const hair = 1e-9 // of a step
	values.Min.Y = math.Floor(values.Min.Y/yStep+hair) * yStep
	values.Max.Y = math.Ceil(values.Max.Y/yStep-hair) * yStep
	// On the frame a curve would hide, and a band look open.
	if drawn.Min.Y <= values.Min.Y+hair*yStep {
		values.Min.Y -= yStep
	}
	if drawn.Max.Y >= values.Max.Y-hair*yStep {
		values.Max.Y += yStep
	}
	if values.Width() <= 0 {
		values.Max.X = values.Min.X + 1
	}
	return values, xStep, yStep
}

// alt tells the chart in words: its titles, and where each curve starts and ends.
func (c Chart) alt(book *words.Book) string {
	number := func(v float64) string { return book.Figures(v, 3) }
	text := c.Title + ". " + c.XTitle + ". " + c.YTitle + "."
	for _, s := range c.Series {
		if n := len(s.Points); n > 0 && !s.Thin {
			a, b := s.Points[0], s.Points[n-1]
			text += fmt.Sprintf(" %s: %s (%s) … %s (%s).", s.Label, number(a.Y), number(a.X), number(b.Y), number(b.X))
		}
	}
	return text
}

const markMM = 0.9 // radius of a dot that stands for itself

// curves draws the curves, and their labels beside the frame where they end.
func (c Chart) curves(p *Page, frame plane.Box, at func(plane.Point) plane.Point, s Style) {
	type tag struct {
		text string
		y    float64
	}
	var tags []tag
	for _, series := range c.Series {
		var line []plane.Point
		for _, q := range series.Points {
			line = append(line, at(q))
		}
		if series.Thin {
			p.Polyline(Centreline, line)
			continue
		}
		if series.Marks {
			for _, q := range line {
				p.Dot(q, markMM)
			}
		} else if series.Dashed {
			on, off := series.DashMM, series.DashMM
			if series.DashMM == 0 {
				on, off = 2, 1
			}
			p.Dashed(Curve, line, on, off)
		} else {
			p.Polyline(Curve, line)
		}
		for _, q := range line {
			if !series.Plain && !series.Marks {
				p.Dot(q, 0.5)
			}
		}
		if len(line) > 0 {
			end := line[0]
			for _, q := range line {
				if q.X > end.X != c.LabelsLeft && q.X != end.X {
					end = q
				}
			}
			tags = append(tags, tag{series.Label, end.Y})
		}
	}
	slices.SortStableFunc(tags, func(a, b tag) int { return cmp.Compare(a.y, b.y) })
	var wanted, sizes []float64
	for _, t := range tags {
		wanted = append(wanted, t.y)
		sizes = append(sizes, s.LineMM())
	}
	for i, y := range label.Spread(wanted, sizes, frame.Min.Y, frame.Max.Y) {
		at := plane.Point{X: frame.Max.X + 1, Y: y - s.CapMM()/2}
		if c.LabelsLeft {
			s.Align, at.X = Right, frame.Min.X-1
		}
		p.Text(at, tags[i].text, s)
	}
}

// tickStep returns 1, 2 or 5 times a power of ten: at most count steps cover span.
func tickStep(span float64, count int) float64 {
	if !(span > 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(span/float64(count))))
	for _, m := range [...]float64{1, 2, 5, 10} {
		if m*power*float64(count) >= span*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// decimalsFor is how many decimals a tick of that step needs.
func decimalsFor(step float64) int {
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}
