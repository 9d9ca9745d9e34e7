// Package opening draws openings: the figure of each form of hole or cutout, and
// the notch that it becomes where a neck joins it with an edge of its board.
//
// Start from [Placed] for a closed opening and from [Notch] for one that is open
// to an edge; [WithNotches] puts notches into a board's outline. What a form is
// in numbers, package eval/opening knows; how it is drawn stands in forms.go of
// this package, and nowhere else in layout is a form named.
//
// Figures are in mm, X to the right and Y down, and run clockwise as seen, before
// kerf. Arcs stay arcs and corners sharp. The package knows no design and reports
// nothing to a maker.
package opening
