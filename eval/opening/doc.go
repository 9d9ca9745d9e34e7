// Package opening knows the forms of holes and cutouts as numbers: the words
// that state them, which sizes each takes, what ease does to it, its area, how a
// wire clears it and how surely one passes that may be off its middle.
//
// Start from [Form] and [Opening]; [Room] is where a wire may lie in one. What a
// form is stands once: in the file of its name, behind the interface rules. A
// new form needs its file and its line in the list of forms (form.go), its word
// in lang/ast and its figure in layout/opening. A test walks every form
// through every feature and names both where they don't agree.
//
// # Invariants
//
// Sizes are in mm: along the row (or across the board, for a cutout) and square
// to that. Every form is convex and symmetric about its middle both ways. On the
// middle line across the row it is as deep as its sizes say: the depth there is
// the lesser of half the size along and what is left of half the size across, so
// that wires in one line across need nothing but the two sizes. Functions are
// pure. The package draws nothing, knows no design and imports nothing of ours.
package opening
