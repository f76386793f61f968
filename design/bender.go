package design

import (
	"math"
)

// Bender is the hand that bends a spring and the measurements and the wire it works with: how
// far each is off, as standard deviations. The errors are independent of each other. The
// zero value is a perfect hand.
//
// A wire is bent lying flat on its template, so that a bend or a length is off but no bend
// leaves its plane.
type Bender struct {
	AngleSDRad  float64 // of each bend and twist
	LengthSDMM  float64 // of each straight
	SlotSDMM    float64 // of the measured place of the active slot, along each axis
	SlotSDRad   float64 // of its measured turn, about each axis
	StiffnessSD float64 // of the wire, as a share of the nominal stiffness
	GaugeSDN    float64 // of the gauge that reads the force to which a wire is drawn

	// Checks tells that the finished spring is held against the template in its passive
	// shape, and adjusted until its free end lies where it is printed, as far as the eye can
	// tell: CheckSDMM and CheckSDRad are what it reads wrong, along and about each axis. The
	// bends and lengths are taken to be put right where they most likely went wrong.
	Checks     bool
	CheckSDMM  float64
	CheckSDRad float64

	Springs int // springs bent in trial after a search; 0: none
}

// Perfect tells whether nothing is ever off.
func (b Bender) Perfect() bool {
	return b.AngleSDRad == 0 && b.LengthSDMM == 0 && b.SlotSDMM == 0 && b.SlotSDRad == 0 && b.StiffnessSD == 0
}

// SkilledBender is a skilled hand with its template on the bench.
func SkilledBender() Bender {
	const degree = math.Pi / 180
	return Bender{
		// ±2–3° a bend and ±0.25–0.5 mm a leg (common practice): the middles, taken as what
		// 19 of 20 bends keep within, two standard deviations.
		AngleSDRad: 1.25 * degree,
		LengthSDMM: 0.19,
		// A spring is made to measured slots, so that what enters is not where brackets are
		// bonded (by faculty 0.34 mm and 5.5° off on average: Balut et al., AJODO 1992;102:62)
		// but how well they are measured: a calliper read to 0.1 mm, and the turn of a slot
		// seen by a wire laid into it (our estimate).
		SlotSDMM:  0.1,
		SlotSDRad: 1 * degree,
		// Makes differ by ±25 % in one and the same test (Prog Orthod 2014, doi
		// 10.1186/s40510-014-0042-0), taken as two standard deviations.
		StiffnessSD: 0.125,
		// Half a graduation of a gauge in steps of 5 or 10 gf (common practice).
		GaugeSDN: 0.05,
		// The eye sees a quarter of the wire's thickness beside a printed line, and the same
		// at the ends of a leg that is left long (our estimate).
		Checks:     true,
		CheckSDMM:  0.1,
		CheckSDRad: 0.5 * degree,
		Springs:    1000,
	}
}

// MostSprings is the largest number of springs to bend in trial: it takes some seconds and
// a hundred megabytes, and tells the share to a third of a per cent.
const MostSprings = 100000
