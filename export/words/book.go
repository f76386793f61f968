package words

import (
	"fmt"
	"maps"
	"slices"
	"unicode"
	"unicode/utf8"
)

// Book says phrases in a language. A nil book is English.
type Book struct {
	language Language
	lacks    func(english string) // told of what is left in English; nil: nobody is
}

// NewBook returns the phrases of a language.
func NewBook(l Language) *Book { return &Book{language: l} }

// Language is the book's language.
func (b *Book) Language() Language {
	if b == nil {
		return English
	}
	return b.language
}

// Phrase is an English phrase with its placeholders, the key under which the tables have it.
// TestEveryPhraseIsTranslated finds all that stand in the source by their type.
type Phrase string

// Say is fmt.Sprintf in the book's language; in English where that lacks the phrase.
func (b *Book) Say(english Phrase, args ...any) string {
	format := string(english)
	if b.Language() != English && english != "" {
		if own, found := tables[b.language][format]; found {
			format = own
		} else if b.lacks != nil {
			b.lacks(format)
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

// Capital returns s with a capital first letter.
func Capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}
