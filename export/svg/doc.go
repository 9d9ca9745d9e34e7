// Package svg writes a drawing as an SVG 1.1 cut file.
//
// Start from [Encoder]. Width, height and view box are in millimetres, so one
// user unit is 1 mm. There is one top-level group an operation, in running
// order, in it one group a part, in it one element a shape; each has an id made
// of their names: cut, cut.front, cut.front.wire.7. Only engraving is filled.
// A rectangle that is entered at its left upper corner is a rect, a circle a circle,
// anything else a path of absolute M, L, A, C and Z commands. What is come to a second
// time, since something else lies in it, has _2 after its id.
//
// The file is valid against the W3C's DTD, holds no program's own namespace,
// and its bytes depend on the drawing alone. Guides are never in it.
package svg
