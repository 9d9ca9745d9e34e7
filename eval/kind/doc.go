// Package kind is the vocabulary of the language: which kinds of thing there
// are, what may stand in each, and which dimensions and properties it has.
//
// Start from [Find]. The package is a table; what a dimension means and how it
// hangs together with others, package compile knows.
package kind
