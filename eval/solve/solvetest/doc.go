// Package solvetest builds systems for the tests of the solver and looks at what
// comes of them.
//
// Start from [NewShop]. The package is for tests only.
package solvetest
