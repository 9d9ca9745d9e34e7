// Package text writes the text of drawing files: the one way in which every
// encoder puts numbers on paper, and a [Writer] that gathers the text.
//
// Start from [Writer]. A number has a fixed count of decimals at most, is
// written in its shortest form, never with an exponent and never as -0. A
// number that is not finite is an error and never reaches the file.
//
// The package knows no file format and never asks for the time or a locale.
package text
