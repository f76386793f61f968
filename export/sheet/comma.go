package sheet

import (
	"regexp"
	"strings"
)

// quantity is a word that is a number, perhaps several joined by a multiplication sign, or a
// scale, with what stands round it in a sentence. Versions, codes and links are none.
var quantity = regexp.MustCompile(`^[(+−±≤Ø]*\d+\.\d+(×\d+\.\d+)*(:1)?[%°).,;:]*$`)

// withCommas writes decimal commas for decimal points. In both weights of the typeface they
// are equally wide, so that a text may be measured before.
func withCommas(text string) string {
	if !strings.Contains(text, ".") {
		return text
	}
	words := strings.Split(text, " ")
	for i, word := range words {
		if !quantity.MatchString(word) {
			continue
		}
		end := len(strings.TrimRight(word, ".,;:"))
		words[i] = strings.ReplaceAll(word[:end], ".", ",") + word[end:]
	}
	return strings.Join(words, " ")
}
