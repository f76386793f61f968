// Package casefile reads and writes the files of springwright: springs and cases in TOML,
// records in JSON.
//
// Keys carry their unit (height_mm); a value may also be a text with a unit of its own
// ("0.022in", "40gf"). Inside the program everything is mm, N, N·mm, MPa and rad; degrees
// and GPa stop here. Reading is strict: an unknown or repeated key, a wrong type, a value
// out of range, a missing value are all refused, all faults of a file in one fault.List
// with line and column. Steps of a path and numbers of an array are counted from 1 in
// messages.
package casefile
