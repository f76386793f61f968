package export

// shortCautions stands at the foot of every page.
const shortCautions = "For licensed dental professionals. An estimate, not a prescription: the prescriber decides and local rules apply. " +
	"Real wires differ by about a quarter from the nominal stiffness: check with a force gauge before tying."

// cautions are printed in full beside the loads.
var cautions = [...]string{
	"For licensed dental professionals. An estimate, not a prescription: the prescriber decides and local rules apply.",
	"Real wires differ by about a quarter from the nominal stiffness: check with a force gauge before tying.",
	"Keep to the lightest force that works. Root resorption rises with force and time.",
	"Watch the anchor tooth: it extrudes and tips unless it is held.",
	"Keep loops off gum and cheek. Turn in and tie the ends: a loose or broken spring can be swallowed or inhaled.",
	"Ask about nickel allergy: stainless steel and nickel-titanium contain nickel, beta-titanium does not.",
	"Replace a spring that was bent back and forth.",
}
