package wire

import (
	"math"

	"springwright/design/beam"
)

// ShearModulusMPa is E/(2(1+ν)).
func (w Wire) ShearModulusMPa() float64 { return w.EMPa / (2 * (1 + w.Poisson)) }

// Section is the stiffness of the wire, nominal size, sharp edges.
//
// Shear coefficients: Cowper, J. Appl. Mech. 33 (1966) 335: rectangle
// 10(1+ν)/(12+11ν), circle 6(1+ν)/(7+6ν).
func (w Wire) Section() beam.Section {
	e, g, nu := w.EMPa, w.ShearModulusMPa(), w.Poisson
	if w.Round() {
		d := w.DiameterMM
		area, inertia := math.Pi*d*d/4, math.Pi*d*d*d*d/64
		shear := 6 * (1 + nu) / (7 + 6*nu) * g * area
		return beam.Section{EA: e * area, GA2: shear, GA3: shear, GJ: 2 * g * inertia, EI2: e * inertia, EI3: e * inertia}
	}
	t, b := w.ThicknessMM, w.WidthMM
	shear := 10 * (1 + nu) / (12 + 11*nu) * g * t * b
	return beam.Section{
		EA:  e * t * b,
		GA2: shear,
		GA3: shear,
		GJ:  g * torsionConstant(t, b),
		EI2: e * b * t * t * t / 12,
		EI3: e * t * b * b * b / 12,
	}
}
