package sheet

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// units are what stays on the line of the number before it.
var units = [...]string{"mm", "mm²", "in", "N", "N·mm", "gf", "gf·mm", "GPa", "MPa", "%"}

// unbroken joins each number with the unit behind it, so that a line breaks between neither
// these nor a sign that stands alone and its number, nor within a size such as 2 × 3 mm.
func unbroken(words []string) []string {
	var out []string
	for _, word := range words {
		if last := len(out) - 1; last >= 0 && belongs(out[last], word) {
			out[last] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// belongs tells whether word belongs to what stands before it.
func belongs(before, word string) bool {
	if before == "±" || before == "≤" || strings.HasSuffix(before, " ×") {
		return true
	}
	last, _ := utf8.DecodeLastRuneInString(before)
	return unicode.IsDigit(last) && (word == "×" || slices.Contains(units[:], strings.TrimRight(word, ".,;:)")))
}
