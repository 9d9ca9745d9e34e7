// Package diag holds what foredge tells a maker about a design: errors,
// warnings and notes, each with its place.
//
// Start from [List], which every stage returns beside its value, and
// [Diagnostic], one thing to tell. A message says what is wrong in the maker's
// words and units; Help says what to do next. Neither holds a Go type, a
// grammar rule or a stage's inner name.
//
// The package prints and sorts; it never decides what is an error.
package diag
