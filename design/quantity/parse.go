package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ParseError says why a text is not a quantity of the wanted dimension.
type ParseError struct {
	Text      string    // what was written
	Dimension Dimension // what was wanted
	Problem   string    // such as `has the unit "kg", which is no unit of length`
	Advice    string    // what to write instead, with the units that are accepted
}

// Error is one line: what was written, what is wrong with it, what to write.
func (e *ParseError) Error() string {
	return e.Summary() + ": " + e.Advice
}

// Summary is the error without the advice.
func (e *ParseError) Summary() string { return fmt.Sprintf("%q %s", e.Text, e.Problem) }

// Parse reads a number and its unit, such as "0.017in", "100 gf·mm" or "−15°", and
// returns it in the program's own unit. The number has a decimal point, no thousands
// separators, and may have an exponent. The error is a *ParseError.
func Parse(text string, d Dimension) (float64, error) {
	return parse(text, d, nil)
}

// ParseBare is Parse for places that name their unit: a number without a unit is in bare.
func ParseBare(text string, bare Unit) (float64, error) {
	return parse(text, bare.Dimension, &bare)
}

func parse(text string, d Dimension, bare *Unit) (float64, error) {
	fail := func(problem, advice string) (float64, error) {
		return 0, &ParseError{Text: shorten(text), Dimension: d, Problem: problem, Advice: advice}
	}
	example := "write a number and one of the units " + Accepted(d)

	number, symbol := split(strings.TrimSpace(text))
	switch {
	case number == "":
		return fail("does not begin with a number", example)
	case strings.HasPrefix(symbol, ","):
		return fail("has a comma in its number", "write a decimal point")
	}
	value, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(value, 0) {
		return fail("is too large a number", example)
	}
	if symbol == "" {
		if bare == nil {
			return fail("has no unit", example)
		}
		return finite(bare.Inside(value), fail)
	}
	unit, ok := find(symbol, d)
	if !ok {
		return fail(fmt.Sprintf("has the unit %q, which is no unit of %s", shorten(symbol), d), example)
	}
	return finite(unit.Inside(value), fail)
}

func finite(value float64, fail func(problem, advice string) (float64, error)) (float64, error) {
	if math.IsInf(value, 0) || math.IsNaN(value) {
		return fail("is too large a number", "write a smaller one")
	}
	return value, nil
}

// Accepted lists the units accepted for a dimension, such as "mm, cm, m, µm, in".
func Accepted(d Dimension) string {
	var symbols []string
	for _, u := range units {
		if u.unit.Dimension == d {
			symbols = append(symbols, u.unit.Symbol)
		}
	}
	return strings.Join(symbols, ", ")
}

func find(symbol string, d Dimension) (Unit, bool) {
	plain := withoutProductSigns(symbol)
	for _, u := range units {
		if u.unit.Dimension != d {
			continue
		}
		for _, spelling := range append([]string{u.unit.Symbol}, u.others...) {
			if withoutProductSigns(spelling) == plain {
				return u.unit, true
			}
		}
	}
	return Unit{}, false
}

func withoutProductSigns(symbol string) string {
	return strings.NewReplacer(" ", "", "·", "", "⋅", "", "*", "").Replace(symbol)
}

// split cuts text into a decimal number, its sign written in ASCII, and the rest.
func split(text string) (number, rest string) {
	sign, body := "", text
	for _, s := range []struct{ written, ascii string }{{"-", "-"}, {"+", ""}, {"−", "-"}} {
		if after, found := strings.CutPrefix(text, s.written); found {
			sign, body = s.ascii, after
			break
		}
	}
	whole := digits(body)
	end := whole
	fraction := 0
	if end < len(body) && body[end] == '.' {
		fraction = digits(body[end+1:])
		end += 1 + fraction
	}
	if whole+fraction == 0 {
		return "", text
	}
	end += exponent(body[end:])
	return sign + body[:end], strings.TrimSpace(body[end:])
}

// exponent is the length of a decimal exponent at the start of s, 0 if there is none.
func exponent(s string) int {
	if s == "" || (s[0] != 'e' && s[0] != 'E') {
		return 0
	}
	start := 1
	if start < len(s) && (s[start] == '+' || s[start] == '-') {
		start++
	}
	n := digits(s[start:])
	if n == 0 {
		return 0
	}
	return start + n
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// shorten keeps error texts readable when somebody hands in a page of text.
func shorten(s string) string {
	const longest = 40
	if r := []rune(s); len(r) > longest {
		return string(r[:longest]) + "…"
	}
	return s
}

// InInches tells whether a text is a length written in inches.
func InInches(text string) bool {
	number, symbol := split(strings.TrimSpace(text))
	unit, ok := find(symbol, Length)
	return number != "" && ok && unit.Size == inchMM
}
