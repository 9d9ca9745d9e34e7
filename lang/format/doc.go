// Package format writes a design's text as all designs are written: two blanks for
// each brace that is open, one blank between what stands beside one another, no more
// than one empty line.
//
// Start from [Source]. What a person decides stays as it is: which statements share a
// line, as long as it isn't too long, where empty lines stand, and what is set in
// columns, the comments at the ends of lines among it.
//
// Invariants: the tree of the text is the same before and after, with every comment
// where it belongs; formatting a second time changes nothing. A text that can't be read
// is left alone. The package never reads from disk and never panics.
package format
