// Package kerf grows and shrinks figures by half the width of the laser's cut,
// so that what is cut comes out as drawn: outlines of parts grow, openings
// shrink.
//
// Start from [Offset]. A rectangle stays a rectangle, a circle a circle, a line
// a line and an arc an arc, with its radius changed; a free curve is first
// followed by arcs within [CurveTol]. Sharp corners stay sharp (mitred) both
// when growing and when shrinking. Nothing is rounded that was not round: a
// round corner whose radius is used up becomes sharp.
//
// A [Memo] does the same for many figures and works out equal ones once. Else the
// package holds no state. It never returns a figure that crosses itself
// or that is nearer to the wanted edge than the offset.
package kerf
