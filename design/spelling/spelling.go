// Package spelling finds the word that a misspelt one most likely stands for.
package spelling

import "strings"

// Nearest returns the word of words that misspelt most likely stands for, "" where none is
// near: at most a third of its characters may be wrong. The first of equally near ones wins.
func Nearest(misspelt string, words []string) string {
	best, found := 1+max(len(misspelt)/3, 1), ""
	for _, w := range words {
		if d := distance(strings.ToLower(misspelt), strings.ToLower(w), best); d < best {
			best, found = d, w
		}
	}
	return found
}

// Clearly tells whether misspelt stands for word and for none of others: it takes at least
// two mistakes more to come from any of them, and has the word's ending behind its last
// underscore, which in a key is the unit.
func Clearly(misspelt, word string, others []string) bool {
	misspelt, word = strings.ToLower(misspelt), strings.ToLower(word)
	if ending(misspelt) != ending(word) {
		return false
	}
	const apart, far = 2, 1 << 10
	mistakes := distance(misspelt, word, far)
	for _, other := range others {
		if distance(misspelt, strings.ToLower(other), far) < mistakes+apart {
			return false
		}
	}
	return true
}

func ending(key string) string { return key[strings.LastIndex(key, "_")+1:] }

// distance counts the insertions, deletions, replacements and swaps of neighbours that
// turn a into b (optimal string alignment). It need not be exact from limit on.
func distance(a, b string, limit int) int {
	if max(len(a)-len(b), len(b)-len(a)) >= limit {
		return limit
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			replace := last[j-1]
			if a[i-1] != b[j-1] {
				replace++
			}
			row[j] = min(replace, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
