package wire

import (
	"strconv"
	"strings"
)

// longestName is how much of a wrong name is looked at and repeated.
const longestName = 60

func quoted(name string) string {
	if runes := []rune(name); len(runes) > longestName {
		name = string(runes[:longestName]) + "…"
	}
	return strconv.Quote(name)
}

// folded drops what readers do not tell apart.
func folded(name string) string {
	return strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(name))
}

// editDistance counts the letters to insert, drop or replace to turn a into b
// (Levenshtein). Of a, no more than longestName runes are looked at.
func editDistance(a, b string) int {
	from, to := []rune(a), []rune(b)
	from = from[:min(len(from), longestName)]
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range from {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range to {
			replaced := diagonal
			if x != y {
				replaced++
			}
			diagonal = row[j+1]
			row[j+1] = min(replaced, diagonal+1, row[j]+1)
		}
	}
	return row[len(to)]
}
