// Package target is what a load system is held against: a Window for every component of the load
// on both teeth (Target), the quantities that windows are for, and what comes out of the
// comparison: a Verdict, a Miss, a Shortfall.
//
// Axes, units and signs are those of package design.
package target
