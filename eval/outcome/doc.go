// Package outcome says what came out of a solved design: the [design.Design]
// that is drawn, which wire goes through which board, what became of what was
// measured.
//
// Start from [Design], [BoundRows] and [Measured]. The package reads numbers out; it
// works nothing out anew, writes no message and changes nothing.
package outcome
