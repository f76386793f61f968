package photo

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// camera is where points of the card are in the picture: a perspective behind a lens that
// moves points along rays from the picture's middle (Brown, Photogrammetric Engineering
// 1966;32:444, first term).
type camera struct {
	middle  r2.Vec  // of the picture
	radius  float64 // from there to a corner, px
	lens    float64 // share by which a point at a corner is to be moved outwards
	toCard  homography
	toPlane homography // its inverse

	bleedMM float64 // by which print and light let black grow, each edge
	blurMM  float64 // standard deviation of the blur at the marks
	errMM   float64 // standard deviation of an edge's point
	tone    float64 // exponent that makes light of brightness
}

// card is the point of the card that is seen at p.
func (c *camera) card(p r2.Vec) r2.Vec {
	u := r2.Scale(1/c.radius, r2.Sub(p, c.middle))
	u = r2.Scale(1+c.lens*r2.Norm2(u), u)
	return c.toCard.apply(u)
}

// picture is where a point of the card is seen.
func (c *camera) picture(q r2.Vec) r2.Vec {
	u := c.toPlane.apply(q)
	v := u
	for range 4 { // each step leaves a share 2·lens·|u|² of the error
		v = r2.Scale(1/(1+c.lens*r2.Norm2(v)), u)
	}
	return r2.Add(c.middle, r2.Scale(c.radius, v))
}

// pxPerMM is the least that a millimetre at q of the card takes in the picture.
func (c *camera) pxPerMM(q r2.Vec) float64 {
	const d = 0.5
	x := r2.Sub(c.picture(r2.Add(q, r2.Vec{X: d})), c.picture(r2.Sub(q, r2.Vec{X: d})))
	y := r2.Sub(c.picture(r2.Add(q, r2.Vec{Y: d})), c.picture(r2.Sub(q, r2.Vec{Y: d})))
	// Singular values of the map's derivative.
	a, b := r2.Norm2(x)+r2.Norm2(y), r2.Cross(x, y)
	return math.Sqrt(math.Max(0, (a-math.Sqrt(math.Max(0, a*a-4*b*b)))/2)) / (2 * d)
}

func (c *camera) set(params []float64) {
	copy(c.toCard[:8], params)
	c.toCard[8] = 1
	c.lens, c.bleedMM = params[8], params[9]
}

// ruler is a straight edge or line of the card along which it is measured.
type ruler struct {
	from, to r2.Vec
	normal   r2.Vec // of an edge: away from the black
	line     bool   // a line, else an edge
}

// rulers are the sides of all marks and the lines round the field.
func rulers() []ruler {
	var all []ruler
	for _, m := range Marks() {
		corners := m.Corners()
		for i, a := range corners {
			b := corners[(i+1)%4]
			along := r2.Unit(r2.Sub(b, a))
			all = append(all, ruler{from: a, to: b, normal: r2.Vec{X: along.Y, Y: -along.X}})
		}
	}
	for _, l := range FrameLines() {
		along := r2.Unit(r2.Sub(l[1], l[0]))
		all = append(all, ruler{from: l[0], to: l[1], normal: r2.Vec{X: along.Y, Y: -along.X}, line: true})
	}
	return all
}

// reading is a point where the picture shows a ruler.
type reading struct {
	ruler *ruler
	share float64 // of the way along the ruler
	at    r2.Vec  // px
}

const (
	edgeReachMM = 0.44 // how far beside an edge is looked; half the way to a dot and more
	lineReachMM = 0.9
	rulerStepMM = 0.02
)

// cameraOf finds how the card is seen, from its marks.
func cameraOf(g *grey, marks [4]seenMark) (*camera, error) {
	c := &camera{
		middle: r2.Vec{X: float64(g.width) / 2, Y: float64(g.height) / 2},
		radius: math.Hypot(float64(g.width), float64(g.height)) / 2,
	}
	plane := func(p r2.Vec) r2.Vec { return r2.Scale(1/c.radius, r2.Sub(p, c.middle)) }
	var from, to []r2.Vec
	for i, m := range Marks() {
		from, to = append(from, plane(marks[i].centre())), append(to, m.Centre())
	}
	coarse, err := homographyOf(from, to)
	if err != nil {
		return nil, &PictureError{Reason: MarkMissing, Detail: "the four marks do not stand as on one card"}
	}
	for i, m := range Marks() {
		for _, corner := range marks[i].corners {
			corner = plane(corner)
			from, to = append(from, corner), append(to, nearest(coarse.apply(corner), m.Corners()))
		}
	}
	if c.toCard, err = homographyOf(from, to); err != nil {
		return nil, &PictureError{Reason: MarkMissing, Detail: "the four marks do not stand as on one card"}
	}
	for i, p := range from {
		if r2.Norm(r2.Sub(c.toCard.apply(p), to[i])) > 1.5 { // a fifth of a mark
			return nil, &PictureError{Reason: MarkMissing, Detail: "the four marks do not stand as on one card"}
		}
	}
	c.toPlane = c.toCard.inverse()
	if err := c.seeable(g); err != nil {
		return nil, err
	}
	return c, c.refine(g)
}

func nearest(p r2.Vec, of [4]r2.Vec) r2.Vec {
	return slices.MinFunc(of[:], func(a, b r2.Vec) int {
		if r2.Norm2(r2.Sub(a, p)) < r2.Norm2(r2.Sub(b, p)) {
			return -1
		}
		return 1
	})
}

const (
	leastPxPerMM  = 9.0 // a usual wire is then four pixels wide
	mostForeshort = 2.0 // how many times shorter one way may look than the other: 60° aside
)

// seeable refuses what is too small or too oblique to measure on.
func (c *camera) seeable(g *grey) error {
	least, most := math.Inf(1), 0.0
	for _, m := range Marks() {
		for _, q := range m.Corners() {
			p := c.picture(q)
			if !(p.X > 0 && p.Y > 0 && p.X < float64(g.width) && p.Y < float64(g.height)) {
				return &PictureError{Reason: MarkMissing, Marks: []int{m.Number}, Detail: "not whole in the picture: " + dotsText([]int{m.Number})}
			}
		}
		q := m.Centre()
		across := c.pxPerMM(q)
		area := math.Abs(r2.Cross(
			r2.Sub(c.picture(r2.Add(q, r2.Vec{X: 0.5})), c.picture(r2.Sub(q, r2.Vec{X: 0.5}))),
			r2.Sub(c.picture(r2.Add(q, r2.Vec{Y: 0.5})), c.picture(r2.Sub(q, r2.Vec{Y: 0.5})))))
		least, most = math.Min(least, across), math.Max(most, area/(across*across))
	}
	if !finite(least, most) || most > mostForeshort {
		return &PictureError{Reason: TooOblique}
	}
	if least < leastPxPerMM {
		return &PictureError{Reason: TooFar, Detail: fmt.Sprintf("%.1f pixels to the millimetre, so that it is %.0f long; at least %.0f and %.0f needed", least, math.Floor(least*CardWidthMM), leastPxPerMM, leastPxPerMM*CardWidthMM)}
	}
	return nil
}

// refine fits the camera to the edges of the marks and the lines round the field.
func (c *camera) refine(g *grey) error {
	all := rulers()
	var readings []reading
	var fit *solved
	sd := 1 / c.pxPerMM(r2.Vec{X: CardWidthMM / 2, Y: CardHeightMM / 2}) / 4 // a quarter of a pixel; scale of the cut only
	for round := range 3 {
		readings = readings[:0]
		var widths []float64
		for i := range all {
			r, w, wanted := c.read(g, &all[i])
			if len(r) < wanted*2/3 {
				if all[i].line || round > 0 { // marks that were found, but do not lie in a plane with the lines
					return &PictureError{Reason: PaperBent, Detail: "a line round the field is not where the marks let expect it, or it is covered"}
				}
				return &PictureError{Reason: MarkMissing, Detail: "an edge of a mark is covered or not sharp"}
			}
			readings, widths = append(readings, r...), append(widths, w...)
		}
		slices.Sort(widths)
		c.blurMM = widths[len(widths)/2]
		trial := *c
		p := problem{
			steps: []float64{1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-6, 1e-6, 1e-5, 1e-4},
			count: len(readings) + 1,
			residuals: func(params, out []float64) {
				trial.set(params)
				for i, r := range readings {
					out[i] = trial.offMM(r) / sd
				}
				out[len(readings)] = params[8] / 0.1 // a lens that moves corners by a tenth is none of a camera's (choice)
			},
		}
		var err error
		if fit, err = p.solve(append(append([]float64(nil), c.toCard[:8]...), c.lens, c.bleedMM), 3, 20); err != nil {
			return &PictureError{Reason: MarkMissing, Detail: "the marks' edges do not define how the card is seen"}
		}
		c.set(fit.params)
		c.toPlane = c.toCard.inverse()
	}
	c.toneOf(g)
	return c.straight(readings)
}

// offMM is how far from its ruler a reading is, across it.
func (c *camera) offMM(r reading) float64 {
	off := r2.Dot(r.ruler.normal, r2.Sub(c.card(r.at), r.ruler.from))
	if !r.ruler.line {
		off -= c.bleedMM
	}
	return off
}

// read finds a ruler in the picture, at places along it; blurMM are standard deviations of
// the blur across it.
func (c *camera) read(g *grey, r *ruler) (readings []reading, blurMM []float64, wanted int) {
	length := r2.Norm(r2.Sub(r.to, r.from))
	apart, clear := 0.25, 0.7 // clear of the corners
	if r.line {
		apart = 0.6
	}
	wanted = int((length - 2*clear) / apart)
	for i := range wanted {
		share := (clear + (float64(i)+0.5)*apart) / length
		q := r2.Add(r.from, r2.Scale(share, r2.Sub(r.to, r.from)))
		t, blur, ok := 0.0, 0.0, false
		if r.line {
			t, ok = c.lineAt(g, q, r.normal)
		} else {
			t, blur, ok = c.edgeAt(g, q, r.normal)
		}
		if !ok {
			continue
		}
		readings = append(readings, reading{r, share, c.picture(r2.Add(q, r2.Scale(t, r.normal)))})
		if !r.line {
			blurMM = append(blurMM, blur)
		}
	}
	return readings, blurMM, wanted
}

// profile is the brightness across a point of the card, from −reach to reach.
func (c *camera) profile(g *grey, q, normal r2.Vec, reachMM float64) ([]float64, bool) {
	n := 2*int(math.Round(reachMM/rulerStepMM)) + 1
	values := make([]float64, n)
	// Straight in the picture over so short a way.
	a, b := c.picture(r2.Sub(q, r2.Scale(reachMM, normal))), c.picture(r2.Add(q, r2.Scale(reachMM, normal)))
	for i := range values {
		v, ok := g.at(r2.Add(a, r2.Scale(float64(i)/float64(n-1), r2.Sub(b, a))))
		if !ok {
			return nil, false
		}
		values[i] = v
	}
	return values, true
}

const leastContrast = 25 // of 255 levels, between black and paper

// edgeAt finds an edge from black to paper: where the brightness is halfway.
func (c *camera) edgeAt(g *grey, q, normal r2.Vec) (tMM, blurMM float64, ok bool) {
	values, ok := c.profile(g, q, normal, edgeReachMM)
	if !ok {
		return 0, 0, false
	}
	n := len(values)
	dark, bright := mean(values[:n/6]), mean(values[n-n/6:])
	if bright-dark < leastContrast {
		return 0, 0, false
	}
	at := func(share float64) (float64, bool) { return crossingLevel(values, dark+share*(bright-dark)) }
	middle, ok := at(0.5)
	low, okLow := at(0.2)
	high, okHigh := at(0.8)
	if !ok || !okLow || !okHigh {
		return 0, 0, false
	}
	// 20 % and 80 % of a blurred edge are 1.683 standard deviations apart.
	return middle*rulerStepMM - edgeReachMM, (high - low) * rulerStepMM / 1.683, true
}

// lineAt finds the middle of a dark line: between where the brightness is halfway.
func (c *camera) lineAt(g *grey, q, normal r2.Vec) (tMM float64, ok bool) {
	values, ok := c.profile(g, q, normal, lineReachMM)
	if !ok {
		return 0, false
	}
	n := len(values)
	left, right := mean(values[:n/6]), mean(values[n-n/6:])
	darkest := 0
	for i, v := range values {
		if v < values[darkest] {
			darkest = i
		}
	}
	dark := values[darkest]
	if math.Min(left, right)-dark < leastContrast {
		return 0, false
	}
	down, okDown := crossingLevel(reversed(values[:darkest+1]), (dark+left)/2)
	up, okUp := crossingLevel(values[darkest:], (dark+right)/2)
	if !okDown || !okUp || (down+up)*rulerStepMM > 2*FrameMM+0.3 {
		return 0, false
	}
	return (float64(darkest)+(up-down)/2)*rulerStepMM - lineReachMM, true
}

// crossingLevel is the index, with a fraction, at which values first rise beyond a level.
func crossingLevel(values []float64, level float64) (float64, bool) {
	for i := 1; i < len(values); i++ {
		if values[i-1] <= level && values[i] > level {
			return float64(i-1) + (level-values[i-1])/(values[i]-values[i-1]), true
		}
	}
	return 0, false
}

func reversed(values []float64) []float64 {
	out := slices.Clone(values)
	slices.Reverse(out)
	return out
}

func mean(values []float64) float64 {
	var sum float64
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// mostBowMM is how far a line of the card may be from straight, as seen through the fitted
// camera: half of what lengths are wanted to (choice).
const mostBowMM = 0.05

// straight refuses a card whose lines are not straight behind the fitted lens, and takes the
// scatter of the readings.
func (c *camera) straight(readings []reading) error {
	type bin struct {
		sum float64
		n   int
	}
	const bins = 6 // of a line; sides of marks are one each
	off := map[*ruler]*[bins]bin{}
	var scatter float64
	for _, r := range readings {
		b := off[r.ruler]
		if b == nil {
			b = new([bins]bin)
			off[r.ruler] = b
		}
		i := 0
		if r.ruler.line {
			i = min(bins-1, int(r.share*bins))
		}
		v := c.offMM(r)
		b[i].sum += v
		b[i].n++
		scatter += v * v
	}
	c.errMM = math.Sqrt(scatter / float64(len(readings)))
	most := 0.0
	for _, b := range off {
		for _, one := range b {
			if one.n >= 3 {
				most = math.Max(most, math.Abs(one.sum/float64(one.n)))
			}
		}
	}
	if most > mostBowMM {
		return &PictureError{Reason: PaperBent, Detail: fmt.Sprintf("off by up to %.2f mm", most)}
	}
	return nil
}
