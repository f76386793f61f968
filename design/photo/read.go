package photo

import (
	"cmp"
	"errors"
	"io"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Read reads the outline of a spring from a PNG or JPEG picture of it on the card. A picture
// that does not show it well enough is refused with a PictureError.
func Read(r io.Reader, e Expect) (Outline, error) {
	if err := e.check(); err != nil {
		return Outline{}, err
	}
	g, err := decode(r)
	if err != nil {
		return Outline{}, err
	}
	marks, err := findMarks(g)
	if err != nil {
		return Outline{}, err
	}
	c, err := cameraOf(g, marks)
	if err != nil {
		return Outline{}, err
	}
	if err := c.sharp(e.WireMM); err != nil {
		return Outline{}, err
	}
	level, upright := e.printedScale()
	f := fieldOf(g, c, r2.Vec{X: level, Y: upright})
	f.smoothing(c.blurMM, e.WireMM)
	o, err := f.read(e, c)
	if err != nil {
		err = f.brightness(err, e.WireMM)
	}
	return o, err
}

// attempt is a way of telling the wire from what lies about it.
type attempt struct {
	darkShare float64 // of the darkest: what is so dark belongs to the wire
	spurMM    float64 // branches that are shorter are none
	apart     apartness
}

// read tries ways of telling the wire from what lies about it, until one gives a reading that the
// picture bears out. The error is that of the first.
func (f *field) read(e Expect, c *camera) (o Outline, err error) {
	spurMM := math.Max(0.6, 1.1*e.WireMM) // what a thick end or a rough edge grows
	for i, try := range [...]attempt{
		{leastOfWire, spurMM, usualApart},
		{leastOfWire, spurMM, narrowApart},                  // where most of it has a shadow beside it
		{leastOfWire, math.Max(spurMM, dustMM), usualApart}, // without a speck that touches the wire
		{0.6, spurMM, usualApart},
		{0.75, spurMM, narrowApart}, // without a shadow
	} {
		var found *found
		tried, now := Outline{}, error(nil)
		if found, now = f.findWire(e, try); now == nil {
			tried, now = f.outline(e, c, found)
		}
		if now == nil {
			return tried, nil
		}
		if i == 0 {
			err = now
		}
		var refused *PictureError
		if !errors.As(err, &refused) {
			return o, err
		}
		switch refused.Reason {
		case Tangled, CrossesItself, NotFlat, Shaded, OtherSpring, Unclear:
		default: // what no other way explains
			return o, err
		}
	}
	return o, err
}

// candidate is one way in which the wire may lie.
type candidate struct {
	*matched
	fit      *lineFit
	unlikely float64 // how far it is from what is expected of a hand, as the sum of squares
}

// found is the wire's line, and the other ways in which it may lie.
type found struct {
	best   *candidate
	others []*candidate
	mask   *mask
}

const (
	mostTried = 6                   // ways that are fitted, the likeliest first
	usualRad  = 2.0 * math.Pi / 180 // a hand's angles and lengths, standard deviations on the
	usualMM   = 0.3                 // wide side of what is usual
	alike     = 12.0                // two ways of which one is less than 400 times as likely: exp(12/2)
	kinkSDRad = 20 * math.Pi / 180  // of what a way seems to turn where branches meet
	shortLeg  = 0.5                 // mm, standard deviations of legs; one that is longer may be cut later
	longLeg   = 5.0
)

// findWire finds the wire and tells which bend is which.
func (f *field) findWire(e Expect, try attempt) (*found, error) {
	s := e.shape()
	m, err := f.wireMask(e.WireMM, try.darkShare)
	if err != nil {
		return nil, err
	}
	routes := graphOf(m, m.thinned(), try.spurMM).joined(2 * e.WireMM).routes()
	if len(routes) == 0 {
		return nil, &PictureError{Reason: Tangled}
	}
	var all []*candidate
	for _, r := range routes {
		if len(r.points) < 20 { // 2 mm
			continue
		}
		for _, m := range matchAll(s, r) {
			m.cost += r.kinkCost()
			all = append(all, &candidate{matched: m})
		}
	}
	slices.SortStableFunc(all, func(a, b *candidate) int { return cmp.Compare(a.cost, b.cost) })
	var fitted []*candidate
	var firstErr error // of the likeliest
	for _, c := range all[:min(len(all), mostTried)] {
		if c.cost > all[0].cost+100 { // far beyond all doubt
			break
		}
		if c.fit, err = f.fit(c.line, s, c.sign(), e.WireMM, try.apart); err != nil {
			if firstErr == nil {
				firstErr = err
			}
			continue
		}
		c.unlikely = c.fit.unlikely(s, c.sign()) + c.kinkCost()
		fitted = append(fitted, c)
	}
	if len(fitted) == 0 {
		if firstErr != nil {
			return nil, firstErr
		}
		return nil, &PictureError{Reason: OtherSpring, Detail: "its bends are not found along the wire"}
	}
	slices.SortStableFunc(fitted, func(a, b *candidate) int { return cmp.Compare(a.unlikely, b.unlikely) })
	return &found{fitted[0], fitted[1:], m}, nil
}

// kinkCost is what speaks against a way that turns where branches meet.
func (r *route) kinkCost() float64 { return (r.kinkRad / kinkSDRad) * (r.kinkRad / kinkSDRad) }

func (m *matched) sign() float64 {
	if m.turnedOver {
		return -1
	}
	return 1
}

// unlikely is how far a fitted line is from what is expected of a hand, as a sum of squares
// that grow less beyond three standard deviations, and how badly the line fits the wire.
func (l *lineFit) unlikely(s shape, sign float64) float64 {
	var sum float64
	for k, b := range s.bends {
		sum += huber((l.line.angles[k] - sign*b.angleRad) / usualRad)
	}
	for k, v := range l.line.inner {
		sum += huber((v - s.straights[k+1].lengthMM) / usualMM)
	}
	for side, leg := range l.line.legs {
		sd := shortLeg
		over := leg - s.straights[side*len(s.bends)].lengthMM
		if over > 0 {
			sd = longLeg
		}
		sum += huber(over / sd)
	}
	// A line that leaves the wire's middle is not the wire's.
	sum += huber(l.scatterMM/0.02) * 4
	return sum + 50*l.lost
}
