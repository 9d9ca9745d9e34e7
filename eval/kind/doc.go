// Package kind is the vocabulary of the language: which kinds of thing there
// are, what may stand in each, and which dimensions and properties it has.
//
// Start from [Find]. The package is a table; package compile says what a dimension
// means and how it is tied to others.
package kind
