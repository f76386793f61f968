// Package quantity turns written quantities such as "0.017in" or "40 gf" into the units
// of the program (mm, N, N·mm, MPa, rad) and back.
package quantity

import "math"

// Dimension is what a quantity measures.
type Dimension int

const (
	Length  Dimension = iota // inside: mm
	Force                    // inside: N
	Couple                   // inside: N·mm
	Angle                    // inside: rad
	Modulus                  // inside: MPa; also stress
)

// String returns the dimension's name, such as "length".
func (d Dimension) String() string {
	switch d {
	case Force:
		return "force"
	case Couple:
		return "couple"
	case Angle:
		return "angle"
	case Modulus:
		return "modulus or stress"
	default:
		return "length"
	}
}

// Unit is a unit that a user may write.
type Unit struct {
	Symbol    string
	Dimension Dimension
	Size      float64 // one of it in the program's own unit
}

// Inside turns a value in u into the program's own unit.
func (u Unit) Inside(value float64) float64 { return value * u.Size }

// Outside turns a value in the program's own unit into u.
func (u Unit) Outside(inside float64) float64 { return inside / u.Size }

// The units in which keys of files are named.
var (
	Millimetre       = Unit{"mm", Length, 1}
	Newton           = Unit{"N", Force, 1}
	NewtonMillimetre = Unit{"N·mm", Couple, 1}
	Degree           = Unit{"deg", Angle, math.Pi / 180}
	Gigapascal       = Unit{"GPa", Modulus, 1000}
	Megapascal       = Unit{"MPa", Modulus, 1}
)

const (
	inchMM      = 25.4                     // exact: international inch, 1959
	gramForceN  = 0.00980665               // exact: standard gravity 9.80665 m/s², CGPM 1901
	ounceForceN = 0.028349523125 * 9.80665 // exact: international ounce, 1959
	poundForceN = 0.45359237 * 9.80665     // exact: international pound, 1959
	psiMPa      = poundForceN / inchMM / inchMM
)

// units lists what is accepted, usual ones first. Users see the unit's symbol; other
// spellings are accepted too. Spaces and multiplication signs are dropped before a unit
// is looked up.
var units = []struct {
	unit   Unit
	others []string
}{
	{Millimetre, nil},
	{Unit{"cm", Length, 10}, nil},
	{Unit{"m", Length, 1000}, nil},
	{Unit{"µm", Length, 1e-3}, []string{"μm", "um"}}, // micro sign, Greek mu
	{Unit{"in", Length, inchMM}, []string{"inch", "″", `"`}},

	{Newton, nil},
	{Unit{"cN", Force, 0.01}, nil},
	{Unit{"mN", Force, 1e-3}, nil},
	{Unit{"gf", Force, gramForceN}, nil},
	{Unit{"ozf", Force, ounceForceN}, nil},

	{NewtonMillimetre, nil},
	{Unit{"cN·mm", Couple, 0.01}, nil},
	{Unit{"gf·mm", Couple, gramForceN}, nil},
	{Unit{"N·m", Couple, 1000}, nil},
	{Unit{"mN·m", Couple, 1}, nil},

	{Degree, []string{"°"}},
	{Unit{"rad", Angle, 1}, nil},

	{Gigapascal, nil},
	{Megapascal, nil},
	{Unit{"N/mm²", Modulus, 1}, []string{"N/mm2"}},
	{Unit{"ksi", Modulus, 1000 * psiMPa}, nil},
	{Unit{"psi", Modulus, psiMPa}, nil},
}
