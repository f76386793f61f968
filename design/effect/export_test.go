package effect

// PredictDriftInSteps is PredictBothDrift with a number of steps of its own.
var PredictDriftInSteps = predictDrift

// Give is how far a body moves under a load about its centre.
var Give = AnchorBody.give
