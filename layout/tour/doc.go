// Package tour decides in which order a laser runs what stands on a sheet, and where
// it enters each cut.
//
// Start from [Order]. First comes what is engraved, then marked, scored, cut, and of
// each the parts one after another. Among the cuts what lies in a figure comes before
// the figure that holds it, to any depth: what is free can shift. Within that the
// travel with the beam off is made short; closed cuts may be entered anywhere. Unless
// heat is to be spread, the result is never longer than the order given, nor is that of
// cuts longer than with the entry points given. The cuts are put in order first, and what
// is marked so that it leads to them: their order doesn't depend on it, and [Cache] keeps it.
//
// The search counts its steps, so the same items give the same plan on any machine;
// when its context ends it returns the best plan so far.
//
// The package knows nothing of designs, sheets and files, and never moves or changes
// a figure, but for the bridges that it is asked for.
package tour
