package bent

import (
	"errors"
	"slices"

	"springwright/design/report"
	"springwright/design/solve"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
)

// Report is what is to be said of a spring that was bent and measured.
type Report struct {
	Steps     []StepEstimate // one for each step of the path, as drawn
	EndOff    [tooth.Components]float64
	Stiffness Estimate // over the nominal one
	Doubts    []Doubt
	AsBent    Outcome
	// Allowed is what would become of the spring bent exactly as drawn: what slots and wire alone leave.
	Allowed float64
	// HasTarget tells that the case asks for something: else there is no chance and no correction.
	HasTarget bool
	// Activation is the trial activation of the spring as bent; nil where there is none.
	Activation *report.Activation
	Lost       *Lost // by it; nil where nothing was read after it
	// CorrectionSDRad is what each correction is taken to be off by.
	CorrectionSDRad float64
	One, Two        *Corrected // the best single correction and the best pair; nil where none is worth making
}

// Estimate is a value with its standard deviation.
type Estimate struct{ Value, SD float64 }

// StepEstimate is a step as drawn, mm or rad, and as it most likely came out.
type StepEstimate struct {
	Step  spring.Step
	Drawn float64
	Estimate
	Measured bool
}

// Outcome is a spring that may have come out, the most likely one and those about it.
type Outcome struct {
	Spring     spring.Spring // the most likely one
	Evaluation solve.Evaluation
	Misses     []target.Miss // of the most likely one
	// Exceeded is how far it goes beyond the room that the case leaves.
	Exceeded []target.Excess
	Trial    Trial
	// NoRest is why the most likely spring cannot be seated; nil where it can.
	NoRest error
	// Overstressed tells that the wire would be stressed beyond what the case allows.
	Overstressed bool
}

// Met tells whether the most likely spring meets the target within its stress.
func (o Outcome) Met() bool {
	return o.NoRest == nil && len(o.Misses) == 0 && len(o.Exceeded) == 0 && !o.Overstressed
}

// Shortfall is what the most likely spring misses, nil where nothing.
func (o Outcome) Shortfall() *target.Shortfall {
	if len(o.Misses) == 0 && len(o.Exceeded) == 0 {
		return nil
	}
	return &target.Shortfall{Misses: o.Misses, Exceeded: o.Exceeded}
}

// Outgrows tells whether an outcome goes beyond a limit on room that another keeps, or farther beyond it, by what
// nobody would take for the same.
func (o Outcome) Outgrows(other Outcome) bool {
	const same = 0.05 // mm (choice)
	return slices.ContainsFunc(o.Exceeded, func(e target.Excess) bool {
		return !slices.ContainsFunc(other.Exceeded, func(was target.Excess) bool { return was.Limit == e.Limit && e.Beyond <= was.Beyond+same })
	})
}

// Judged is the most likely spring with what it misses.
func (o Outcome) Judged() spring.Spring {
	s := o.Spring
	s.Shortfall = o.Shortfall()
	return s
}

// Trial is what springs do that may be the measured one, all solved exactly: what was not measured differs
// between them, and so do the wire's stiffness and the mouth.
type Trial struct {
	Springs  int
	Unseated int
	Met      int                             // the whole target
	Active   [][tooth.Components]spring.Band // of each position; none where no spring could be seated
	Anchor   [][tooth.Components]spring.Band
}

// Chance is the share of the springs that meet the target.
func (t Trial) Chance() float64 { return float64(t.Met) / float64(max(1, t.Springs)) }

// likely is the chance from which a spring is usable (choice): where fewer of those that it may be meet the
// target, the most likely one, which was never measured as a whole, meets it by luck.
const likely = 0.5

// Usable tells whether the spring meets the target as bent, or would after corrections that were found: the
// most likely one, and at least half of those that it may be.
func (r Report) Usable() (asBent, corrected bool) {
	return r.AsBent.Usable(), r.One != nil && r.One.Usable() || r.Two != nil && r.Two.Usable()
}

// Usable tells whether an outcome can be relied on to meet the target. Where the most likely spring's own loads
// were not found, those about it decide.
func (o Outcome) Usable() bool {
	return (o.Met() || Unfound(o.NoRest)) && o.Trial.Chance() >= likely
}

// Ways are the corrections that are worth making: the best single one, the best pair.
func (r Report) Ways() []*Corrected {
	var ways []*Corrected
	for _, way := range [...]*Corrected{r.One, r.Two} {
		if way != nil {
			ways = append(ways, way)
		}
	}
	return ways
}

// Unfound tells whether an error is of the solver alone: the wire may well have a rest in its slots.
func Unfound(err error) bool {
	return errors.Is(err, solve.ErrNoContact) || errors.Is(err, solve.ErrTooMuchWork)
}

// Lost is what a trial activation took, and how to put it back.
type Lost struct {
	report.Lost
	// Back is the bend that best puts the free end back to where it lay; nil where nothing need be put back, or no
	// one bend does.
	Back *Corrected
	// Left is how far off the free end is then, mm and rad, in the directions that were read.
	Left [tooth.Components]float64
}

// Doubt is a reading that a hand, or the other readings, do not explain.
type Doubt struct {
	Step  int             // of the path, where Kind is of a step
	Along tooth.Component // of a reading of the end
	Kind  ReadingKind
	// Alone tells that the reading differs from the drawing by more than a hand is off; else it
	// contradicts the other readings.
	Alone bool
	SDs   float64 // how many standard deviations
}

// ReadingKind is what was read.
type ReadingKind int

// The kinds of readings.
const (
	OfStep ReadingKind = iota
	OfEnd
	OfGauge
)

// SoFar is a spring that is half bent: what was bent as it most likely came out, and numbers for the rest that
// make up for it.
type SoFar struct {
	Next   int           // the first step of the path that is still to be bent
	Spring spring.Spring // to go on with
	Doubts []Doubt
	// Before is the spring with the rest bent as drawn, After with the new numbers.
	Before, After Outcome
}
