// Package unit knows the kinds of value that a design speaks of and the units
// in which it may state them.
//
// Start from [Kind] and [Lookup]. Inside foredge a length is in millimetres
// and an angle in degrees; counts, ratios and plain numbers have no unit.
//
// Invariant: the table of units stands here and nowhere else; whoever needs to
// know something about a unit asks it ([Unit.Imperial]) rather than compare
// names.
//
// The package imports nothing of ours. It writes a number with its unit for a
// person but never a sentence; how numbers are read is package numeral's.
package unit
