package quantity_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"springwright/design/quantity"
)

// within allows for the rounding of one or two multiplications.
func within(got, want float64) bool { return math.Abs(got-want) <= 4e-16*math.Abs(want) }

func TestParse(t *testing.T) {
	t.Parallel()
	tests := []struct {
		text      string
		dimension quantity.Dimension
		want      float64
	}{
		{"6mm", quantity.Length, 6},
		{" 6 mm ", quantity.Length, 6},
		{"0.017in", quantity.Length, 0.4318},
		{`0.025"`, quantity.Length, 0.635},
		{"0.022 inch", quantity.Length, 0.5588},
		{"500 µm", quantity.Length, 0.5}, // micro sign
		{"500 μm", quantity.Length, 0.5}, // Greek mu
		{".5cm", quantity.Length, 5},
		{"-3.mm", quantity.Length, -3},
		{"−3 mm", quantity.Length, -3},
		{"+2e-3 m", quantity.Length, 2},
		{"1E1mm", quantity.Length, 10},
		{"40gf", quantity.Force, 0.392266},
		{"0.4 N", quantity.Force, 0.4},
		{"25 cN", quantity.Force, 0.25},
		{"1 ozf", quantity.Force, 0.27801385095378125}, // NIST SP 811, app. B.8: 2.780139 E-01 N
		{"100gf·mm", quantity.Couple, 0.980665},
		{"100 gfmm", quantity.Couple, 0.980665},
		{"100 gf mm", quantity.Couple, 0.980665},
		{"3 N*mm", quantity.Couple, 3},
		{"0.003 N⋅m", quantity.Couple, 3},
		{"15deg", quantity.Angle, math.Pi / 12},
		{"180°", quantity.Angle, math.Pi},
		{"1 rad", quantity.Angle, 1},
		{"65 GPa", quantity.Modulus, 65000},
		{"900MPa", quantity.Modulus, 900},
		{"900 N/mm²", quantity.Modulus, 900},
		{"1 psi", quantity.Modulus, 6.894757293168361e-3}, // NIST SP 811, app. B.8: 6.894757 E+03 Pa
	}
	for _, tt := range tests {
		got, err := quantity.Parse(tt.text, tt.dimension)
		if err != nil || !within(got, tt.want) {
			t.Errorf("Parse(%q, %v) = %v, %v, want %v", tt.text, tt.dimension, got, err, tt.want)
		}
	}
}

func TestParseBareTakesTheUnitOfThePlace(t *testing.T) {
	t.Parallel()
	if got, err := quantity.ParseBare("30", quantity.Degree); err != nil || !within(got, math.Pi/6) {
		t.Errorf(`ParseBare("30", Degree) = %v, %v, want %v`, got, err, math.Pi/6)
	}
	if got, err := quantity.ParseBare("0.1 in", quantity.Millimetre); err != nil || !within(got, 2.54) {
		t.Errorf(`ParseBare("0.1 in", Millimetre) = %v, %v, want 2.54`, got, err)
	}
}

func TestParseRefuses(t *testing.T) {
	t.Parallel()
	tests := []struct {
		text      string
		dimension quantity.Dimension
		want      string
	}{
		{"6 kg", quantity.Length, `"6 kg" has the unit "kg", which is no unit of length: write a number and one of the units mm, cm, m, µm, in`},
		{"6 mm", quantity.Force, `"6 mm" has the unit "mm", which is no unit of force: write a number and one of the units N, cN, mN, gf, ozf`},
		{"6", quantity.Couple, `"6" has no unit: write a number and one of the units N·mm, cN·mm, gf·mm, N·m, mN·m`},
		{"", quantity.Angle, `"" does not begin with a number: write a number and one of the units deg, rad`},
		{"65gpa", quantity.Modulus, `"65gpa" has the unit "gpa", which is no unit of modulus or stress: write a number and one of the units GPa, MPa, N/mm², ksi, psi`},
		{"0,017in", quantity.Length, `"0,017in" has a comma in its number: write a decimal point`},
		{"nan mm", quantity.Length, `"nan mm" does not begin with a number: write a number and one of the units mm, cm, m, µm, in`},
		{"-inf mm", quantity.Length, `"-inf mm" does not begin with a number: write a number and one of the units mm, cm, m, µm, in`},
		{".mm", quantity.Length, `".mm" does not begin with a number: write a number and one of the units mm, cm, m, µm, in`},
		{"0x10mm", quantity.Length, `"0x10mm" has the unit "x10mm", which is no unit of length: write a number and one of the units mm, cm, m, µm, in`},
		{"1e999 mm", quantity.Length, `"1e999 mm" is too large a number: write a number and one of the units mm, cm, m, µm, in`},
		{"1e308 m", quantity.Length, `"1e308 m" is too large a number: write a smaller one`},
		{"1 " + strings.Repeat("x", 60), quantity.Force, `"1 ` + strings.Repeat("x", 38) + `…" has the unit "` + strings.Repeat("x", 40) + `…", which is no unit of force: write a number and one of the units N, cN, mN, gf, ozf`},
	}
	for _, tt := range tests {
		got, err := quantity.Parse(tt.text, tt.dimension)
		var parse *quantity.ParseError
		if !errors.As(err, &parse) || err.Error() != tt.want {
			t.Errorf("Parse(%q, %v) = %v, %v, want error %s", tt.text, tt.dimension, got, err, tt.want)
		}
	}
}

func TestFormat(t *testing.T) {
	t.Parallel()
	tests := []struct {
		value float64
		want  string
	}{
		{0, "0"},
		{math.Copysign(0, -1), "0"},
		{0.017 * 25.4, "0.4318"}, // 0.43179999999999996 as a float
		{-3, "-3"},
		{1.0 / 3, "0.33333333333333"},
	}
	for _, tt := range tests {
		if got := quantity.Format(tt.value); got != tt.want {
			t.Errorf("Format(%v) = %s, want %s", tt.value, got, tt.want)
		}
	}
	if got := quantity.Degree.FormatInside(math.Pi / 3); got != "60" {
		t.Errorf("60° is written as %s", got)
	}
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{"0.017in", "40gf", "6mm", "−15°", "100 gf·mm", "1e308 m", ".", "-", "1e", "١mm", "1\xffmm"} {
		f.Add(seed, int(quantity.Length))
	}
	f.Fuzz(func(t *testing.T, text string, dimension int) {
		got, err := quantity.Parse(text, quantity.Dimension(dimension))
		if math.IsNaN(got) || math.IsInf(got, 0) {
			t.Errorf("Parse(%q) = %v", text, got)
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("error of %q has more than one line: %q", text, err)
		}
		if err != nil {
			return
		}
		// What was read and is written in the program's own unit reads the same to
		// within the written digits.
		own := map[quantity.Dimension]string{
			quantity.Length: "mm", quantity.Force: "N", quantity.Couple: "N·mm", quantity.Angle: "rad", quantity.Modulus: "MPa",
		}[quantity.Dimension(dimension)]
		again, err := quantity.Parse(quantity.Format(got)+" "+own, quantity.Dimension(dimension))
		if err != nil || math.Abs(again-got) > 1e-13*math.Abs(got) {
			t.Errorf("%q is %v, written and read again %v, %v", text, got, again, err)
		}
	})
}
