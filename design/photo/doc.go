// Package photo reads the outline of a bent spring from a picture: a photograph or a scan of
// the spring as it lies on the card of the check page.
//
// A picture is taken apart in this order, a file each: picture (decoded, its grey), marks (the
// card's four marks), camera (where each point of the card is in the picture), field (the card
// seen square on, paper and wire told apart), skeleton and route (the wire's line in order),
// match (which bend is which, either face up), edges and fit (straights and bends to a
// fraction of a pixel), judge (what speaks against the reading).
//
// Card axes: mm, origin at the card's lower left corner, x to the right, y up, as the card is
// printed. Picture axes: pixels, x to the right, y down, the middle of the first pixel at
// (0.5, 0.5).
package photo
