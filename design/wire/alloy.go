package wire

import "math"

// Property is a material value with its usual spread and where it comes from. Min and Max
// are equal to Value where no spread is known.
type Property struct {
	Value, Min, Max float64
	Source          string
}

// Superelastic has the stresses at which a nickel-titanium wire at mouth temperature turns
// into martensite under load and back when let go, and the strain that the turning adds:
// the one-dimensional law of Auricchio and Sacco, Int J Non-Linear Mech 1997;32:1101.
// The zero value is no superelastic wire.
type Superelastic struct {
	LoadStartMPa, LoadEndMPa     float64
	UnloadStartMPa, UnloadEndMPa float64
	TransformationStrain         float64
	Source                       string
}

// StartingAt returns the law with its plateaus shifted so that the upper one starts at a
// stress, as another temperature shifts them (Clausius and Clapeyron). ok is false where
// the wire would not turn back by itself any more.
func (l Superelastic) StartingAt(loadStartMPa float64) (shifted Superelastic, ok bool) {
	by := loadStartMPa - l.LoadStartMPa
	l.LoadStartMPa += by
	l.LoadEndMPa += by
	l.UnloadStartMPa += by
	l.UnloadEndMPa += by
	return l, l.UnloadEndMPa > 0
}

// Alloy is what wires are made of, at room or mouth temperature.
type Alloy struct {
	Name         string // as in files and in print
	EMPa         Property
	Poisson      Property
	YieldMPa     Property // 0.2 % proof stress; of a superelastic alloy the start of its plateau
	TangentMPa   float64  // slope past yield; 0: no published value is known
	Superelastic Superelastic
	// LowEnd and HighEnd are the law at both ends of the range that Superelastic.Source tells.
	LowEnd, HighEnd Superelastic
	Nickel          bool // contains nickel: ask about allergy
	// BendsBack tells that the wire may be straightened and bent again at one place. Others break
	// there (common practice), and so a new alloy does until its row says otherwise.
	BendsBack bool
	Friction  Friction // in a slot of steel; the zero value: not measured, see FrictionRange

	FirstDayLoss Relaxation // of superelastic alloys nothing is known
}

// IsSuperelastic tells whether the alloy follows a superelastic law rather than yielding.
func (a Alloy) IsSuperelastic() bool { return a.Superelastic.LoadStartMPa > 0 }

// ShearModulusMPa is E/(2(1+ν)).
func (a Alloy) ShearModulusMPa() float64 { return a.Material().ShearModulusMPa() }

// Material is a wire of this alloy that has no size yet.
func (a Alloy) Material() Wire {
	return Wire{
		Alloy: a.Name, EMPa: a.EMPa.Value, Poisson: a.Poisson.Value, YieldMPa: a.YieldMPa.Value,
		TangentMPa: a.TangentMPa, Superelastic: a.Superelastic,
	}
}

const (
	fromMemory   = "from memory"
	goldberg     = "Goldberg, Vanderby, Burstone, J Dent Res 1977: drawn wire a fifth below the bulk's 193–200 GPa"
	papageorgiou = "Papageorgiou et al., Prog Orthod 2017;18:6"
	kusy         = "Kusy et al., Angle Orthod 1991;61:293"
	plateauStart = "start of the plateau, from memory"
	apparent     = "apparent, of austenite; from memory"
)

// alloys is the table behind Alloys.
var alloys = [...]Alloy{
	{
		Name:     "beta-titanium",
		EMPa:     Property{65000, 62000, 72000, papageorgiou + " (value); range from memory"},
		Poisson:  Property{0.30, 0.30, 0.33, papageorgiou + " (value); range from memory"},
		YieldMPa: Property{900, 690, 1200, fromMemory},
		Friction: Friction{0.2, 0.5, kusy + ", half the dry value to the dry value, widened"},

		FirstDayLoss: Relaxation{0.05, 0.10, betaTitaniumRelaxation},
	},
	{
		Name:     "stainless steel",
		EMPa:     Property{170000, 160000, 180000, goldberg},
		Poisson:  Property{0.29, 0.29, 0.29, fromMemory},
		YieldMPa: Property{1400, 1100, 1800, fromMemory},
		Friction: Friction{0.14, 0.19, kusy + ", dry and wet"},
		Nickel:   true, BendsBack: true,

		FirstDayLoss: Relaxation{0, 0.03, "little, from memory; no published value is known"},
	},
	{
		Name:     "cobalt-chromium",
		EMPa:     Property{180000, 160000, 200000, fromMemory},
		Poisson:  Property{0.30, 0.30, 0.30, fromMemory},
		YieldMPa: Property{900, 830, 1000, "as supplied soft, 20–50 % more after heat treatment; from memory"},
		Nickel:   true, BendsBack: true,

		FirstDayLoss: Relaxation{0, 0.03, "as steel, from memory; no published value is known"},
	},
	{
		Name:     "titanium-niobium",
		EMPa:     Property{72000, 65000, 80000, "about half the bending stiffness of steel: Dalstra et al. 2000, doi 10.1034/j.1600-0544.2000.030103.x; value from memory"},
		Poisson:  Property{0.33, 0.33, 0.33, "from memory; the same paper found a third of steel's torsion stiffness, so G may be lower"},
		YieldMPa: Property{550, 500, 600, fromMemory},

		FirstDayLoss: Relaxation{0.05, 0.10, "as beta-titanium (choice); no published value is known"},
	},
	{
		Name:     "superelastic nickel-titanium",
		EMPa:     Property{50000, 40000, 75000, apparent},
		Poisson:  Property{0.33, 0.33, 0.33, fromMemory},
		YieldMPa: Property{400, 350, 550, plateauStart},
		Superelastic: Superelastic{
			LoadStartMPa: 400, LoadEndMPa: 440, UnloadStartMPa: 200, UnloadEndMPa: 160, TransformationStrain: 0.06,
			Source: "at 37 °C, from memory: plateau 350–550 MPa loading, 120–300 MPa unloading; strain 0.05–0.08",
		},
		LowEnd:  superelasticBetween(350, 120, 0.08),
		HighEnd: superelasticBetween(550-plateauRiseMPa, 300-plateauRiseMPa, 0.05),
		Nickel:  true, BendsBack: true,
	},
	{
		Name:     "heat-activated nickel-titanium",
		EMPa:     Property{50000, 40000, 75000, apparent},
		Poisson:  Property{0.33, 0.33, 0.33, fromMemory},
		YieldMPa: Property{300, 250, 400, plateauStart},
		Superelastic: Superelastic{
			LoadStartMPa: 300, LoadEndMPa: 340, UnloadStartMPa: 130, UnloadEndMPa: 90, TransformationStrain: 0.06,
			Source: "at 37 °C, from memory: plateau 250–400 MPa loading, 50–180 MPa unloading; 6–7 MPa more for each K",
		},
		LowEnd:  superelasticBetween(250, 50, 0.08),
		HighEnd: superelasticBetween(400-plateauRiseMPa, 180-plateauRiseMPa, 0.05),
		Nickel:  true, BendsBack: true,
	},
}

// Alloys returns all alloys known by name, in the order of a listing. The slice is the
// caller's.
func Alloys() []Alloy { return append([]Alloy(nil), alloys[:]...) }

// UnknownAlloyError is a name that no alloy has.
type UnknownAlloyError struct {
	Name    string
	Nearest string // the name most likely meant, "" where more than half of every name's letters differ
}

// Error names the wrong name; the nearest one is left to a hint.
func (e *UnknownAlloyError) Error() string { return "no alloy is called " + quoted(e.Name) }

// LookUp returns the alloy with a name; small and capital letters, spaces, hyphens and
// underscores are not told apart. The error is an *UnknownAlloyError.
func LookUp(name string) (Alloy, error) {
	wanted := folded(name)
	nearest, best := "", math.MaxInt
	for _, a := range alloys {
		have := folded(a.Name)
		if have == wanted {
			return a, nil
		}
		if d := editDistance(wanted, have); d < best && d <= len(have)/2 {
			nearest, best = a.Name, d
		}
	}
	return Alloy{}, &UnknownAlloyError{Name: name, Nearest: nearest}
}
