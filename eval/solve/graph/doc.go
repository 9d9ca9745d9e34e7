// Package graph looks at which equations mention which unknowns, never at their
// numbers.
//
// Start from [Match], which gives as many equations as possible an unknown of
// their own; from a [Matching] follow the equations that decide all their
// unknowns, and the blocks that must be solved together. [Groups] are disjoint
// sets of numbers.
package graph
