package phrase

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
)

// pattern finds a phrase with placeholders again in a text that was made from it.
type pattern struct {
	key     string
	whole   *regexp.Regexp // a group for each placeholder
	literal int            // letters that are not placeholders
}

var (
	// hyphen is one that stands for a minus: in front of a number and behind no letter or figure.
	hyphen      = regexp.MustCompile(`(^|[ (])-(\d)`)
	placeholder = regexp.MustCompile(`%(?:\[\d\])?[-+.\d]*[sdgfcv]|%%`)
	// figures are what no language changes: numbers, units, signs, classes of geometry.
	figures = regexp.MustCompile(`^[−+±≤]*[\d.,–×…]*[°%]?( ?(mm²?|N|N·mm|N/mm|gf|gf·mm|GPa|MPa|%))?$|^[IVX]+$`)
)

func patternsOf(table map[string]string) []pattern {
	var all []pattern
	for key := range table {
		if !placeholder.MatchString(key) {
			continue
		}
		var b strings.Builder
		literal, from := 0, 0
		for _, at := range placeholder.FindAllStringIndex(key, -1) {
			b.WriteString(regexp.QuoteMeta(key[from:at[0]]))
			literal += at[0] - from
			switch verb := key[at[1]-1]; {
			case key[at[0]:at[1]] == "%%":
				b.WriteString("%")
			case verb == 'd':
				b.WriteString(`(\d+)`)
			case verb == 's' || verb == 'v':
				b.WriteString(`(.+)`)
			default:
				b.WriteString(`([−-]?[\d.]+)`)
			}
			from = at[1]
		}
		b.WriteString(regexp.QuoteMeta(key[from:]))
		literal += len(key) - from
		all = append(all, pattern{key, regexp.MustCompile(`^` + b.String() + `$`), literal})
	}
	// The most telling first; the key breaks ties, so that the order is always the same.
	slices.SortFunc(all, func(a, b pattern) int {
		return cmp.Or(cmp.Compare(b.literal, a.literal), strings.Compare(a.key, b.key))
	})
	return all
}

// Recognised is a text that another package has put together in English, said in the
// book's language: a phrase, a phrase with its placeholders filled in, or a list of those.
// Where some of it is unknown the whole text is left in English and remembered. Hyphens in
// front of numbers become minus signs.
func (b *Book) Recognised(english string) string {
	english = hyphen.ReplaceAllString(english, "${1}−$2")
	if b.Language() == English || english == "" {
		return english
	}
	if own, found := b.read[english]; found {
		return own
	}
	own, found := b.recognise(english)
	if !found {
		b.lacks(english)
		own = english
	}
	b.read[english] = own
	return own
}

func (b *Book) recognise(text string) (string, bool) {
	if figures.MatchString(text) {
		return text, true
	}
	table := tables[b.language]
	if own, found := table[text]; found {
		return own, true
	}
	if b.patterns == nil {
		b.patterns = patternsOf(table)
	}
	for _, p := range b.patterns {
		if own, found := b.filledIn(p, text); found {
			return own, true
		}
	}
	for _, separator := range [...]string{". ", "; ", ", ", " and "} {
		before, after, found := strings.Cut(text, separator)
		if !found {
			continue
		}
		first, known := b.recognise(before)
		if !known {
			continue
		}
		if second, known := b.recognise(after); known {
			if own, found := table[separator]; found {
				separator = own
			}
			return first + separator + second, true
		}
	}
	return "", false
}

// filledIn is a pattern's phrase with what stands in its place holders recognised, too.
func (b *Book) filledIn(p pattern, text string) (string, bool) {
	parts := p.whole.FindStringSubmatch(text)
	if parts == nil {
		return "", false
	}
	for i, part := range parts[1:] {
		own, known := b.recognise(part)
		if !known {
			return "", false
		}
		parts[i+1] = own
	}
	next := 0
	return placeholder.ReplaceAllStringFunc(tables[b.language][p.key], func(verb string) string {
		if verb == "%%" {
			return "%"
		}
		next++
		at := next
		if verb[1] == '[' {
			at = int(verb[2] - '0')
		}
		return parts[at]
	}), true
}
