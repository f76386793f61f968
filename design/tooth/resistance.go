package tooth

// Resistance is where a tooth's centre of resistance lies, from the centre of its slot.
type Resistance struct {
	InwardMM float64 // towards tongue or palate
	DistalMM float64
	ApicalMM float64
	// SpreadMM is one standard deviation of each, in that order; 0 where it is not known.
	SpreadMM [3]float64
	// LeverMM2 is how the root's hold against turning compares with that against shifting:
	// the square of a length. With a moment M about the centre and a force F the tooth turns
	// about a point LeverMM2·F/M from the centre.
	LeverMM2 float64
	Source   string
	Guess    bool // no measurement of this tooth stands behind the place
	// LeverGuess tells that LeverMM2 is no measurement either; it never is by default.
	LeverGuess bool
}

// leverShare times the square of the root's length in bone is LeverMM2: 0.068 for a root
// shaped like a paraboloid in an even ligament (Burstone and Pryputniewicz, Am J Orthod
// 1980;77:396; the value from memory).
const leverShare = 0.068

// ResistanceOf returns the usual place for a tooth. Measurements exist here for the upper
// first molar alone; what stands for any other tooth is a guess and says so. What is published of
// others, by finite elements or as a share of the root, stands beside it in testdata/validation.
func ResistanceOf(n Number) Resistance {
	const molarRootMM, frontRootMM = 11, 12 // length in bone (from memory)
	molar := Resistance{
		InwardMM: 4.94, DistalMM: 2.54, ApicalMM: 7.86,
		SpreadMM: [3]float64{1.39, 2.7, 1.66},
		LeverMM2: leverShare * molarRootMM * molarRootMM, LeverGuess: true,
		Source: "computed tomography of 50 upper first molars, from the centre of the buccal crown surface",
	}
	switch {
	case n.Upper() && n.Place() == 6:
		return molar
	case n.Place() == 6:
		molar.Source = "the upper first molar's; no measurement of the lower one"
	case n.Molar():
		molar.ApicalMM -= 0.5
		molar.Source = "the upper first molar's, 0.5 mm less apical; no measurement of this tooth"
	case n.Place() >= 4:
		molar = Resistance{
			InwardMM: 4, ApicalMM: 9, LeverMM2: leverShare * frontRootMM * frontRootMM, LeverGuess: true,
			Source: "a premolar's usual size (from memory)",
		}
	default:
		molar = Resistance{
			InwardMM: 4, ApicalMM: 10, LeverMM2: leverShare * frontRootMM * frontRootMM, LeverGuess: true,
			Source: "a front tooth's usual size (from memory)",
		}
	}
	molar.Guess = true
	return molar
}
