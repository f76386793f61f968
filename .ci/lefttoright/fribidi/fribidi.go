// Package fribidi stands in for the one of that name which the drawing package asks for the
// direction of each letter. The sheets are in languages that run from left to right, so the
// answer is always the same; the downloadable program is built with this package and thus
// without the only part of it that is not under a permissive licence.
package fribidi

// CharType is a letter's direction.
type CharType uint32

// What the drawing package passes.
const (
	ON           CharType = 0
	DefaultFlags          = 0
)

// Visual holds the level of each letter: 0 runs from left to right.
type Visual struct{ EmbeddingLevels []int8 }

// LogicalToVisual gives every letter level 0.
func LogicalToVisual(_ int, letters []rune, _ *CharType) (Visual, int8) {
	return Visual{EmbeddingLevels: make([]int8, len(letters))}, 1
}
