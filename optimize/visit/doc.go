// Package visit tells at a follow-up visit where both teeth stand beside the plan, what the spring in the
// mouth gives and how far it still brings the tooth, and what to do: wait, re-activate, remake or stop.
//
// How both teeth move is predicted by package effect, from guesses: how fast teeth go, how firmly the anchor
// holds, where the centres of resistance lie. What is seen at the visits fits these guesses anew: the most
// likely ones depart least from the guesses, each by its own spread, and from what was measured, by what
// that is off by (generalised least squares). They predict what comes next.
package visit
