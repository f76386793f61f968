// Package spring says what a bent wire is and what it does: its Path of straights, bends and
// twists, the Spring that lies in two slots, the Seats it is led through, and the Record of its
// loads over the travel. Nothing here solves anything; package solve does.
//
// Axes, units and signs are those of package design.
package spring
