package photo

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// searchPixels is the longer side of the picture in which marks are searched: a card that
	// is no wider than an eighth of it, a page and more, still has dots of four pixels (choice).
	searchPixels = 2400
	leastMarkPx  = 14 // side of a mark at which its dots are two pixels wide and more
	darkShare    = 0.7
)

// seenMark is a mark as it is found, in pixels of the picture.
type seenMark struct {
	number  int
	corners [4]r2.Vec // in the order in which they go round, anyone first
}

// centre is where the mark's middle is seen: perspective keeps the crossing of the diagonals.
func (m seenMark) centre() r2.Vec {
	return crossing(m.corners[0], m.corners[2], m.corners[1], m.corners[3])
}

// crossing is where the line through a and b meets that through c and d.
func crossing(a, b, c, d r2.Vec) r2.Vec {
	u, v := r2.Sub(b, a), r2.Sub(d, c)
	t := r2.Cross(r2.Sub(c, a), v) / r2.Cross(u, v)
	return r2.Add(a, r2.Scale(t, u))
}

// findMarks finds the four marks of a card, number 1 first.
func findMarks(g *grey) (marks [4]seenMark, err error) {
	by := max(1, (max(g.width, g.height)+searchPixels-1)/searchPixels)
	var found []seenMark
	for range 2 { // once more in all pixels where the card is small
		found = marksIn(g, by)
		if by == 1 || len(found) >= 4 {
			break
		}
		by = max(1, by/2)
	}
	var count [4]int
	for _, m := range found {
		marks[m.number-1] = m
		count[m.number-1]++
	}
	var missing, twice []int
	for i, n := range count {
		switch {
		case n == 0:
			missing = append(missing, i+1)
		case n > 1:
			twice = append(twice, i+1)
		}
	}
	switch {
	case len(missing) > 0:
		return marks, &PictureError{Reason: MarkMissing, Marks: missing, Detail: "missing " + dotsText(missing)}
	case len(twice) > 0:
		return marks, &PictureError{Reason: TwoCards, Marks: twice, Detail: "seen twice " + dotsText(twice)}
	}
	// Clockwise in the picture, whose y goes down, turns positively.
	turning := 0
	for i := range marks {
		a, b, c := marks[i].centre(), marks[(i+1)%4].centre(), marks[(i+2)%4].centre()
		if r2.Cross(r2.Sub(b, a), r2.Sub(c, b)) > 0 {
			turning++
		}
	}
	switch turning {
	case 4:
		return marks, nil
	case 0:
		return marks, &PictureError{Reason: Mirrored}
	default:
		return marks, &PictureError{Reason: MarkMissing, Detail: "the four marks do not stand as on one card"}
	}
}

func dotsText(numbers []int) string {
	text := "the one with "
	for i, n := range numbers {
		if i > 0 {
			text += ", with "
		}
		text += fmt.Sprint(n)
	}
	if len(numbers) == 1 && numbers[0] == 1 {
		return text + " dot"
	}
	return text + " dots"
}

// marksIn finds marks in a picture that is shrunk first.
func marksIn(g *grey, by int) []seenMark {
	s := g.shrunk(by)
	dark := darkPixels(s)
	var found []seenMark
	for _, c := range darkBlobs(dark, s.width, s.height) {
		if m, ok := c.mark(dark, s.width); ok {
			for i := range m.corners {
				m.corners[i] = r2.Scale(float64(by), m.corners[i])
			}
			found = append(found, m)
		}
	}
	return found
}

// darkPixels are those darker than their surroundings: than a share of the mean of a window
// that is wider than a mark of a card that fills the picture.
func darkPixels(g *grey) []bool {
	half := max(g.width, g.height) / 10
	sums := make([]uint64, (g.width+1)*(g.height+1))
	for y := range g.height {
		var row uint64
		for x := range g.width {
			row += uint64(g.pix[y*g.width+x])
			sums[(y+1)*(g.width+1)+x+1] = sums[y*(g.width+1)+x+1] + row
		}
	}
	dark := make([]bool, len(g.pix))
	for y := range g.height {
		y0, y1 := max(0, y-half), min(g.height, y+half+1)
		for x := range g.width {
			x0, x1 := max(0, x-half), min(g.width, x+half+1)
			sum := sums[y1*(g.width+1)+x1] + sums[y0*(g.width+1)+x0] - sums[y0*(g.width+1)+x1] - sums[y1*(g.width+1)+x0]
			dark[y*g.width+x] = float64(g.pix[y*g.width+x])*float64((y1-y0)*(x1-x0)) < darkShare*float64(sum)
		}
	}
	return dark
}

// blob is a set of dark pixels that hang together.
type blob struct {
	area                   int
	minX, minY, maxX, maxY int
	rim                    []r2.Vec // ends of its rows, their outer corners
}

// mark tells whether a blob is one of the card's marks: four-sided, all dark but for dots
// that lie where a mark has them.
func (c *blob) mark(dark []bool, width int) (seenMark, bool) {
	w, h := c.maxX-c.minX+1, c.maxY-c.minY+1
	if min(w, h) < leastMarkPx || max(w, h) > 6*min(w, h) {
		return seenMark{}, false
	}
	quad, ok := fourSided(convexHull(c.rim))
	if !ok {
		return seenMark{}, false
	}
	area := polygonArea(quad[:])
	if float64(c.area) < 0.75*area || float64(c.area) > 1.05*area {
		return seenMark{}, false
	}
	toUnit, err := homographyOf(quad[:], []r2.Vec{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}})
	if err != nil {
		return seenMark{}, false
	}
	var dots []r2.Vec
	for _, hole := range holes(dark, width, c) {
		const nominal = math.Pi / 4 * DotMM * DotMM / (MarkMM * MarkMM)
		switch share := float64(hole.area) / area; {
		case share < nominal/5: // a speck
		case share > 3*nominal:
			return seenMark{}, false
		default:
			dots = append(dots, r2.Scale(MarkMM/2/dotApartMM, toUnit.apply(hole.middle)))
		}
	}
	if len(dots) < 1 || len(dots) > 4 || !fitsPattern(dots) {
		return seenMark{}, false
	}
	return seenMark{number: len(dots), corners: quad}, true
}

// fitsPattern tells whether dots lie as those of a mark, whichever way it is turned.
func fitsPattern(dots []r2.Vec) bool {
	const off = 0.35 // a dot's radius is 0.37 of what they are apart
	for turn := range 2 {
		rest := slices.Clone(dots)
		for _, want := range dotPattern(len(dots)) {
			if turn == 1 {
				want = r2.Vec{X: -want.Y, Y: want.X}
			}
			if i := slices.IndexFunc(rest, func(d r2.Vec) bool { return r2.Norm(r2.Sub(d, want)) < off }); i >= 0 {
				rest = slices.Delete(rest, i, i+1)
			}
		}
		if len(rest) == 0 {
			return true
		}
	}
	return false
}
