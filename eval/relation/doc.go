// Package relation is the pure data that a design comes down to: dimensions
// and what must hold among them.
//
// Start from [System]. It holds the dimensions as [Var], the must-relations,
// the readings of each notebook, the wishes and the defaults, each with the
// span of the line it came from. Lengths are in millimetres, angles in
// degrees, all else plain numbers.
//
// The package does no solving (that is package solve) and imports nothing but
// source positions and kinds of value. A System is not changed once made.
package relation
