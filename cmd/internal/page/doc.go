// Package page answers what the page in a browser asks: what became of a design,
// and how its text is laid out.
//
// Start from [Build], which takes a design through a session as the command build
// does, and puts what there is to show into an [Answer]. Its files are those that
// the command writes, to the byte.
//
// The package compiles nothing itself and knows of no browser; command page brings
// it there. Places are counted as a browser counts them, in UTF-16 from the start
// of a text.
package page
