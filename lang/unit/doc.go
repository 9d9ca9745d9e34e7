// Package unit knows the kinds of value that a design speaks of and the units
// in which it may state them.
//
// Start from [Kind] and [Lookup]. Inside foredge a length is in millimetres,
// an angle in degrees, a time in seconds, a speed in millimetres a second;
// counts, ratios and plain numbers have no unit.
//
// The package imports nothing and never formats a message for a maker beyond
// a number with its unit.
package unit
