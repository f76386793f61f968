// Package fibre is the response of a wire's cross-section that yields or changes phase: the
// section is cut into fibres, each with the history of its own material, and plane
// sections stay plane. It knows nothing of springs or teeth.
//
// Units: mm, N, N·mm, MPa; strains are pure numbers and curvatures rad/mm.
package fibre
