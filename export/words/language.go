// Package words has the printed words in every language: one table of phrases a language,
// under the English phrase as the key. Files and the terminal stay English.
package words

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Language is a language of the printed words. The zero value is English.
type Language int

// The languages.
const (
	English Language = iota
	Portuguese
	Spanish
)

var (
	names = [...]string{English: "en", Portuguese: "pt", Spanish: "es"}
	tags  = [...]string{English: "en-GB", Portuguese: "pt-BR", Spanish: "es"}
	parts = [...][]map[string]string{
		Portuguese: {portuguese, portugueseHand, portugueseDesk, portugueseAsBent, portugueseBent, portugueseActivation, portugueseCourse, portugueseVisit, portugueseJig, portugueseBatch, portugueseDeskMany},
		Spanish:    {spanish, spanishHand, spanishDesk, spanishAsBent, spanishBent, spanishActivation, spanishCourse, spanishVisit, spanishJig, spanishBatch, spanishDeskMany},
	}
	tables = [...]map[string]string{Portuguese: joined(parts[Portuguese]...), Spanish: joined(parts[Spanish]...)}
)

// joined is one table of several that share no phrase.
func joined(parts ...map[string]string) map[string]string {
	all := map[string]string{}
	for _, part := range parts {
		maps.Copy(all, part)
	}
	return all
}

// String is the name by which a language is asked for.
func (l Language) String() string {
	if !l.Valid() {
		return fmt.Sprintf("language %d", int(l))
	}
	return names[l]
}

// Valid tells whether l is one of the languages.
func (l Language) Valid() bool { return l >= 0 && int(l) < len(names) }

// Names lists the names of all languages.
func Names() []string { return slices.Clone(names[:]) }

// Tag is the language tag of BCP 47 that PDF and SVG files carry.
func (l Language) Tag() string { return tags[l] }

// DecimalComma tells whether numbers are printed with a comma instead of a point.
func (l Language) DecimalComma() bool { return l != English }

// Parse reads a name such as "pt", in capitals or not.
func Parse(name string) (Language, error) {
	for i, known := range names {
		if strings.EqualFold(known, name) {
			return Language(i), nil
		}
	}
	return English, fmt.Errorf("language %q is unknown (allowed: %s)", name, strings.Join(names[:], ", "))
}
