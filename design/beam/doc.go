// Package beam solves a geometrically exact elastic rod in three dimensions: an
// unbranched chain of straight, bent and twisted pieces, held at both ends.
//
// It knows nothing of teeth or files. One system of units runs through it: mm, N,
// N·mm, MPa (N/mm²) and radian.
//
// # Frames
//
// A section carries a frame d1, d2, d3 = d1 × d2. d1 runs along the wire, d2 along
// the section's width and d3 along its thickness. A curvature is the vector (twist,
// κ2, κ3) per mm on that frame: how fast the frame turns as it moves along the wire.
//
// # Loads
//
// A Wrench is a force and a moment. Inside the rod it is what the part behind a
// section (nearer the far end) exerts on the part before it.
package beam
