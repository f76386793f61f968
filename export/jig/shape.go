package jig

import (
	"fmt"
	"math"
	"strconv"

	"springwright/design/spring"
	"springwright/design/tooth"
	"springwright/export/plane"
)

// stretch is a straight piece of groove, or of something raised, with round ends.
type stretch struct {
	a, b         plane.Point
	halfA, halfB float64 // of its width, without clearance
	lowA, lowB   float64 // its floor; of something raised, how far it stands out
	topA, topB   float64 // of the plate beside it; −∞: it carries nothing
	onA, onB     bool    // the groove goes on there
}

// beside returns how far p lies beyond the stretch's half width, and where along it, 0 to 1.
func (s stretch) beside(p plane.Point) (beyondMM, share float64) {
	beyondMM, share, _ = s.seen(p)
	return beyondMM, share
}

// seen is beside with how far p lies past an end at which the groove goes on: what goes on decides there
// where the wire rises or falls.
func (s *stretch) seen(p plane.Point) (beyondMM, share, pastMM float64) {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	qx, qy := p.X-s.a.X, p.Y-s.a.Y
	if n := dx*dx + dy*dy; n > 0 {
		share = (qx*dx + qy*dy) / n
		switch {
		case share < 0:
			if s.onA {
				pastMM = -share * math.Sqrt(n)
			}
			share = 0
		case share > 1:
			if s.onB {
				pastMM = (share - 1) * math.Sqrt(n)
			}
			share = 1
		}
	}
	ex, ey := qx-share*dx, qy-share*dy
	return math.Sqrt(ex*ex+ey*ey) - mix(s.halfA, s.halfB, share), share, pastMM
}

// away is less than how far p lies beyond the stretch's half width, and cheap to know.
func (s *stretch) away(p plane.Point) float64 {
	x := max(min(s.a.X, s.b.X)-p.X, p.X-max(s.a.X, s.b.X))
	y := max(min(s.a.Y, s.b.Y)-p.Y, p.Y-max(s.a.Y, s.b.Y))
	return max(x, y) - max(s.halfA, s.halfB)
}

func mix(a, b, share float64) float64 { return a + (b-a)*share }

// shape is the plate's upper side: a height over every place, with upright walls along two sets of
// lines, the groove's edge and the edge of what is raised.
type shape struct {
	line         *line
	clearanceMM  float64
	grooves      []stretch
	raised       []stretch
	baseTop      float64 // of the plate where it carries nothing higher
	across, down int     // size in cells of the coarsest grid
	recesses     int
	unprinted    string
}

func (g shape) widthMM() float64  { return float64(g.across) * coarse * cellMM }
func (g shape) heightMM() float64 { return float64(g.down) * coarse * cellMM }

// newShape lays out a plate, and moves the line onto it.
func newShape(l *line, s spring.Spring, teeth tooth.Pair, o Options) (shape, error) {
	g := shape{line: l, clearanceMM: o.ClearanceMM}
	box, lowest := plane.Empty(), math.Inf(1)
	for _, p := range l.points {
		box = box.Cover(p.at)
		lowest = min(lowest, p.low)
	}
	rows, unprinted := g.rows(o)
	g.unprinted = unprinted
	letters := 0.0
	for _, row := range rows {
		letters = max(letters, rowWidth(row))
	}
	const rowMM = 1.45 * letterMM
	const freeMM = 3.0                           // between spring and letters: recesses and posts reach as far
	below := rowMM*float64(len(rows)+1) + freeMM // tooth numbers too
	up := func(mm float64) int { return int(math.Ceil(mm / (coarse * cellMM))) }
	wide, high := max(box.Width(), letters)+2*marginMM, box.Height()+2*marginMM+below
	g.across, g.down = up(wide), up(high)
	if g.widthMM() > LargestMM || g.heightMM() > LargestMM {
		return g, fmt.Errorf("%w: the plate would be %.0f × %.0f mm, at most %d × %d mm are made; a spring takes up to some 40 mm: check the lengths in the path",
			ErrJig, g.widthMM(), g.heightMM(), LargestMM, LargestMM)
	}
	g.place(plane.Point{
		X: g.widthMM()/2 - box.Centre().X,
		Y: g.heightMM() - (g.heightMM()-below-box.Height())/2 - box.Max.Y,
	}, bottomMM-lowest)
	g.groove()
	g.addRecesses()
	if s.AnchorSlotLengthMM > 0 {
		g.posts(-1, s.AnchorSlotLengthMM)
	}
	if s.ActiveSlotLengthMM > 0 {
		g.posts(l.steps, s.ActiveSlotLengthMM)
	}
	g.write(rows, teeth, rowMM)
	return g, nil
}

// place moves the line over the plate.
func (g *shape) place(by plane.Point, up float64) {
	for i := range g.line.points {
		p := &g.line.points[i]
		p.at, p.low, p.high = p.at.Add(by), p.low+up, p.high+up
	}
}

// groove cuts the line, and what lies between legs with too thin a wall.
func (g *shape) groove() {
	points := g.line.points
	g.baseTop = math.Inf(1)
	for i, p := range points {
		g.baseTop = min(g.baseTop, p.low+p.deep)
		if i == 0 {
			continue
		}
		a := points[i-1]
		if n := len(g.grooves); n > 0 && g.grooves[n-1].goesOn(p) {
			g.grooves[n-1].b = p.at
			continue
		}
		g.grooves = append(g.grooves, stretch{a.at, p.at, a.half, p.half, a.low, p.low, a.low + a.deep, p.low + p.deep, i > 1, true})
	}
	g.grooves[len(g.grooves)-1].onB = false
	whole := *g
	solid := func(p plane.Point) bool { return whole.edge(p) > 0 }
	half := max(0, apartMM-g.clearanceMM) // beside each other they leave nothing between
	for _, pair := range g.line.thinWalls(g.clearanceMM, solid) {
		a, b := points[pair[0]], points[pair[1]]
		floor, none := max(a.low, b.low), math.Inf(-1)
		g.grooves = append(g.grooves, stretch{a.at, b.at, half, half, floor, floor, none, none, false, false})
	}
}

// goesOn tells whether p lies straight on, level and as wide: one stretch serves then.
func (s stretch) goesOn(p point) bool {
	const same = 1e-9
	d, q := s.b.Sub(s.a), p.at.Sub(s.b)
	return math.Abs(d.X*q.Y-d.Y*q.X) < same && d.X*q.X+d.Y*q.Y > 0 &&
		math.Abs(s.halfA-p.half)+math.Abs(s.halfB-p.half)+math.Abs(s.lowA-p.low)+math.Abs(s.lowB-p.low) < same
}

// addRecesses puts places for the tips of tweezers under up to two straight legs.
func (g *shape) addRecesses() {
	const (
		radius, reach = 0.9, 2.0 // of the tips, and to both sides of the wire
		leastLegMM    = 4.0
		most          = 2
	)
	type leg struct{ first, last int }
	var legs []leg
	points := g.line.points
	for i := 0; i < len(points); {
		last := i
		for last+1 < len(points) && points[last+1].step == points[i].step && points[i].way.Sub(points[last+1].way).Norm() < 1e-6 {
			last++
		}
		if step := points[i].step; step >= 0 && step < g.line.steps && points[last].at.Sub(points[i].at).Norm() >= leastLegMM && points[i].steep < 0.01 {
			legs = append(legs, leg{i, last})
		}
		i = last + 1
	}
	for g.recesses < most && len(legs) > 0 {
		longest := 0
		for i, l := range legs {
			if l.last-l.first > legs[longest].last-legs[longest].first {
				longest = i
			}
		}
		l := legs[longest]
		legs = append(legs[:longest], legs[longest+1:]...)
		p := points[(l.first+l.last)/2]
		side := p.way.Unit().Left().Times(reach)
		half, none := radius-g.clearanceMM, math.Inf(-1)
		s := stretch{p.at.Sub(side), p.at.Add(side), half, half, p.low - recessMM, p.low - recessMM, none, none, false, false}
		free := true
		for i, q := range points {
			if beyond, _ := s.beside(q.at); (i < l.first || i > l.last) && beyond < q.half+2*g.clearanceMM+2*mouthMM+ThinnestWallMM {
				free = false
			}
		}
		if free {
			g.grooves = append(g.grooves, s)
			g.recesses++
		}
	}
}

// posts stand at both sides of the wire where it enters and leaves a slot, where there is room.
func (g *shape) posts(step int, slotMM float64) {
	var mouth point
	outwards := 1.0
	if step < 0 { // where the path begins
		step, outwards = 0, -1
	}
	for _, p := range g.line.points {
		if p.step == step {
			mouth = p
			break
		}
	}
	way := mouth.way.Unit().Times(outwards)
	away := mouth.half + g.clearanceMM + mouthMM + 2*apartMM + postMM
	for _, along := range [...]float64{0, slotMM} {
		for _, side := range [...]float64{1, -1} {
			at := mouth.at.Add(way.Times(along)).Add(way.Left().Times(side * away))
			if g.edge(at) > mouthMM+apartMM+postMM && g.inside(at, 2*postMM) {
				g.raised = append(g.raised, stretch{at, at, postMM, postMM, postHigh, postHigh, 0, 0, false, false})
			}
		}
	}
}

func (g shape) inside(p plane.Point, roomMM float64) bool {
	return min(p.X, p.Y) > roomMM && p.X < g.widthMM()-roomMM && p.Y < g.heightMM()-roomMM
}

// rows are the lines of letters.
func (g shape) rows(o Options) (rows []string, unprinted string) {
	for _, text := range [...]string{o.Code, o.Fingerprint} {
		row, lost := letterable(text)
		if unprinted += lost; row != "" {
			rows = append(rows, row)
		}
	}
	return rows, unprinted
}

// write raises the letters below the spring: the teeth's numbers under their slots, then the rows.
func (g *shape) write(rows []string, teeth tooth.Pair, rowMM float64) {
	points := g.line.points
	y := marginMM + rowMM*float64(len(rows))
	if teeth != (tooth.Pair{}) {
		anchor, active := strconv.Itoa(int(teeth.Anchor)), strconv.Itoa(int(teeth.Active))
		wide := rowWidth(anchor)
		at, other := points[0].at.X, points[len(points)-1].at.X
		if apart := wide + letterMM; math.Abs(other-at) < apart {
			sign := math.Copysign(1, other-at)
			middle := (at + other) / 2
			at, other = middle-sign*apart/2, middle+sign*apart/2
		}
		keep := func(x float64) float64 { return min(max(x-wide/2, 2), g.widthMM()-wide-2) }
		g.raised = append(g.raised, lettered(anchor, plane.Point{X: keep(at), Y: y})...)
		g.raised = append(g.raised, lettered(active, plane.Point{X: keep(other), Y: y})...)
	}
	for i, row := range rows {
		y := marginMM + rowMM*float64(len(rows)-1-i)
		g.raised = append(g.raised, lettered(row, plane.Point{X: (g.widthMM() - rowWidth(row)) / 2, Y: y})...)
	}
}

// edge is how far a place lies outside the groove, below 0 inside.
func (g *shape) edge(p plane.Point) float64 { return nearestOf(g.grooves, p) - g.clearanceMM }

// rise is how far a place lies outside what is raised, below 0 on it.
func (g *shape) rise(p plane.Point) float64 { return nearestOf(g.raised, p) }

func nearestOf(all []stretch, p plane.Point) float64 {
	least := math.Inf(1)
	for i := range all {
		if s := &all[i]; s.away(p) < least {
			beyond, _, _ := s.seen(p)
			least = min(least, beyond)
		}
	}
	return least
}

// past is what a stretch's height gives way by past its end: faster than any wire rises, but not at once, as
// outside a bend no chord of it is beside a place.
func past(mm float64) float64 {
	const atOnceMM, slope = 0.05, 2
	return slope * max(0, mm-atOnceMM)
}

// floor is the groove's: under the wire its lower side, and where wires pass over each other that of the
// lowest, whose groove widens upwards to those beside it.
func (g *shape) floor(p plane.Point) float64 {
	const slope, farMM = 3, 2.0
	least := math.Inf(1)
	for i := range g.grooves {
		s := &g.grooves[i]
		if s.away(p) > farMM {
			continue
		}
		beyond, share, over := s.seen(p)
		least = min(least, mix(s.lowA, s.lowB, share)+slope*max(0, beyond-g.clearanceMM)+past(over))
	}
	return least
}

// top is the plate beside groove and mouth: it rises with the wire and falls off to the sides by 45°.
func (g *shape) top(p plane.Point) float64 {
	most := g.baseTop
	for i := range g.grooves {
		s := &g.grooves[i]
		if max(s.topA, s.topB)-max(0, s.away(p)-g.clearanceMM-mouthMM-ridgeMM) <= most {
			continue
		}
		beyond, share, over := s.seen(p)
		most = max(most, mix(s.topA, s.topB, share)-max(0, beyond-g.clearanceMM-mouthMM-ridgeMM)-past(over))
	}
	return most
}

// plain is the plate's surface outside the groove and what is raised: the top, or the mouth.
func (g *shape) plain(p plane.Point, edgeMM float64) float64 {
	return g.top(p) - mouthDeep*max(0, 1-edgeMM/mouthMM)
}

// relief is the surface on what is raised.
func (g *shape) relief(p plane.Point) float64 {
	least, out := math.Inf(1), 0.0
	for _, s := range g.raised {
		if beyond, _ := s.beside(p); beyond < least {
			least, out = beyond, s.lowA
		}
	}
	return g.top(p) + out
}
