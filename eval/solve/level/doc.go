// Package level takes a design through its three levels: musts, wishes, defaults.
//
// Start from [New], then call [Design.Musts], [Design.Most] where nothing
// clashes, [Design.EndMusts], [Design.Wishes] and [Design.Defaults] in that
// order. [Design.Result] has the values.
//
// Each level leaves its decisions as equations to the next, so that none bends
// what an earlier one has decided; there are no penalties and no sums of weights
// across levels.
//
// What limits leave no room is decided, too; it is looked for where something waits for it:
// equations that aren't linear, and the defaults that place things in a frame (pin.go).
// Those take turns, each after what its own lines speak of (turns.go).
//
// What isn't linear is drawn in for wishes and defaults in two ways. Where it is straight
// but for kinks (min, max, abs and roundings) the best of their sides is searched by
// branch and bound: piece.go and kink.go put what hangs together, sides.go searches,
// outcome.go makes equations of what was found, tie.go of what all that are as good share.
// What is curved is taken by its tangents (tangent.go).
//
// Each decision is noted with its level and its line, for
// whoever explains the result.
package level
