package orders

import (
	"errors"
	"regexp"
	"strings"

	"springwright/design/casefile"
)

const numberPattern = `[-+−]?\d+(?:\.\d+)?`

var (
	plainNumber  = regexp.MustCompile(`^` + numberPattern + `$`)
	betweenForm  = regexp.MustCompile(`^(` + numberPattern + `) ?(?:to|bis|a|…|\.\.\.?|–) ?(` + numberPattern + `)$`)
	aroundForm   = regexp.MustCompile(`^(` + numberPattern + `)? ?(?:±|\+/-|\+-) ?(` + numberPattern + `)$`)
	decimalComma = regexp.MustCompile(`\d,\d`)
	thousands    = regexp.MustCompile(`\d[.,]\d+[.,]\d`)
)

// toml is what a cell says as a value of a case file. comma tells that numbers may have a decimal comma. The
// error says what is wrong and, behind a line break, what to do.
func (c column) toml(cell string, comma bool) (string, error) {
	if strings.ContainsAny(cell, "\r\n") {
		return "", errors.New("has a line break in it\nwrite it on one line")
	}
	if decimalComma.MatchString(cell) {
		switch {
		case thousands.MatchString(cell):
			return "", errors.New("has two marks in one number\nwrite it without marks between the thousands")
		case !comma:
			return "", errors.New("has a decimal comma in a list whose cells are divided by commas\nwrite a decimal point, or save the list with semicolons")
		}
		cell = strings.ReplaceAll(cell, ",", ".")
	}
	number := func(s string) string { return strings.TrimPrefix(strings.ReplaceAll(s, "−", "-"), "+") }
	if c.window {
		short := strings.Join(strings.Fields(cell), " ")
		switch m := betweenForm.FindStringSubmatch(short); {
		case m != nil:
			return "{ min = " + number(m[1]) + ", max = " + number(m[2]) + " }", nil
		case short == "free":
			return casefile.Quoted(short), nil
		}
		if m := aroundForm.FindStringSubmatch(short); m != nil {
			value := "0"
			if m[1] != "" {
				value = number(m[1])
			}
			return "{ value = " + value + ", tolerance = " + number(m[2]) + " }", nil
		}
		return "", errors.New("is no window\nwrite 0.3 to 0.6, or 0 ± 0.12, or free")
	}
	if plainNumber.MatchString(cell) {
		return number(cell), nil
	}
	return casefile.Quoted(cell), nil
}
