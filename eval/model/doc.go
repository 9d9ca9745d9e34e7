// Package model holds a compiled design: its things as typed structs, and the
// dimensions and relations among them as a [relation.System].
//
// Start from [Design]. Everything that the text says has been read: properties
// are decoded, words are choices, what is worked out later is an expression of
// dimensions. Nothing here knows the syntax tree. Lengths are in mm, angles in
// degrees. What a design may leave open is a [maybe.Of], a nil pointer or the
// zero value of a choice. Nobody changes a model once it is built.
package model
