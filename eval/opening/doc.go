// Package opening knows the forms of holes and cutouts as numbers: the words
// that state them, which sizes each takes, what ease does to it, its area and
// how a wire clears it.
//
// Start from [Form] and [Opening]. What a form is stands once: in the file of
// its name, behind the interface rules. A new form needs its file, a line in
// the list of forms, its word in package parse and its figure in
// layout/opening.
//
// Sizes are in mm: along the row (or across the board, for a cutout) and
// square to that. Every form is convex and symmetric about its middle both
// ways. The package draws nothing and knows no design.
package opening
