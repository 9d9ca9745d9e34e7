// Package version knows the versions of the language that this program reads,
// and what each has changed of the one before it.
//
// Start from [All]. A file says which one it is written in by its first line,
// `foredge 1`; what that fixes are the words, the dimensions and the defaults of
// the language. Whoever reads a word, a dimension or a default otherwise from a
// version on asks the file for its version and says so here, in a [Change], so
// that those who wrote a file for an earlier one are told.
//
// The package holds data only: who is told what is decided in eval/resolve. It
// imports nothing of ours.
package version
