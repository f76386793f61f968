package quantity

import "strconv"

// Digits is how many significant digits files carry. Values return from a file to within
// a relative 1e-13, and reading and writing again gives the same digits: converting
// degrees and back loses about 2e-16, far less than half of the 14th digit.
const Digits = 14

// Format writes a finite number with Digits significant digits and no trailing zeros;
// minus zero is written as 0.
func Format(value float64) string {
	if value == 0 {
		return "0"
	}
	return strconv.FormatFloat(value, 'g', Digits, 64)
}

// FormatInside writes a value in the program's own unit as a number in u.
func (u Unit) FormatInside(inside float64) string { return Format(u.Outside(inside)) }
