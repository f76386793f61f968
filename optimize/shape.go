package optimize

import (
	"math"

	"springwright/design/notice"
	"springwright/design/spring"
)

// How far a spring is from its kind's own shape is weighed against the share of bent springs that
// meet the target: a clinic gives up some springs in a hundred for a loop that it recognises and can
// check by eye, not more. A pre-activation bend of bendScaleRad, or lengths off by lengthScaleMM
// from what is alike or usual, cost half a point, twice as much two points. A rectangular loop with
// corners off by 27 and 36 degrees and uprights that differ by 4 mm then costs 4.5 points, one with
// corners within 10 degrees half a point (choices).
const (
	bendScaleRad  = math.Pi / 9
	lengthScaleMM = 2
)

// shapeTerm is one way in which a spring may be off its kind's own shape.
type shapeTerm struct {
	one, other int     // freedoms; other is −1 where there is one alone
	low, high  float64 // of one, or of one less other, that are usual
	scale      float64
}

func shapeTerms(p spring.Pattern) []shapeTerm {
	var terms []shapeTerm
	for j, f := range p.Freedoms {
		switch {
		case f.Angle:
			terms = append(terms, shapeTerm{j, -1, f.Neutral, f.Neutral, bendScaleRad})
		case f.UsualMax > 0:
			terms = append(terms, shapeTerm{j, -1, f.UsualMin, f.UsualMax, lengthScaleMM})
		}
	}
	for _, a := range p.Alike {
		terms = append(terms, shapeTerm{a.One, a.Other, a.MoreMM, a.MoreMM, lengthScaleMM})
	}
	return terms
}

// off is by how much a design is off in this way, with its sign.
func (t shapeTerm) off(x []float64) float64 {
	v := x[t.one]
	if t.other >= 0 {
		v -= x[t.other]
	}
	switch {
	case v > t.high:
		return v - t.high
	case v < t.low:
		return v - t.low
	}
	return 0
}

// putShape puts the rows of how far a design is off its kind's own shape.
func (o *objective) putShape(r *rows, x []float64) {
	for _, t := range o.shape {
		if r.put(kind{part: preferences}, t.off(x)/t.scale) {
			t.setSlopes(r.slopes.RawRowView(r.next-1), x)
		}
	}
}

// setSlopes fills in those of the term's row.
func (t shapeTerm) setSlopes(row, x []float64) {
	clear(row)
	if t.low != t.high && t.off(x) == 0 {
		return
	}
	row[t.one] = 1 / t.scale
	if t.other >= 0 {
		row[t.other] = -1 / t.scale
	}
}

// shapeCost is what a design's shape costs, in points.
func shapeCost(p spring.Pattern, x []float64) float64 {
	var sum float64
	for _, t := range shapeTerms(p) {
		off := t.off(x) / t.scale
		sum += off * off / 2
	}
	return sum
}

// nearerShape is by how many points less another design's shape must cost to be told of as nearer to
// the kind's own one (choice: about what the eye sees).
const nearerShape = 1

// shapeOf tells how far the chosen design is from its kind's own shape, and, if one of the others that
// meet the target is clearly nearer, what that one was passed over for.
func shapeOf(p *problem, f found) notice.Shape {
	x := f.chosen.x
	s := notice.Shape{Family: p.pattern.Family}
	for j, free := range p.pattern.Freedoms {
		if free.Angle {
			s.LargestBendRad = max(s.LargestBendRad, math.Abs(x[j]-free.Neutral))
		}
	}
	for _, a := range p.pattern.Alike {
		s.UnevenMM = max(s.UnevenMM, math.Abs(x[a.One]-x[a.Other]-a.MoreMM))
	}
	if s.Own() || p.sample == nil {
		return s
	}
	share, own := p.share(x), shapeCost(p.pattern, x)
	best := own - nearerShape
	for _, c := range f.settled {
		if !c.cost.met() {
			continue
		}
		if cost := shapeCost(p.pattern, c.x); cost < best {
			if other := p.share(c.x); other < share {
				best, s.Nearer = cost, &notice.NearerShape{Share: other, TakenShare: share}
			}
		}
	}
	return s
}
