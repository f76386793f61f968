package phrase

import (
	"fmt"
	"maps"
	"slices"
)

// Book says phrases in a language and remembers those that it has to leave in English. A
// nil book is English. It is not for use by several goroutines at once.
type Book struct {
	language Language
	missing  []string
	patterns []pattern         // made when first needed
	read     map[string]string // what Recognised has found
}

// NewBook returns the phrases of a language.
func NewBook(l Language) *Book { return &Book{language: l, read: map[string]string{}} }

// Language is the book's language.
func (b *Book) Language() Language {
	if b == nil {
		return English
	}
	return b.language
}

// Say is fmt.Sprintf in the book's language. The key is the English phrase with its
// placeholders; one that the language lacks is said in English and remembered.
func (b *Book) Say(english string, args ...any) string {
	format := english
	if b.Language() != English && english != "" {
		if own, found := tables[b.language][english]; found {
			format = own
		} else {
			b.lacks(english)
		}
	}
	return fmt.Sprintf(format, args...)
}

// Name says a word where the language has it, and else leaves it: names that the user gave.
func (b *Book) Name(english string) string {
	if b.Language() == English {
		return english
	}
	if own, found := tables[b.language][english]; found {
		return own
	}
	return english
}

// Phrases lists all English phrases that have a translation, sorted.
func Phrases() []string { return slices.Sorted(maps.Keys(tables[Portuguese])) }

// Missing lists the phrases that were left in English, sorted.
func (b *Book) Missing() []string {
	if b == nil {
		return nil
	}
	return b.missing
}

func (b *Book) lacks(english string) {
	if i, found := slices.BinarySearch(b.missing, english); !found {
		b.missing = slices.Insert(b.missing, i, english)
	}
}
