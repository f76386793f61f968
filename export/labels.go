package export

import (
	"errors"

	"springwright/export/label"
	"springwright/export/plane"
	"springwright/export/sheet"
)

// labels are put in place one after another and drawn when all have found one.
type labels struct {
	board   *label.Board
	draws   []func(*sheet.Page)
	crowded bool // one found no place
}

// errCrowded says that a drawing has labels that touch nothing only by being left out.
var errCrowded = errors.New("a label of the drawing finds no place")

// put finds a place for a label; draw draws it into its box, after its leader.
func (l *labels) put(anchors []label.Anchor, gapMM, width, height float64, draw func(plane.Box)) {
	const padMM = 0.3
	if l.crowded {
		return
	}
	place, ok := l.board.Put(label.Label{Anchors: anchors, WidthMM: width + 2*padMM, HeightMM: height + 2*padMM, GapMM: gapMM})
	if !ok {
		l.crowded = true
		return
	}
	l.draws = append(l.draws, func(p *sheet.Page) {
		if place.Leader.B.Sub(place.Leader.A).Norm() > gapMM+1 {
			p.Line(sheet.Centreline, place.Leader.A, place.Leader.B)
		}
		draw(place.Box.Grown(-padMM))
	})
}

// draw draws all labels.
func (l *labels) draw(p *sheet.Page) {
	for _, d := range l.draws {
		d(p)
	}
}

// put finds a place for a single label and draws it. Where there is none the document is
// refused.
func (f *flow) put(board *label.Board, anchors []label.Anchor, gapMM, width, height float64, draw func(plane.Box)) {
	l := labels{board: board}
	l.put(anchors, gapMM, width, height, draw)
	l.draw(f.page)
	if l.crowded {
		f.crowded = append(f.crowded, errCrowded)
	}
}
