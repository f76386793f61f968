package wire

// Relaxation is the share of its loads that a spring loses in the first day in the mouth,
// because its wire creeps where it is strained: from Low to High. The zero value says that
// nothing is known.
type Relaxation struct {
	Low, High float64
	Source    string
}

// Known tells whether there is anything to reckon with.
func (r Relaxation) Known() bool { return r.High > 0 }

// betaTitaniumRelaxation cites what is published of it: that it comes mostly in the first day,
// with the ratio of couple to force as it was, and two losses in newtons of springs whose
// forces at the start we have not seen.
const betaTitaniumRelaxation = "from memory; most of it in the first day, moment to force unchanged: Am J Orthod Dentofacial Orthop 2011;140:e85; " +
	"cantilevers lost 0.11 and 0.18 N in a day: Dental Press J Orthod 2021;26(6):e212069"

// FirstDayLoss is the alloy's relaxation, by the name of the alloy, which a wire given by its
// moduli alone does not have.
func (w Wire) FirstDayLoss() Relaxation {
	alloy, err := LookUp(w.Alloy)
	if err != nil {
		return Relaxation{}
	}
	return alloy.FirstDayLoss
}
