// Package tell says in a maker's words why the dimensions of a design can't be
// worked out, and how well its readings agree.
//
// Start from [Problems] and [Checks]. What solving found is numbers and indices;
// here they become sentences with the lines they speak of. The package works out
// no dimension and changes nothing.
package tell
