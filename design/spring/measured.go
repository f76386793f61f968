package spring

import (
	"springwright/design/tooth"
)

// Measured is what was measured of a spring after it was bent. The zero value is nothing.
type Measured struct {
	Steps []StepReading // of a step there may be several
	End   []EndReading  // one a direction at most
	// Gauge is what a force gauge read at the wire's end, as in the gauge check; nil where nothing was read.
	Gauge *GaugeReading
	// After is how far the free end lies after a trial activation from where it lay before it.
	After []EndReading
	// CorrectionSDRad is what a correction of a bend will be off by; 0: what is usual.
	CorrectionSDRad float64
}

// None tells whether nothing was measured.
func (m Measured) None() bool { return len(m.Steps) == 0 && !m.Whole() }

// Whole tells whether something was measured that only a wire has which is bent to its end.
func (m Measured) Whole() bool { return len(m.End) > 0 || m.Gauge != nil || len(m.After) > 0 }

// StepReading is the length of a straight in mm, or the angle of a bend or twist in rad, signed as
// the step of the path is, with the standard deviation of the reading.
type StepReading struct {
	Step      int // of the path
	Value, SD float64
}

// EndReading is how far the free end lies off from where it is drawn, with the anchor end seated: along a
// global axis in mm or turned about one in rad, with the standard deviation of the reading.
type EndReading struct {
	Along   tooth.Component // a force along an axis stands for a shift, a couple about it for a turn
	Off, SD float64
}

// GaugeReading is the force at the free end pulled along an axis, the anchor end clamped.
type GaugeReading struct {
	Axis     tooth.Component // ForceX, ForceY or ForceZ
	TravelMM float64         // with its sign
	ForceN   float64         // against the pull, as in solve.GaugeCheck
	SD       float64
}
