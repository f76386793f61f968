package wire

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Strength tells how near a wire's section is to yield under moments. It is worked out
// once a wire and then cheap to ask.
//
// Bending stresses are linear over the section, twist gives Saint-Venant shear, and the
// two combine by von Mises: √(σ² + 3τ²). The shear of transverse forces is left out; in
// springs some 20 thicknesses long it is a few per cent of the bending stress and zero
// where bending is greatest.
type Strength struct {
	round    station
	stations []station
}

// station is a point of the section's boundary: stress over yield for a unit moment, in
// 1/(N·mm). Twist stands for √3 times the shear.
type station struct {
	twist, bend2, bend3 float64
}

// StressRatio is the largest equivalent stress in the section over the yield stress under
// a moment in N·mm on the section frame: X twist, Y about d2 (bends the thickness), Z
// about d3 (bends the width). The wire must have a size and a yield stress. Where many
// moments are asked for, use Strength.
func (w Wire) StressRatio(moment r3.Vec) float64 { return w.Strength().Ratio(moment) }

// Ratio is the largest equivalent stress in the section over the yield stress under a
// moment in N·mm on the section frame, as in Wire.StressRatio. It never falls short of the
// exact ratio: for sharp edges it equals it in pure bending and pure twist and exceeds it
// by less than 1 % in between. With rounded edges the shear of the sharp section stands in
// on the flat faces, and the ratio exceeds the exact one by up to 1.5 % for usual radii
// (a sixth of the thickness), 5 % for a third and 15 % for a half; on the arcs of tiny radii
// it may fall short by 0.02 %, the error of the torsion fit there.
func (s Strength) Ratio(moment r3.Vec) float64 {
	if s.stations == nil {
		return math.Sqrt(square(s.round.twist*moment.X) + square(s.round.bend2)*(square(moment.Y)+square(moment.Z)))
	}
	twist, about2, about3 := math.Abs(moment.X), math.Abs(moment.Y), math.Abs(moment.Z)
	var worst float64
	for _, p := range s.stations {
		worst = max(worst, square(p.twist*twist)+square(p.bend2*about2+p.bend3*about3))
	}
	return math.Sqrt(worst)
}

func square(x float64) float64 { return x * x }

// YieldMomentNMM has the moments that, each alone, bring the section to yield: X twist, Y
// about d2, Z about d3. Classical; twist of a rectangle with sharp edges by Timoshenko and
// Goodier.
func (w Wire) YieldMomentNMM() r3.Vec {
	s := w.Strength()
	return r3.Vec{X: 1 / s.Ratio(r3.Vec{X: 1}), Y: 1 / s.Ratio(r3.Vec{Y: 1}), Z: 1 / s.Ratio(r3.Vec{Z: 1})}
}

// PlasticMomentNMM has the moments that, each alone, make the whole section yield, for a
// material that does not harden: X twist, Y about d2, Z about d3. Twist by the sand heap
// (Nádai): twice the shear yield stress times the volume under the distance to the edge.
func (w Wire) PlasticMomentNMM() r3.Vec {
	shearYieldMPa := w.YieldMPa / math.Sqrt(3)
	if w.Round() {
		d3 := w.DiameterMM * w.DiameterMM * w.DiameterMM
		return r3.Vec{X: shearYieldMPa * math.Pi * d3 / 12, Y: w.YieldMPa * d3 / 6, Z: w.YieldMPa * d3 / 6}
	}
	o := w.outline()
	r := o.radiusMM
	thin, wide := math.Min(o.thicknessMM, o.widthMM), math.Max(o.thicknessMM, o.widthMM)
	return r3.Vec{
		X: shearYieldMPa * (thin*thin*(3*wide-thin)/6 - 2*(4-math.Pi)*r*r*r/3),
		Y: w.YieldMPa * plasticModulusMM3(o.thicknessMM, o.widthMM, r),
		Z: w.YieldMPa * plasticModulusMM3(o.widthMM, o.thicknessMM, r),
	}
}

// Strength returns what is needed to ask for stress ratios of the wire.
func (w Wire) Strength() Strength {
	if w.Round() {
		d3 := w.DiameterMM * w.DiameterMM * w.DiameterMM
		bend := 32 / (math.Pi * d3 * w.YieldMPa)
		return Strength{round: station{twist: math.Sqrt(3) / 2 * bend, bend2: bend, bend3: bend}}
	}
	o := w.outline()
	field, rounded := o.torsionField()
	constant := field.constantMM4
	if !rounded {
		constant = torsionConstant(o.thicknessMM, o.widthMM)
	}
	perShear := math.Sqrt(3) / (constant * w.YieldMPa)
	per2 := 1 / (o.inertia2MM4() * w.YieldMPa)
	per3 := 1 / (o.inertia3MM4() * w.YieldMPa)
	halfThickness, halfWidth := o.thicknessMM/2, o.widthMM/2

	stations := make([]station, 0, 2*(len(tangentPoints)+1)+2*arcPieces+1)
	for _, p := range faceShear(o.widthMM, o.thicknessMM, halfWidth-o.radiusMM) {
		stations = append(stations, station{p.shearMM * perShear, halfThickness * per2, p.alongMM * per3})
	}
	for _, p := range faceShear(o.thicknessMM, o.widthMM, halfThickness-o.radiusMM) {
		stations = append(stations, station{p.shearMM * perShear, p.alongMM * per2, halfWidth * per3})
	}
	if rounded {
		for _, p := range o.arcShear(field) {
			stations = append(stations, station{p.shearMM * perShear, imag(p.at) * per2, real(p.at) * per3})
		}
	}
	return Strength{stations: stations}
}
