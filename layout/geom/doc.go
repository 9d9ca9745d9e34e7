// Package geom is the plane geometry of foredge: points, boxes and figures in
// millimetres, X to the right and Y down.
//
// Start from [Figure]. Shapes stay what they are: a rectangle is a [Rect], a
// circle a [Circle], and an arc of a [Path] stays an arc through every
// operation for which that is exact.
//
// The package imports nothing outside the standard library, does no input or
// output and knows nothing of panels, colours or files.
package geom
