// Package asbent tells of a spring that has been bent what came out, what it will do in the mouth, and
// which bend to correct.
//
// What a hand makes of a design is known as a distribution (package hand): each bend, each straight and
// the wire's stiffness is off by an independent error. What was then measured of the spring narrows it:
// the most likely spring is that which departs least from the drawing, by the hand's own measure, and
// from the readings, by theirs (generalised least squares; conditional normal distribution). No reading is
// followed farther than it can be trusted, and none is left out.
//
// A correction is searched by a model that is linear in the errors and made of exact solves in the
// corrections, and what comes of it is then solved exactly.
package asbent
