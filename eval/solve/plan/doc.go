// Package plan makes a system of relations ready for being solved, once for all
// the problems that are then solved about parts of it.
//
// Start from [Of]: it puts every relation and reading that is linear into that
// form, files relations by the dimensions they mention, and says which [Scope]
// each bench and the design have. It also holds what all levels go by: how far a
// relation may be from holding, and when a number is whole.
//
// A plan is not changed once made. It solves nothing.
package plan
