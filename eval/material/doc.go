// Package material knows what materials of the shelf are called: by the trade, in
// English, German, French and Spanish, with thicknesses, colours and slips of the pen.
//
// Start from [In], which finds the materials that words speak of. The names stand in
// names.tsv, none in code. The package never decides what may be cut: the shelf says it.
package material
