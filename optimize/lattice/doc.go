// Package lattice finds the points of a grid at which a quadratic form is least. It knows
// nothing of what the form is of.
package lattice
