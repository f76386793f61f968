package casefile

import "springwright/design/wire"

// alloys are the alloys that files may name, elastic constants at room or mouth
// temperature. The nickel-titaniums are missing: no single modulus describes them.
var alloys = []wire.Wire{
	// E 62–72 GPa, default 65, and ν 0.30: Papageorgiou et al., Prog Orthod 2017;18:6,
	// table 1. Yield 690–1200 MPa, default 900: from memory.
	{Alloy: "beta-titanium", EMPa: 65000, Poisson: 0.30, YieldMPa: 900},
	// Drawn wire is about a fifth softer than the bulk's 193–200 GPa: Goldberg, Vanderby,
	// Burstone, J Dent Res 1977. ν and yield 1100–1800 MPa: from memory.
	{Alloy: "stainless steel", EMPa: 170000, Poisson: 0.29, YieldMPa: 1400},
	// E 160–200 GPa, ν, yield 830–1000 MPa as supplied soft: from memory.
	{Alloy: "cobalt-chromium", EMPa: 180000, Poisson: 0.30, YieldMPa: 900},
	// About half the bending stiffness of steel: Dalstra et al., 2000,
	// doi 10.1034/j.1600-0544.2000.030103.x. E 65–80 GPa, ν and yield 500–600 MPa: from
	// memory.
	{Alloy: "titanium-niobium", EMPa: 72000, Poisson: 0.33, YieldMPa: 550},
}

func alloyNames() []string {
	names := make([]string, len(alloys))
	for i, a := range alloys {
		names[i] = a.Alloy
	}
	return names
}

// ofAlloy returns a wire of no size.
func ofAlloy(name string) (w wire.Wire, ok bool) {
	for _, a := range alloys {
		if a.Alloy == name {
			return a, true
		}
	}
	return wire.Wire{}, false
}
