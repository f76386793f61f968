package words

import (
	"math"
	"strconv"
	"strings"
)

const degree = math.Pi / 180

// Number writes a number with a fixed number of decimals, by the habit of the language, with a
// true minus sign and never a minus zero.
func (b *Book) Number(v float64, decimals int) string {
	if math.Round(v*math.Pow10(decimals)) == 0 {
		v = 0
	}
	return b.decimals(strconv.FormatFloat(v, 'f', decimals, 64))
}

// Figures writes a number with so many figures at most; −1: as many as it has.
func (b *Book) Figures(v float64, figures int) string {
	return b.decimals(strconv.FormatFloat(v, 'g', figures, 64))
}

// decimals puts the decimal sign and the minus sign of the language into a number.
func (b *Book) decimals(number string) string {
	if b.Language().DecimalComma() {
		number = strings.ReplaceAll(number, ".", ",")
	}
	return strings.ReplaceAll(number, "-", "−")
}

// Degrees writes an angle to a tenth of a degree, whole degrees without decimals.
func (b *Book) Degrees(rad float64) string {
	tenths := math.Round(10 * rad / degree)
	if math.Mod(tenths, 10) == 0 {
		return b.Number(tenths/10, 0) + "°"
	}
	return b.Number(rad/degree, 1) + "°"
}

// Millimetres writes a length to a hundredth, without a trailing zero beyond the first decimal.
func (b *Book) Millimetres(mm float64) string {
	return strings.TrimSuffix(b.Number(mm, 2), "0")
}
