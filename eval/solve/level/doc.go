// Package level takes a design through its three levels: musts, wishes, defaults.
//
// Start from [New], then call [Design.Musts], [Design.Most] where nothing
// clashes, [Design.EndMusts], [Design.Wishes] and [Design.Defaults] in that
// order. [Design.Result] has the values.
//
// Each level leaves its decisions as equations to the next, so that none bends
// what an earlier one has decided; there are no penalties and no sums of weights
// across levels. Each decision is noted with its level and its line, for
// whoever explains the result.
package level
