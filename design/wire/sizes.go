package wire

import "fmt"

// Size is a standard size in thousandths of an inch. A round one has DiameterMil and
// neither of the others.
type Size struct {
	ThicknessMil float64 `json:"thickness_mil,omitempty"`
	WidthMil     float64 `json:"width_mil,omitempty"`
	DiameterMil  float64 `json:"diameter_mil,omitempty"`
}

// MMPerInch is exact (international yard and pound agreement, 1959).
const MMPerInch = 25.4

// sizes are those in common practice.
var sizes = [...]Size{
	{DiameterMil: 12},
	{DiameterMil: 14},
	{DiameterMil: 16},
	{DiameterMil: 18},
	{DiameterMil: 20},
	{ThicknessMil: 16, WidthMil: 16},
	{ThicknessMil: 16, WidthMil: 22},
	{ThicknessMil: 17, WidthMil: 22},
	{ThicknessMil: 17, WidthMil: 25},
	{ThicknessMil: 18, WidthMil: 18},
	{ThicknessMil: 18, WidthMil: 22},
	{ThicknessMil: 18, WidthMil: 25},
	{ThicknessMil: 19, WidthMil: 25},
	{ThicknessMil: 20, WidthMil: 20},
	{ThicknessMil: 21, WidthMil: 25},
	{ThicknessMil: 21.5, WidthMil: 28},
}

// Sizes returns the standard sizes, round ones first, each from thin to thick. The slice is
// the caller's.
func Sizes() []Size { return append([]Size(nil), sizes[:]...) }

// Round tells whether the size is that of a round wire.
func (s Size) Round() bool { return s.DiameterMil > 0 }

// ThicknessMM is nominal, 0 for a round wire.
func (s Size) ThicknessMM() float64 { return mmOfMil(s.ThicknessMil) }

// WidthMM is nominal, 0 for a round wire.
func (s Size) WidthMM() float64 { return mmOfMil(s.WidthMil) }

// DiameterMM is nominal, 0 for a rectangular wire.
func (s Size) DiameterMM() float64 { return mmOfMil(s.DiameterMil) }

// mmOfMil multiplies by whole numbers and divides once, so that 17 gives 0.4318 exactly
// as a reader writes it.
func mmOfMil(mil float64) float64 { return mil * 254 / 10000 }

// String is the size as the trade writes it: "0.014 in" or "0.017 × 0.025 in".
func (s Size) String() string {
	if s.Round() {
		return inchText(s.DiameterMil) + " in"
	}
	return inchText(s.ThicknessMil) + " × " + inchText(s.WidthMil) + " in"
}

// inchText has three decimals, or four for half mils.
func inchText(mil float64) string {
	if mil == float64(int(mil)) {
		return fmt.Sprintf("%.3f", mil/1000)
	}
	return fmt.Sprintf("%.4f", mil/1000)
}
