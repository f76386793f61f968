// Package optimize searches for a spring that meets a prescription.
//
// A pass of the search has these stages, each in a file of its own:
//
//   - continuous: a bounded Levenberg–Marquardt method with exact sensitivities, from many
//     low-discrepancy points, with every number left free, for the target and then for
//     what is preferred beside it (steady: where a bender bends fewer springs in vain);
//   - sparse: bends that the target does not need are given up, one after the other;
//   - settle: what promises most is brought onto numbers that a hand can bend, by integer
//     least squares on the linear model of the loads (lattice, gridpoints, descent);
//   - explore: the best are kicked about on a second-order surrogate of their loads.
//
// How many springs of a bender's hand would miss the target counts as a cost (fragility,
// spread). A target that is hard gets more passes. The seed is fixed, and the answer the
// same on any number of cores.
package optimize
