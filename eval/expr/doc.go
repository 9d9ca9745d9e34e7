// Package expr turns the expressions of a design's text into expressions of
// dimensions, each with its kind: a bare number becomes a length where a length
// is wanted, two inches may be added to a dimension, but not a count.
//
// Start from [Compiler], whose [Compiler.Value] takes any expression and
// [Compiler.As] one that must be of a kind. Package resolve knows what a name
// stands for, and the caller which dimensions there are ([Dimensions]).
// Lengths are in mm and angles in degrees from here on. What is wrong is
// reported where it stands. A let is worked out once ([Compiler.Let]), when what it
// speaks of has come to take part, so that the order of lines doesn't matter; of several
// values only the one that it chooses; it may hold a text or a [Form] too. Who compiles an
// expression without a word asks [Compiler.TakePart] before. The
// package makes no relation and solves nothing.
package expr
