// Package hand is what a bender does to a design. A hand has errors (source): the wire's stiffness,
// the measured slot, every length and angle, and what the eye misreads when it holds the finished
// spring against the template (neutralcheck). How the judged loads change with them is propagated
// to first order (Linear), and springs are bent in trial one by one (Bent).
package hand
