// Package dxf writes a drawing as a DXF cut file: AC1015, which any program
// since the year 2000 reads, or AC1009 (R12) for old controllers.
//
// Start from [Encoder]. Layers ENGRAVE, MARK, SCORE and CUT hold the entities
// in running order. Y runs up from the drawing's lower edge. What is exact in
// the drawing is exact in the file: circles are CIRCLE, single lines and arcs
// LINE and ARC, all else is one polyline a path (LWPOLYLINE, in R12 POLYLINE)
// with bulges for its arcs. A curve becomes arcs within [Tolerance] of it, in
// the same polyline: SPLINE entities would break a letter into loose pieces
// that controllers have to join again, or don't read at all.
//
// Guides are never in the file, and its bytes depend on the drawing and the
// encoder's options alone.
package dxf
