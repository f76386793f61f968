// Package optimize searches for a spring that meets a prescription.
//
// A pass of the search (search.go) has four stages, each in a file of its own:
//
//   - scatter: points from all over the bounds, by a low-discrepancy sequence, go towards the
//     target by least squares with exact slopes (package lsq), with every number left free;
//   - polish: the best go on over the whole travel, for what is preferred beside the target, and to
//     where a bender bends fewer springs in vain;
//   - thin: bends that the target does not need are given up, one after the other;
//   - round: what promises most is brought onto numbers that a hand can bend, by integer least
//     squares on the linear model of the loads (descent, gridmodel, package lattice); the best of it is
//     kicked about on a second-order surrogate of its loads and their spread, and climbs there to
//     where a bender bends most springs that meet the target (explore, surrogate, climb). Of what costs
//     least some springs are bent in trial before one is chosen (referee).
//
// Once the target is met, what counts is the share of bent springs that meet it, and how near the
// spring is to its kind's own shape (shape.go); where the loads lie in their windows breaks ties.
//
// What is searched is a landscape of rows (rows.go): loads with the slopes of their aims, limits
// and preferences. A row's hinge says what it counts for, and its miss how badly it misses; what
// rows, bends and a bender's errors (spread.go, package hand) come to is a cost, and weights say
// which of its parts count. A target that is hard gets more passes. The seed is fixed, and the
// answer the same on any number of cores.
package optimize
