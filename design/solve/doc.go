// Package solve finds the loads of a spring over its travel: in slots that hold the wire tight,
// let it play or slide, on a hook, and with the memory of a wire that yields or is superelastic.
// Evaluate is its entry, and EvaluateStraight that for a straight wire, which may go on into a third
// slot. They hide the rod of package beam and the sections of package fibre.
package solve
