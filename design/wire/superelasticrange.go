package wire

// plateauRiseMPa is by how much the stress rises along a plateau, as in the laws of the table.
const plateauRiseMPa = 40

// superelasticBetween is a law with its plateaus from the lowest stress of each on.
func superelasticBetween(loadMPa, unloadMPa, strain float64) Superelastic {
	return Superelastic{
		LoadStartMPa: loadMPa, LoadEndMPa: loadMPa + plateauRiseMPa,
		UnloadStartMPa: unloadMPa + plateauRiseMPa, UnloadEndMPa: unloadMPa, TransformationStrain: strain,
	}
}

// SuperelasticEnds are the wire with the data of both ends of the range in which superelastic wires
// of its alloy are found: the lowest plateaus with the lowest modulus and the most strain, and the
// highest ones. ok is false for a wire that is not superelastic or has no alloy of the table.
func (w Wire) SuperelasticEnds() (low, high Wire, ok bool) {
	a, err := LookUp(w.Alloy)
	if err != nil || !w.IsSuperelastic() || !a.IsSuperelastic() {
		return w, w, false
	}
	at := func(law Superelastic, modulusMPa float64) Wire {
		end := w
		end.EMPa, end.Superelastic, end.YieldMPa = modulusMPa, law, law.LoadStartMPa
		return end
	}
	return at(a.LowEnd, a.EMPa.Min), at(a.HighEnd, a.EMPa.Max), true
}
