// Package words has the printed words in every language: one table of phrases a language,
// under the English phrase as the key. Files and the terminal stay English.
package words

import (
	"fmt"
	"maps"
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

// spoken is what there is to know of a language.
type spoken struct {
	name  string // by which it is asked for
	tag   string // of BCP 47
	own   string // what it calls itself
	parts []map[string]string
}

// languages has all that makes a language, but for grammar that hand.go and number.go have of their own.
var languages = [...]spoken{
	English: {name: "en", tag: "en-GB", own: "English"},
	Portuguese: {"pt", "pt-BR", "Português", []map[string]string{
		portuguese, portugueseHand, portugueseDesk, portugueseAsBent, portugueseBent, portugueseActivation, portugueseCourse, portugueseVisit, portugueseJig, portugueseBatch, portugueseDeskMany,
	}},
	Spanish: {"es", "es", "Español", []map[string]string{
		spanish, spanishHand, spanishDesk, spanishAsBent, spanishBent, spanishActivation, spanishCourse, spanishVisit, spanishJig, spanishBatch, spanishDeskMany,
	}},
}

// tables are the phrases of each language; English has none.
var tables = func() (all [len(languages)]map[string]string) {
	for l := range languages {
		all[l] = joined(languages[l].parts...)
	}
	return all
}()

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
	return languages[l].name
}

// Valid tells whether l is one of the languages.
func (l Language) Valid() bool { return l >= 0 && int(l) < len(languages) }

// Names lists the names of all languages.
func Names() (names []string) {
	for _, l := range Languages() {
		names = append(names, l.String())
	}
	return names
}

// Languages lists all languages, English first.
func Languages() (all []Language) {
	for l := range languages {
		all = append(all, Language(l))
	}
	return all
}

// OwnName is what a language calls itself.
func (l Language) OwnName() string { return languages[l].own }

// Tag is the language tag of BCP 47 that PDF and SVG files carry.
func (l Language) Tag() string { return languages[l].tag }

// DecimalComma tells whether numbers are printed with a comma instead of a point.
func (l Language) DecimalComma() bool { return l != English }

// Parse reads a name such as "pt", in capitals or not.
func Parse(name string) (Language, error) {
	for _, l := range Languages() {
		if strings.EqualFold(l.String(), name) {
			return l, nil
		}
	}
	return English, fmt.Errorf("language %q is unknown (allowed: %s)", name, strings.Join(Names(), ", "))
}
