package casefile

import (
	"strconv"
	"strings"
	"unicode"
)

// join adds a key to the path of its table; keys that are not plain words are quoted.
func join(path, key string) string {
	if strings.ContainsFunc(key, func(r rune) bool {
		return r != '_' && r != '-' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}) || key == "" {
		key = strconv.Quote(key)
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

// shorten keeps a fault to one readable line, whatever was written.
func shorten(s string) string {
	const longest = 40
	s = strings.Map(func(r rune) rune {
		if !unicode.IsGraphic(r) {
			return unicode.ReplacementChar
		}
		return r
	}, s)
	if r := []rune(s); len(r) > longest {
		return string(r[:longest]) + "…"
	}
	return s
}
