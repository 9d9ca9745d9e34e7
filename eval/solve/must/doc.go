// Package must solves the musts: the equations, limits and sign rules of one
// part of a system.
//
// Start from [NewProblem] and [Problem.Solve]. That takes equations one by one
// while they leave one unknown, then the linear ones together, then blocks of
// non-linear ones; what is left open is [Problem.Space]. [Problem.Bound] then
// puts the limits into the space, after which [Problem.Reach] and its like say
// what they leave of a form. Later levels fix forms of the space.
//
// A problem writes only into its room, and there only within its scope, so that
// it takes time by the size of the scope. Every value leans on relations that
// [Problem.Support] lists; what can't hold is a [Conflict] of such relations.
// The relations are never changed, and nothing is decided that they leave open.
package must
