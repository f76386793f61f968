package solve

import (
	"springwright/design/beam"
	"springwright/design/spring"
)

// Evaluation is a solved spring: its record, and the shapes and checks that a sheet draws.
type Evaluation struct {
	Record spring.Record
	// Passive is the unloaded wire and Seated the wire in both slots at the first
	// position, from the anchor slot to the active slot; one pose for each Sample.
	Passive, Seated []beam.Pose
	Samples         []Sample
	Gauge           GaugeCheck
	Warnings        []Warning
	// History tells that the wire yielded or is superelastic, so that the loads depend on
	// the way it went; Set is what it keeps from it.
	History bool
	Set     Set
}

// Sample says where along the path a drawn pose lies.
type Sample struct {
	Step  int     // index into the path
	ArcMM float64 // wire length from the start of the path
}

// Warning is something the user must see; Hint says what to do about it.
type Warning struct {
	Text string
	Hint string
	Work Work // at which the hint is followed
}

// Work is what somebody is doing who can follow a hint.
type Work int

// The kinds of work. A warning that is for anybody is above all work.
const (
	Anybody Work = iota
	Bending
	Tying // into the slots
)
