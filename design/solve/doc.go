// Package solve finds the loads of a spring over its travel: in slots that hold the wire tight,
// let it play or slide, on a hook, and with the memory of a wire that yields or is superelastic.
// Evaluate is its one entry; it hides the rod of package beam and the sections of package fibre.
package solve
