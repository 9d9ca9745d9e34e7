// Package lsq solves sparse linear least squares by orthogonal factors.
//
// Start from [NewShape], which plans for rows by the places filled in them, and
// [Factorise], which makes the [Factor] of rows with their right sides; that
// gives the solution, its variances and what it leaves open. [Covariance] has
// the variances of all rows at once.
//
// Nothing is squared, so that digits are kept as in a dense factorisation by
// Householder reflections. Time grows with what is filled in the factor. The
// order of columns is a function of the places alone.
package lsq
