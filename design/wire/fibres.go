package wire

import (
	"math"

	"springwright/design/fibre"
)

// Fibres cuts the wire's section into fibres of its own law: superelastic, or else bilinear
// with kinematic hardening from YieldMPa on with the slope TangentMPa. Its elastic stiffness
// is that of Section; the fibres suffice for loads within about 0.3 % of those of twice as
// many.
func (w Wire) Fibres() *fibre.Section {
	if w.IsSuperelastic() {
		l := w.Superelastic
		return w.cut(fibre.Superelastic{
			EMPa: w.EMPa, GMPa: w.ShearModulusMPa(),
			LoadStartMPa: l.LoadStartMPa, LoadEndMPa: l.LoadEndMPa,
			UnloadStartMPa: l.UnloadStartMPa, UnloadEndMPa: l.UnloadEndMPa,
			TransformationStrain: l.TransformationStrain,
		}, 4, 32)
	}
	return w.cut(w.kinematic(), 6, 16)
}

// ElasticFibres is the section of Fibres without yield.
func (w Wire) ElasticFibres() *fibre.Section {
	law := w.kinematic()
	law.YieldMPa = math.Inf(1)
	return w.cut(law, 2, 4)
}

func (w Wire) kinematic() fibre.Kinematic {
	return fibre.Kinematic{EMPa: w.EMPa, GMPa: w.ShearModulusMPa(), YieldMPa: w.YieldMPa, TangentMPa: w.TangentMPa}
}

func (w Wire) cut(law fibre.Law, across, through int) *fibre.Section {
	if w.Round() {
		return fibre.Round(law, w.DiameterMM, across, through)
	}
	o := w.outline()
	if o.radiusMM == 0 {
		return fibre.Rectangle(law, o.widthMM, o.thicknessMM, o.torsionConstantMM4(), across, through)
	}
	return fibre.RoundedRectangle(law, o.widthMM, o.thicknessMM, o.radiusMM, fibre.Moments{
		AreaMM2: o.areaMM2(), About2MM4: o.inertia2MM4(), About3MM4: o.inertia3MM4(), TorsionMM4: o.torsionConstantMM4(),
	}, across, through)
}
