package export

import (
	"errors"
	"slices"
	"strings"

	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// patience is how much is tried to find every label of a drawing its place.
type patience int

const (
	inTurn    patience = iota // one after another, each at its best place
	reordered                 // those that find no place so come earlier
	noted                     // and of those that still find none a note tells
)

// labels are gathered, then put in place together and drawn.
type labels struct {
	board  *label.Board
	wanted []wantedLabel
	draws  []func(*sheet.Page)
}

// wantedLabel is a label that is to be put in place.
type wantedLabel struct {
	label.Label
	name string // in a note that stands for the label; "": no note can
	more []label.Anchor
	draw func(plane.Box)
}

// labelPadMM is kept free round what is written.
const labelPadMM = 0.3

// errCrowded says that a drawing has labels that touch nothing only by being left out.
var errCrowded = errors.New("a label of the drawing finds no place")

// put asks for a place for a label; draw draws it into its box, after its leader. The
// anchors in more are worse ones, for a drawing in which not all labels find a place.
func (l *labels) put(name string, anchors, more []label.Anchor, gapMM, width, height float64, draw func(plane.Box)) {
	l.wanted = append(l.wanted, wantedLabel{
		Label: label.Label{Anchors: anchors, WidthMM: width + 2*labelPadMM, HeightMM: height + 2*labelPadMM, GapMM: gapMM},
		name:  name, more: more, draw: draw,
	})
}

// settle finds all labels their places. It is false where that fails: a label walled in by
// those placed before it is one that should have come earlier, so with the patience for it
// the labels are begun again with that one first.
func (l *labels) settle(f *flow, how patience) bool {
	order := make([]int, len(l.wanted))
	for i := range order {
		order[i] = i
	}
	begun := l.board.Copy()
	// Each label comes first twice at most: more changed nothing in thousands of random springs.
	rounds := 1
	if how > inTurn {
		rounds += 2 * len(order)
	}
	for range rounds {
		l.board, l.draws = begun.Copy(), nil
		stuck := slices.IndexFunc(order, func(i int) bool { return !l.place(l.wanted[i]) })
		if stuck < 0 {
			return true
		}
		first := order[stuck]
		copy(order[1:stuck+1], order[:stuck])
		order[0] = first
		if how > inTurn && len(l.wanted[first].more) > 0 {
			l.wanted[first].Anchors = append(slices.Clone(l.wanted[first].Anchors), l.wanted[first].more...)
			l.wanted[first].more = nil
		}
	}
	return how == noted && l.settleNoted(f, begun)
}

// settleNoted finds places for all labels that have one, and one for a note of the others.
func (l *labels) settleNoted(f *flow, begun *label.Board) bool {
	l.board, l.draws = begun.Copy(), nil
	var left []string
	for _, w := range l.wanted {
		switch {
		case l.place(w):
		case w.name == "":
			return false
		default:
			left = append(left, w.name)
		}
	}
	small := sheet.Style{SizePt: sheet.SmallPt}
	text := f.say("%s: see the bend steps", strings.Join(left, ", "))
	for _, widthMM := range [...]float64{60, 40, 25, 15} { // choice: as few lines as have room
		lines := f.doc.Wrap(text, widthMM, small)
		width := 0.0
		for _, line := range lines {
			width = max(width, f.doc.WidthOf(line, small))
		}
		box, found := l.board.Spot(width+2*labelPadMM, float64(len(lines))*small.LineMM()+2*labelPadMM)
		if !found {
			continue
		}
		l.draws = append(l.draws, func(p *sheet.Page) {
			at := plane.Point{X: box.Min.X + labelPadMM, Y: box.Max.Y - labelPadMM - small.CapMM()}
			for i, line := range lines {
				p.Text(plane.Point{X: at.X, Y: at.Y - float64(i)*small.LineMM()}, line, small)
			}
		})
		return true
	}
	return false
}

// place puts a label in place, if there is one.
func (l *labels) place(w wantedLabel) bool {
	place, ok := l.board.Put(w.Label)
	if !ok {
		return false
	}
	l.draws = append(l.draws, func(p *sheet.Page) {
		if place.Leader.B.Sub(place.Leader.A).Norm() > w.GapMM+1 {
			p.Line(sheet.Centreline, place.Leader.A, place.Leader.B)
		}
		w.draw(place.Box.Grown(-labelPadMM))
	})
	return true
}

// draw draws all labels.
func (l *labels) draw(p *sheet.Page) {
	for _, d := range l.draws {
		d(p)
	}
}

// settleAndDraw draws the labels of a drawing that is not laid out in another way. Where
// they find no place the document is refused.
func (l *labels) settleAndDraw(f *flow) {
	if !l.settle(f, noted) {
		f.crowded = append(f.crowded, errCrowded)
		return
	}
	l.draw(f.page)
}
