// Package optimize searches for a spring that meets a prescription.
//
// The search is a bounded Levenberg–Marquardt method with exact sensitivities, started
// from many low-discrepancy points. It then gives up every bend that the target does not
// need, and settles one number after another on values that a hand can bend, searching
// the others again each time. It uses a fixed seed and gives the same answer on any number
// of cores.
package optimize
