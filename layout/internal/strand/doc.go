// Package strand cuts lines and arcs where they meet and joins those that are
// kept up to closed paths: what trimming an offset and uniting outlines have in
// common.
//
// Start from [Cut]; choose among its strands by whatever bounds the wanted area,
// with that area on the right hand as seen; then [Distinct], [Loops] and [Path].
// What is kept must bound an area exactly, or Loops says that it doesn't.
package strand
