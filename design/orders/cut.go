package orders

import (
	"cmp"
	"slices"
)

// Lengths of wire as they are bought and what a cut takes.
const (
	UsualStockMM = 350 // straight lengths of 14 in are 355.6 mm, and their ends are rarely square (common practice, from memory)
	CutLossMM    = 1.0 // what a cutter spoils at either side (choice)
)

// Piece is a piece of wire to be cut.
type Piece struct {
	Order    string
	LengthMM float64
}

// Length is a stock length with the pieces that are cut from it, in that order.
type Length struct {
	Pieces []Piece
	LeftMM float64 // below 0 where a piece is longer than a stock length
}

// Cut lays pieces into stock lengths: the longest first, each into the first length that has room for it. That
// takes at most 11 lengths where 9 would do (Johnson et al., SIAM J Comput 1974;3:299), mostly the fewest.
func Cut(pieces []Piece, stockMM float64) []Length {
	sorted := slices.Clone(pieces)
	slices.SortStableFunc(sorted, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(b.LengthMM, a.LengthMM), cmp.Compare(a.Order, b.Order))
	})
	var lengths []Length
	for _, p := range sorted {
		takes := p.LengthMM + CutLossMM
		at := slices.IndexFunc(lengths, func(l Length) bool { return l.LeftMM >= takes })
		if at < 0 {
			at = len(lengths)
			lengths = append(lengths, Length{LeftMM: stockMM})
		}
		lengths[at].Pieces = append(lengths[at].Pieces, p)
		lengths[at].LeftMM -= takes
	}
	return lengths
}
