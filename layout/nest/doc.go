// Package nest lays parts by their true outline: on a strip of fixed width, or on
// sheets of several sizes and costs, of which parts may be gone.
//
// Start from [Strip] and [Sheets], which take a [Job]. Where a part comes to lie is a
// placement of package sheet: turned about the part's own origin, then moved. Parts are
// turned as they may be and never mirrored; their openings are left empty.
//
// An outline is grown by half the spacing, made a polygon that holds it, and cut
// into convex pieces. A start lays the parts one after another; then there is made less room, what
// overlaps is parted, and so on until the stated number of places has been tried. How
// parts are parted is at search and separate: guided local search with a measure of
// overlap that tells the way out.
//
// What holds of every result: each part lies exactly as often as it was asked for, at a
// turn that it may have; no two parts come nearer to each other than the spacing, or to
// an edge than the margin, but for a millionth of a millimetre. Polygons without
// spacing, turned by quarters, come out exact: they may touch and don't overlap at all.
//
// A result depends on the job alone. Work is counted in places tried, never in time;
// two goroutines search on any machine and meet after fixed counts; coordinates are whole multiples
// of 1e-7 mm, and no product is fused with a sum. A context that ends keeps the best
// so far whole. Memory grows with the square of the number of parts: 2,000 take some 300 MB (reckoned).
//
// The package knows nothing of drawings, files and the language.
package nest
