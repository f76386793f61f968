// Package timeline is what is told at a follow-up visit, as data: where both teeth stand, what the spring
// in the mouth gives, how far it still brings the tooth, and what to do. Package optimize/visit finds it
// out; records, pages and words are made of it.
package timeline

import (
	"time"

	"springwright/design"
	"springwright/design/effect"
	"springwright/design/spring"
	"springwright/design/target"
	"springwright/design/tooth"
)

// Report is what is told after the last visit.
type Report struct {
	Case design.Case
	// Spring is in the mouth, its Start where it was seated; Worn is false where none is left there.
	Spring     spring.Spring
	SpringFile string
	Worn       bool
	Turns      bool    // the way to the goal is a turn more than a shift
	Way        float64 // its size, mm or rad
	Points     []Point // of the visits that stand, in their order
	// Planned is the way as predicted before anything was seen, Fitted as what was seen tells it, and
	// onwards.
	Planned, Fitted []Mark
	Loads           *Loads // what the spring gives now; nil where none is worn or it finds no rest
	NoRest          error  // why not
	Ahead           Ahead
	Anchor          Anchor
	Fits            []Fit
	Doubts          []Doubt
	Verdict         Verdict
}

// Point is a visit on the way.
type Point struct {
	Visit design.Visit
	Days  int // since the first
	// Now is where the active slot stands, what was not measured as the fit has it.
	Now design.Placement
	// Closed is how much of the way to the goal is done, seen from the anchor slot, with the standard
	// deviation of what was measured.
	Closed, SD float64
	Planned    float64 // of the way, by then, as predicted before anything was seen
	// Expected is what the visits before this one let expect, with its standard deviation; Told tells that
	// there is such a one.
	Expected, ExpectedSD float64
	Told                 bool
	// On both teeth before anything was done, and Push of it towards the goal, N or N·mm.
	Active, Anchor tooth.Load
	Push           float64
}

// Mark is a place on a predicted way.
type Mark struct{ Days, Closed, Push float64 }

// Loads are what the spring gives with the teeth where they stand.
type Loads struct {
	Active, Anchor         tooth.Load
	ActiveBand, AnchorBand [tooth.Components]spring.Band
	Springs                int // that may be the one worn, for the bands
	StressRatio            float64
	Misses                 []target.Miss // of what is asked over the travel
}

// Ahead is what the spring in the mouth still does.
type Ahead struct {
	Closed, SD float64 // of the way, more than now, until it is spent or there
	Days       float64
	Arrives    bool
	Goes       bool // on after that; nobody looks so far ahead
	// PerMonth is how fast the tooth moves now, mm or rad, and from where to where that may be.
	PerMonth, Low, High float64
}

// Anchor is what the anchor has lost since the first visit.
type Anchor struct {
	Moves     bool // as the case has it
	Lost      effect.AnchorShift
	SD        [tooth.Components]float64 // of its slot's place and its turn
	Predicted effect.AnchorShift
	Measured  bool
}

// FitKind is what observed movement tells.
type FitKind int

// What is fitted.
const (
	RateFit FitKind = iota // mm or rad a month at the planned load
	HoldFit                // how many times as firmly the anchor holds as the active tooth
	ActiveInwardFit
	ActiveDistalFit
	ActiveApicalFit
	AnchorInwardFit
	AnchorDistalFit
	AnchorApicalFit
)

var fitWords = [...]string{"rate", "hold ratio", "active inward", "active distal", "active apical", "anchor inward", "anchor distal", "anchor apical"}

// String is the kind's name in files.
func (k FitKind) String() string { return fitWords[k] }

// Distal tells whether the kind is a place, counted distally from the slot.
func (k FitKind) Distal() bool { return k == ActiveDistalFit || k == AnchorDistalFit }

// Fit is a guess and what has become of it; ranges are one standard deviation each way.
type Fit struct {
	Kind                       FitKind
	Prior, PriorLow, PriorHigh float64
	Value, Low, High           float64
}

// Moved tells whether the estimate has left the guess, or grown surer, by enough to be told: a third of the
// guess's standard deviation (choice).
func (f Fit) Moved() bool {
	const third = 1.0 / 3
	half := (f.PriorHigh - f.PriorLow) / 2
	return f.Value-f.Prior > third*half || f.Prior-f.Value > third*half || f.High-f.Low < (1-third)*(f.PriorHigh-f.PriorLow)
}

// Doubt is a measurement that the spring does not explain.
type Doubt struct {
	Visit  int  // its number
	Anchor bool // of what the anchor has lost by itself
	Gauge  bool // of the gauge's reading; of nothing else then
	Along  tooth.Component
	SDs    float64
}

// Advice is what to do.
type Advice int

// The verdicts.
const (
	Wait Advice = iota
	Reactivate
	Remake
	Stop
)

var adviceWords = [...]string{"wait", "re-activate", "remake", "stop"}

// String is the advice's word in files.
func (a Advice) String() string { return adviceWords[a] }

// Verdict is the one thing to do, and why.
type Verdict struct {
	Advice  Advice
	Reasons []Reason
	// When to look again, days after the last visit and as dates; zero with Stop.
	FromDays, ToDays int
	From, To         time.Time
	Ways             []Way // of re-activating, the best first
}

// Reason is why.
type Reason struct {
	Kind ReasonKind
	// Value and Limit are what the reason is about: mm, rad, N or a share, as its kind has it.
	Value, Limit float64
	Along        tooth.Component
}

// ReasonKind is what a verdict rests on.
type ReasonKind int

// The reasons.
const (
	StillWorks     ReasonKind = iota // Value: of the way that the spring does until Limit days
	RootFollows                      // the crown stands nearly still; Value: how far the root follows, mm, in Limit days
	Spent                            // Value: of the way that the spring does until the next usual visit
	LoadsOff                         // it misses what is asked of it; the misses are those of Loads
	NoCorrection                     // no one or two bends bring it to its target
	GoalReached                      // Value: of the way left
	TooFar                           // Value: beyond the goal
	WrongWay                         // Value: against the way, since the visit before
	TurnedAside                      // Value: turn that nobody planned, about Along
	AnchorGone                       // Value: lost, mm; Limit: allowed
	AnchorTipped                     // Value: rad; Limit: allowed
	AnchorMayBeOff                   // the same, by what it may be: Value, Limit
	Yielded                          // Value: stress over yield
	GaugeOff                         // Value: how many standard deviations; the spring is not what it was
	NoneWorn                         // no spring is in the mouth
	UnseatedNow                      // it finds no rest where the teeth stand
	TooMuchLoad                      // Value: force or couple on the active tooth; Limit: allowed; Along
)

var reasonWords = [...]string{
	"still works", "root follows", "spent", "loads off target", "no correction found", "goal reached", "too far", "wrong way", "turned aside",
	"anchor lost", "anchor tipped", "anchor may be lost", "yielded", "gauge off", "no spring", "no rest", "too much load",
}

// String is the reason's word in files.
func (k ReasonKind) String() string { return reasonWords[k] }

// Way is one way of re-activating a spring.
type Way struct {
	Changes  []Change
	Chance   float64 // of meeting the target then
	WithLast float64 // share in the direction of each place's last bend
	Spring   spring.Spring
	Missed   *target.Shortfall
	Active   tooth.Load // of the most likely spring, once seated
}

// Change is a bend that is corrected, or a fresh one in the middle of a straight.
type Change struct {
	Step  int // of the path
	Fresh bool
	ByRad float64 // above 0 closes a bend further; of a fresh one as an angle of the path
	Seat  bool    // nothing is bent: the straight is put less deep into the anchor slot, or deeper
	ByMM  float64 // of a seat: how much more wire stands out of the slot than drawn
}
