package wire

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// SpecError says why a text names no wire.
type SpecError struct {
	Text    string
	Problem string // such as "has no size"
	Advice  string // what to write instead
}

// Error is what was written and what is wrong with it; the advice is left to a hint.
func (e *SpecError) Error() string { return quoted(e.Text) + " " + e.Problem }

// Sizes that still make sense of an orthodontic wire, mm.
const (
	thinnestMM = 0.05
	thickestMM = 3
)

// sizePattern is a size at the end of a text: "0.014in", "0.016 × 0.022 in", "0.4mm".
var sizePattern = regexp.MustCompile(`(\d*\.?\d+)\s*(?:[x×*]\s*(\d*\.?\d+)\s*)?(in|mm)$`)

const specAdvice = `write the alloy and the size, such as "stainless steel 0.016x0.022in" or "beta-titanium 0.4mm"`

// ParseSpec reads a wire from its alloy and size, the thinner side first and round wires by
// their diameter: "nickel-titanium superelastic 0.014in", "stainless steel 0.016x0.022in".
// The words of the alloy may stand in any order. The error is a *SpecError.
func ParseSpec(text string) (Wire, error) {
	fail := func(problem, advice string) (Wire, error) {
		return Wire{}, &SpecError{Text: text, Problem: problem, Advice: advice}
	}
	text = strings.TrimSpace(text)
	m := sizePattern.FindStringSubmatchIndex(text)
	switch {
	case text == "":
		return fail("names no wire", specAdvice)
	case m == nil:
		return fail("does not end with a size and its unit, in or mm", specAdvice)
	}
	name := strings.TrimSpace(text[:m[0]])
	if name == "" {
		return fail("names no alloy", specAdvice)
	}
	if last, _ := utf8.DecodeLastRuneInString(name); !unicode.IsLetter(last) { // a minus sign, a comma
		return fail(fmt.Sprintf("has a %q before its size", last), specAdvice)
	}
	alloy, err := lookUpWords(name)
	var unknown *UnknownAlloyError
	if errors.As(err, &unknown) {
		advice := "known are " + strings.Join(alloyNames(), ", ")
		if unknown.Nearest != "" {
			advice = fmt.Sprintf("did you mean %q? %s", unknown.Nearest, advice)
		}
		return fail("names no known alloy", advice)
	}
	perUnit := 1.0
	if text[m[6]:m[7]] == "in" {
		perUnit = MMPerInch
	}
	w := alloy.Material()
	first := sizeMM(text[m[2]:m[3]], perUnit)
	if m[4] < 0 {
		w.DiameterMM = first
	} else {
		w.ThicknessMM, w.WidthMM = first, sizeMM(text[m[4]:m[5]], perUnit)
	}
	for _, mm := range [...]float64{w.HeightMM(), w.DepthMM()} {
		if !(mm >= thinnestMM && mm <= thickestMM) {
			return fail(fmt.Sprintf("has a side of %.4g mm, allowed is %g to %d mm", mm, thinnestMM, thickestMM), "check the size and its unit")
		}
	}
	return w, nil
}

// sizeMM rounds away the last bits of the conversion, so that 0.014 in is 0.3556 mm.
func sizeMM(number string, perUnit float64) float64 {
	const perMM = 1e9
	v, err := strconv.ParseFloat(number, 64)
	if err != nil { // too many digits
		return math.NaN()
	}
	return math.Round(v*perUnit*perMM) / perMM
}

func alloyNames() []string {
	var names []string
	for _, a := range alloys {
		names = append(names, a.Name)
	}
	return names
}

// lookUpWords is LookUp for words in any order.
func lookUpWords(name string) (Alloy, error) {
	alloy, err := LookUp(name)
	if err == nil {
		return alloy, nil
	}
	wanted := sortedWords(name)
	for _, a := range alloys {
		if slices.Equal(sortedWords(a.Name), wanted) {
			return a, nil
		}
	}
	return Alloy{}, err
}

func sortedWords(name string) []string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_", r) })
	slices.Sort(words)
	return words
}
