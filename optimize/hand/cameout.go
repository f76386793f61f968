package hand

import (
	"slices"

	"springwright/design/spring"
	"springwright/design/tooth"

	"gonum.org/v1/gonum/spatial/r3"
)

// CameOut is a spring as it came out of a hand: its wire, and how the mouth differs from what was measured.
type CameOut struct {
	Steps     spring.Steps
	Stiffness float64 // over the nominal one
	GaugeN    float64 // how far the gauge that the wire is drawn by reads beside the force
	SlotMM    r3.Vec  // how far the active slot's centre lies from where it was measured
	SlotRad   r3.Vec  // rotation vector, how far it is turned from that
}

// CameOut is the spring of a standard normal number for each source. Where the hand checks the free end
// it is put right by that.
func (h *Hand) CameOut(normal []float64) CameOut {
	var b bent
	h.bend(&b, slices.Clone(normal))
	return CameOut{b.steps, b.stiffness, b.gaugeN, b.slotMM, b.slotRad}
}

// Sources is how many errors the hand has; that of the stiffness is StiffnessSource, those of the steps
// are the last ones.
func (h *Hand) Sources() int { return len(h.sources) }

// StiffnessSource is the first of the sources.
const StiffnessSource = 0

// FirstStep is the source of the path's first step.
func (h *Hand) FirstStep() int { return h.steps }

// SD is the standard deviation of a source, mm, rad, N or, of the stiffness, a share; below 0 where
// the source is mirrored.
func (h *Hand) SD(source int) float64 { return h.sources[source].sd }

// Terms lists what the target asks for, in the order of the travel.
func (h *Hand) Terms() []Term { return h.terms }

// Outcome is what a spring does in the mouth.
type Outcome struct {
	Seated         bool // else nothing below means anything
	Met            bool // the whole target
	Active, Anchor []tooth.Load
	Values         []float64 // of each term
}

// Worst is how far the worst load lies beyond its window; see Term.Beyond.
func (o Outcome) Worst(terms []Term) float64 {
	worst := -1.0
	for i, t := range terms {
		worst = max(worst, t.Beyond(o.Values[i]))
	}
	return worst
}

// Bench is a place to solve springs of a hand at, for one goroutine.
type Bench struct{ bench *bench }

// NewBench is one for springs of a hand. The error is that of solve.NewSeatedPath.
func (h *Hand) NewBench() (*Bench, error) {
	b, err := newBench(h)
	return &Bench{b}, err
}

// Solve takes a spring over the travel and judges it. Its steps need not be those of the hand's path.
func (b *Bench) Solve(s CameOut) Outcome {
	var o Outcome
	h := b.bench.h
	one := bent{s.Steps, s.Stiffness, s.GaugeN, s.SlotMM, s.SlotRad}
	o.Met = true
	o.Seated = b.bench.follow(&one, func(_ int, active, anchor tooth.Load) {
		o.Active, o.Anchor = append(o.Active, active), append(o.Anchor, anchor)
	}, func(term int, value float64) bool {
		o.Values = append(o.Values, value)
		o.Met = o.Met && h.terms[term].Window.Misses(value) <= 0
		return true
	})
	o.Met = o.Met && o.Seated
	return o
}
