// Package sheet lays rectangular parts on stock: on sheets of several sizes,
// quantities and prices and on offcuts, or on a strip of fixed width.
//
// Start from [Lay], which takes a [Job] and gives a [Result], and from [Strip].
// A part's size is that of its outermost cut, kerf included; its origin is its left
// upper corner as drawn. Where it comes to lie is a [Placement], which package
// nest shares for parts laid by their true outline.
//
// A first result is constructed (filler), then some of its sheets are laid anew again and again (ruin), and in the end smaller ones
// are taken where they hold the same (exchange), and each is made neat (tidy); of what can't be beaten tell the bounds (bound). A stock with a knife is
// cut from edge to edge (whittle). A sheet that is larger than the bed is sawn into pieces, along one of
// several grids (saw), and is a load of the search with all of them.
//
// A result depends on the job alone: work is counted in steps, never in time, and
// lengths are worked with as whole multiples of a millionth of a millimetre. No two
// parts come nearer to each other than the stock's spacing or to its edge than its
// margin, no part is turned as it may not be, and every part lies exactly as
// often as it was asked for, or else the job is refused whole.
//
// The package knows nothing of drawings, files and the language.
package sheet
