package photo

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Limits of what a reading may look like. They are choices, from pictures made for the tests:
// readings that are right keep clear of them.
const (
	blurOfWire   = 0.40 // blur, standard deviation, of the wire's width: beyond, its two edges melt into one
	mostScatter  = 0.045
	mostLost     = 0.35               // of the places along a piece where the wire's edges are not found
	mostBow      = 0.10               // mm, of a straight
	mostAngleRad = 30 * math.Pi / 180 // off the expected angle: then it is another spring
	mostLengthMM = 3.0
	widthAtOdds  = 0.10 // real wires keep to some hundredths of their nominal size (from memory), and print bleeds
	fewWidths    = 20   // places along the wire, a millimetre and more
	usualSide    = 0.15 // of its height, by which a wire seems wider from straight above and beside the middle
	mostSide     = 0.58 // of its height, by which a wire seems wider from 30° aside
	leastPaired  = 0.1  // of the wire: then a part of it that seems too wide is explained otherwise
	strayMM2     = 0.35 // dark that no part of the wire explains
	strayMM      = 0.55 // beyond the wire's edge, that its shadow explains
	shadowMM     = 1.6  // and where it is lighter than the wire: a shadow of low light
	shadowShare  = 0.7
	leastClear   = 0.5 // of the wire with paper seen on both sides: below, what is not straight may be a shadow
)

// sharp refuses a picture whose edges are too wide for the wire.
func (c *camera) sharp(wireMM float64) error {
	if most := blurOfWire * wireMM; c.blurMM > most {
		return &PictureError{Reason: Blurred, Detail: fmt.Sprintf("edges are blurred by %.2f mm, at most %.2f mm for this wire", c.blurMM, most)}
	}
	return nil
}

// outline judges what is found and says it in the spring's own order and signs.
func (f *field) outline(e Expect, c *camera, found *found) (Outline, error) {
	s := e.shape()
	best, byAnchor, err := found.decide(e)
	if err != nil {
		return Outline{}, err
	}
	l := best.fit
	if err := f.judge(s, best, found.mask); err != nil {
		return Outline{}, err
	}
	wireMM, err := f.wireWidth(l, e.WireMM, e.HeightMM)
	if err != nil {
		return Outline{}, err
	}
	o := Outline{
		TurnedOver: best.turnedOver, WireMM: wireMM, ScatterMM: l.scatterMM, PxPerMM: f.pxPerMM,
		field: f, line: l.line, edgesMM: l.wireMM,
	}
	points := l.line.points(0.1)
	o.AnchorEnd, o.ActiveEnd = points[0], points[len(points)-1]
	se := f.standardErrors(l, e.WireMM)
	n := len(s.bends)
	for k, st := range s.straights {
		v := Straight{Step: st.step, Leg: k == 0 || k == n}
		switch {
		case k == 0:
			v.LengthMM, v.SEMM = l.line.legs[0], math.Hypot(endSEMM, se[0])
		case k == n:
			v.LengthMM, v.SEMM = l.line.legs[1], math.Hypot(endSEMM, se[0])
		default:
			v.LengthMM, v.SEMM = l.line.inner[k-1], math.Hypot(se[3+2*n+k-1], c.lengthSE(l.line.inner[k-1]))
		}
		o.Straights = append(o.Straights, v)
	}
	for k, b := range s.bends {
		o.Bends = append(o.Bends, Bend{
			Step: b.step, Number: b.number, AngleRad: best.sign() * l.line.angles[k],
			SERad: math.Hypot(se[3+k], angleSERad), RadiusMM: l.line.radii[k],
		})
	}
	if err := o.byHand(); err != nil {
		return Outline{}, err
	}
	if level, upright := e.printedScale(); level != 1 || upright != 1 {
		o.Notes = append(o.Notes, Note{PrintedOffScale, []float64{level, upright}})
	}
	if wireMM > 0 && (wireMM < (1-widthAtOdds)*e.WireMM || wireMM > (1+widthAtOdds)*e.WireMM+usualSide*e.HeightMM) {
		o.Notes = append(o.Notes, Note{WidthAtOdds, []float64{wireMM, e.WireMM}})
	}
	if byAnchor {
		o.Notes = append(o.Notes, Note{Kind: TakenByAnchorLeft})
	}
	return o, nil
}

// wireWidth is the width of the wire in the picture; 0 where it is not seen well enough.
func (f *field) wireWidth(l *lineFit, expectedMM, heightMM float64) (float64, error) {
	plain := l.widths.plain
	if len(plain) < fewWidths || len(plain) < l.widths.count/2 {
		return 0, nil
	}
	behind := func(apartMM float64) float64 { return widthBehindBlur(apartMM, math.Hypot(f.blurMM, f.smoothMM)) }
	wireMM := behind(plain[len(plain)/2])
	if wireMM > expectedMM { // a side of it may be seen where it runs across the view, and not along it
		wireMM = math.Max(expectedMM, behind(plain[len(plain)/5]))
	}
	if wireMM < leastWidth*expectedMM || wireMM > mostWidth*expectedMM {
		if wireMM < mostWidth*expectedMM+mostSide*heightMM && wireMM > expectedMM {
			return 0, nil
		}
		if wireMM > expectedMM && l.paired(expectedMM) > leastPaired {
			return 0, nil // a shadow beside it, or a side of it that is seen, widens it
		}
		return 0, &PictureError{Reason: OtherWire, Detail: fmt.Sprintf("%.2f mm instead of %.2f mm", wireMM, expectedMM)}
	}
	return wireMM, nil
}

// paired is the share of the wire's points that are seen between two edges about as far apart as was
// expected.
func (l *lineFit) paired(expectedMM float64) float64 {
	count := 0
	for _, q := range l.on {
		if q.widthMM > leastWidth*expectedMM && q.widthMM < mostWidth*expectedMM {
			count++
		}
	}
	return float64(count) / math.Max(1, float64(len(l.on)))
}

// What no scatter along the wire shows: errors of the camera's map over short ways, and of
// edges that blur and light move (from pictures made for the tests).
const (
	endSEMM    = 0.03
	angleSERad = 0.04 * math.Pi / 180
)

func (c *camera) lengthSE(mm float64) float64 { return math.Hypot(0.005, 0.0006*mm) }

// decide takes one of the ways in which the wire may lie, where no other is as likely.
func (w *found) decide(e Expect) (best *candidate, byAnchor bool, err error) {
	best = w.best
	var other *candidate
	for _, c := range w.others {
		if c.turnedOver == best.turnedOver && c.reversed == best.reversed {
			continue
		}
		if c.unlikely-best.unlikely > alike || sameReading(c, best) {
			continue
		}
		other = c
		break
	}
	if other == nil {
		return best, false, nil
	}
	left := func(c *candidate) float64 {
		p := c.fit.line.points(1)
		return p[len(p)-1].X - p[0].X // how far the anchor's end is to the left of the other
	}
	const clearMM = 3.0
	switch {
	case !e.AnchorLeft:
		return nil, false, &PictureError{Reason: BothWays}
	case left(best) > clearMM && left(other) < -clearMM:
		return best, true, nil
	case left(other) > clearMM && left(best) < -clearMM:
		return other, true, nil
	}
	return nil, false, &PictureError{Reason: BothWays, Detail: "neither end is clearly to the left"}
}

// sameReading tells whether two ways give the same numbers, so that it does not matter which.
func sameReading(a, b *candidate) bool {
	for k := range a.fit.line.angles {
		if math.Abs(a.sign()*a.fit.line.angles[k]-b.sign()*b.fit.line.angles[k]) > 0.2*math.Pi/180 {
			return false
		}
	}
	for k := range a.fit.line.inner {
		if math.Abs(a.fit.line.inner[k]-b.fit.line.inner[k]) > 0.02 {
			return false
		}
	}
	for k := range a.fit.line.legs {
		if math.Abs(a.fit.line.legs[k]-b.fit.line.legs[k]) > 0.05 {
			return false
		}
	}
	return true
}

// judge refuses a reading that the picture does not bear out.
func (f *field) judge(s shape, c *candidate, m *mask) error {
	l := c.fit
	for k, b := range s.bends {
		if off := l.line.angles[k] - c.sign()*b.angleRad; math.Abs(off) > mostAngleRad {
			return &PictureError{Reason: OtherSpring, Bends: []int{b.number}, Detail: fmt.Sprintf("bend %d would be %.0f° instead of %.0f°", b.number, c.sign()*l.line.angles[k]*180/math.Pi, b.angleRad*180/math.Pi)}
		}
	}
	for k, v := range l.line.inner {
		if want := s.straights[k+1].lengthMM; math.Abs(v-want) > mostLengthMM || v < -0.1 {
			return &PictureError{Reason: OtherSpring, Bends: []int{k + 1, k + 2}, Detail: fmt.Sprintf("between bends %d and %d would be %.1f mm instead of %.1f mm", k+1, k+2, v, want)}
		}
	}
	if stray := m.stray(l); stray > strayMM2 {
		return &PictureError{Reason: OtherSpring, Detail: fmt.Sprintf("%.1f mm² of dark beside the spring are none of it", stray)}
	}
	for i, lost := range l.pieceLost {
		if l.looked[i] >= 6 && lost > mostLost {
			return &PictureError{Reason: Unclear, Detail: fmt.Sprintf("on %.0f %% of %s", 100*lost, pieceText(i))}
		}
	}
	if i, bow := l.bow(); bow > mostBow {
		return l.notFlat(fmt.Sprintf("%s is off a straight or round line by %.2f mm", pieceText(i), bow))
	}
	if l.scatterMM > mostScatter {
		return l.notFlat(fmt.Sprintf("the wire is off straights and round bends by %.2f mm", l.scatterMM))
	}
	return crossings(s, c)
}

// notFlat is the reason why a wire seems not to lie as straights and bends: where little of it is seen
// between paper, its shadow or light on it may be taken for it.
func (l *lineFit) notFlat(detail string, bends ...int) error {
	clear := 0
	for _, q := range l.on {
		if q.clear {
			clear++
		}
	}
	share := float64(clear) / math.Max(1, float64(len(l.on)))
	if mm := l.paleMM(); mm > brightMM {
		return &PictureError{Reason: Bright, Bends: bends, Detail: fmt.Sprintf("along %.0f mm or more; %s", mm, detail)}
	}
	if share < leastClear {
		return &PictureError{Reason: Shaded, Bends: bends, Detail: fmt.Sprintf("of %.0f %% of the wire one edge or both; %s", 100*(1-share), detail)}
	}
	return &PictureError{Reason: NotFlat, Bends: bends, Detail: detail}
}

// paleMM is how much of the line is as bright in its middle as the paper is.
func (l *lineFit) paleMM() float64 {
	count := 0
	for i := range l.all {
		if p := &l.all[i]; p.mean != nil && p.mean[len(p.mean)/2] > 1-leastDark/2 {
			count++
		}
	}
	return float64(count) * 2 * sampleMM // every other place is looked across
}

func pieceText(i int) string {
	if i%2 == 1 {
		return fmt.Sprintf("bend %d", i/2+1)
	}
	if i == 0 {
		return "the leg before bend 1"
	}
	return fmt.Sprintf("the straight behind bend %d", i/2)
}

// stray is how much dark lies farther from the line than its width and shadow explain, mm².
func (m *mask) stray(l *lineFit) float64 {
	points := evenly(l.line.points(0.1), 0.3)
	within := func(mm float64) []bool {
		near := make([]bool, len(m.on))
		reach := int((l.wireMM/2 + mm) * m.pxPerMM)
		for _, q := range points {
			x, y := m.px(q)
			for dy := -reach; dy <= reach; dy++ {
				for dx := -reach; dx <= reach; dx++ {
					i, k := int(x)+dx, int(y)+dy
					if dx*dx+dy*dy <= reach*reach && i >= 0 && k >= 0 && i < m.width && k < m.height {
						near[k*m.width+i] = true
					}
				}
			}
		}
		return near
	}
	var dark []float64
	for _, q := range points {
		dark = append(dark, m.between(q))
	}
	slices.Sort(dark)
	wire := dark[len(dark)/2]
	near, shaded := within(strayMM), within(shadowMM)
	count := 0
	for i, on := range m.on {
		if on && !near[i] && !(shaded[i] && float64(m.pix[i]) < shadowShare*wire) {
			count++
		}
	}
	return float64(count) / (m.pxPerMM * m.pxPerMM)
}

// bow is the piece that is least well met: by how far a third of it is off, on the mean, or the
// middle one against its ends.
func (l *lineFit) bow() (piece int, mm float64) {
	pieces := l.line.pieces
	sum, count := make([][3]float64, len(pieces)), make([][3]float64, len(pieces))
	for _, q := range l.on {
		p := pieces[q.piece]
		share := p.along(q.at) / math.Max(p.lengthMM, 1e-3)
		if p.curvature != 0 {
			share = 0.5
		}
		third := min(2, max(0, int(3*share)))
		sum[q.piece][third] += p.off(q.at)
		count[q.piece][third]++
	}
	for i := range pieces {
		var off [3]float64
		full := true
		for k := range off {
			full = full && count[i][k] >= 3
			off[k] = sum[i][k] / math.Max(1, count[i][k])
		}
		v := math.Abs(off[1])
		if full {
			v = math.Max(math.Max(v, math.Abs(off[1]-(off[0]+off[2])/2)), math.Max(math.Abs(off[0]), math.Abs(off[2])))
		}
		if v > mm {
			piece, mm = i, v
		}
	}
	return piece, mm
}

const passMM = 1.5 // the spring as drawn comes so close to itself where it may lie across itself

// crossings refuses a wire that crosses itself where the spring as drawn neither does nor
// comes close. Legs may: they are left long, and cut.
func crossings(s shape, c *candidate) error {
	l := c.fit.line
	drawn := &line{start: l.start, heading: l.heading, legs: l.legs}
	for k, b := range s.bends {
		drawn.angles = append(drawn.angles, c.sign()*b.angleRad)
		drawn.radii = append(drawn.radii, b.radiusMM)
		if k > 0 {
			drawn.inner = append(drawn.inner, s.straights[k].lengthMM)
		}
	}
	pieces := l.lay()
	was := drawn.lay()
	chords := make([][]r2.Vec, len(pieces))
	for i := range pieces {
		chords[i] = pieces[i].chords()
	}
	for i := range pieces {
		for k := i + 2; k < len(pieces); k++ {
			if !cross(chords[i], chords[k]) || i == 0 && k == len(pieces)-1 {
				continue
			}
			if away(was[i].chords(), was[k].chords()) > passMM {
				return &PictureError{Reason: CrossesItself, Detail: pieceText(i) + " and " + pieceText(k)}
			}
		}
	}
	return nil
}

func (p *piece) chords() []r2.Vec {
	n := 1
	if p.curvature != 0 {
		n = max(2, int(math.Abs(p.curvature)*p.lengthMM/0.2))
	}
	var out []r2.Vec
	for i := range n + 1 {
		at, _ := p.pose(p.lengthMM * float64(i) / float64(n))
		out = append(out, at)
	}
	return out
}

func cross(a, b []r2.Vec) bool {
	side := func(p, q, r r2.Vec) float64 { return r2.Cross(r2.Sub(q, p), r2.Sub(r, p)) }
	for i := 1; i < len(a); i++ {
		for k := 1; k < len(b); k++ {
			if side(a[i-1], a[i], b[k-1])*side(a[i-1], a[i], b[k]) < 0 && side(b[k-1], b[k], a[i-1])*side(b[k-1], b[k], a[i]) < 0 {
				return true
			}
		}
	}
	return false
}

// away is the least distance of points on two lines.
func away(a, b []r2.Vec) float64 {
	least := math.Inf(1)
	for _, p := range evenly(a, 0.2) {
		for _, q := range evenly(b, 0.2) {
			least = math.Min(least, r2.Norm(r2.Sub(p, q)))
		}
	}
	return least
}
