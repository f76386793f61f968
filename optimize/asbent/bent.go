package asbent

import "springwright/design/bent"

// What is told of a spring as bent; see package bent.
type (
	Report       = bent.Report
	Estimate     = bent.Estimate
	StepEstimate = bent.StepEstimate
	Outcome      = bent.Outcome
	Trial        = bent.Trial
	Corrected    = bent.Corrected
	Correction   = bent.Correction
	Place        = bent.Place
	Doubt        = bent.Doubt
	SoFar        = bent.SoFar
)
