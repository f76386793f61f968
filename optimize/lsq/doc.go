// Package lsq minimises half a sum of squares of residuals within bounds by the method of
// Levenberg and Marquardt, with a trusted radius and acceleration along curved valleys. It
// knows nothing of what the residuals are of.
package lsq
