package solve

import (
	"springwright/design/beam"
	"springwright/design/notice"
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
	Warnings        notice.List
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
