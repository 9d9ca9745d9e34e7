// Package wire knows how a ring, a loop or a coil goes through a board: how
// large its holes must be, how far from the edge they may lie, and how thick a
// board may be so that the cover still turns right round.
//
// Start from [Wire], the thing that binds, and [Book], what it holds;
// [Check] answers for a cover at once.
//
// # The situation
//
// The section across the bound edge is looked at. There the wire is a ring of
// inside diameter D and wire thickness d, its axis at the origin, R = D/2. A
// board of thickness T is a rectangle with a gap, the hole: the strip between
// its edge and the hole lies inside the ring, all the rest outside. The closed
// book is a stack of thickness S = L + nT (leaves L, n boards T) with its middle
// on the axis. So the board that is asked about lies between c = S/2 - T and S/2
// from the axis; a board alone has S = T and lies squarely across the wire.
//
// # What follows
//
//	across = sqrt((R+d)² - max(0, c)²) - sqrt(R² - (S/2)²)   least opening across the edge
//	along  = d, for a loop over both its wires; for a coil see below
//	(inset + reach)² + S² = D²                               largest inset that turns
//	inset² + S² = D²                                         largest inset that closes
//	S = sqrt(D² - (inset + reach)²)                          largest stack that turns
//
// where inset is the board's distance from edge to hole and reach the largest of
// what else is on the wire: half way round, the cover's strip and those of the
// rest lie end to end in the chord that the ring has at the height of the
// outermost face. DERIVATION.md draws this and derives it.
//
// A coil climbs by its pitch P each turn, with the lead angle atan(P/(π(D+d))).
// Seen along its axis it is the same ring, so across and inset stay as they are
// where the hole has straight sides. Along the edge the wire needs the reach of
// a tube swept along the helix as far as the board is thick; where the ends of
// the hole are round it needs more across too. Neither has a closed form: the
// first is one equation in one unknown, the second a search along a line.
//
// # Invariants
//
// Lengths are millimetres, angles degrees. Every function is pure. A size that
// can't be had is +Inf for an opening and NaN for an inset, a board or a book.
// What a hole is stands in package opening, the only one of ours that this one
// imports. It knows neither files nor messages.
package wire
