// Package tooth names teeth by the two-digit system of ISO 3950 and says, for a pair of
// teeth in one quadrant, which way the axes of the mechanics point in the mouth.
package tooth

import "fmt"

// Number is a permanent tooth in the two-digit system of ISO 3950: the first digit is
// the quadrant (1 upper right, 2 upper left, 3 lower left, 4 lower right, as the patient
// sees it), the second counts 1 to 8 from the midline.
type Number int

// Valid tells whether n names a permanent tooth.
func (n Number) Valid() bool {
	q, p := n.Quadrant(), n.Place()
	return q >= 1 && q <= 4 && p >= 1 && p <= 8
}

// Quadrant is 1 to 4.
func (n Number) Quadrant() int { return int(n) / 10 }

// Place counts from the midline, 1 to 8.
func (n Number) Place() int { return int(n) % 10 }

// Upper tells whether the tooth is in the upper jaw.
func (n Number) Upper() bool { return n.Quadrant() <= 2 }

// PatientRight tells whether the tooth is on the patient's right.
func (n Number) PatientRight() bool { return n.Quadrant() == 1 || n.Quadrant() == 4 }

// Molar tells whether the tooth is a molar.
func (n Number) Molar() bool { return n.Place() >= 6 }

// Incisor tells whether the tooth is an incisor.
func (n Number) Incisor() bool { return n.Place() <= 2 }

// QuadrantName is such as "lower left".
func (n Number) QuadrantName() string {
	jaw, side := "lower", "left"
	if n.Upper() {
		jaw = "upper"
	}
	if n.PatientRight() {
		side = "right"
	}
	return jaw + " " + side
}

// Name is such as "lower left second molar".
func (n Number) Name() string {
	if !n.Valid() {
		return fmt.Sprintf("tooth %d", int(n))
	}
	names := [...]string{
		"central incisor", "lateral incisor", "canine", "first premolar", "second premolar",
		"first molar", "second molar", "third molar",
	}
	return n.QuadrantName() + " " + names[n.Place()-1]
}
