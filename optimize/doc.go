// Package optimize searches for a spring that meets a prescription.
//
// A pass of the search has these stages, each in a file of its own:
//
//   - continuous: a bounded Levenberg–Marquardt method with exact sensitivities, from many
//     low-discrepancy points, with every number left free;
//   - sparse: bends that the target does not need are given up, one after the other;
//   - settle: what promises most is brought onto numbers that a hand can bend, by integer
//     least squares on the linear model of the loads (lattice, gridpoints, descent);
//   - explore: the best are kicked about on a second-order surrogate of their loads.
//
// From the third stage on, how many springs of a bender's hand would miss the target counts
// as a cost. A target that is hard gets more passes. The seed is fixed, and the answer the
// same on any number of cores.
package optimize
