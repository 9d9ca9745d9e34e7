// Package compare holds two versions of a design against each other: which dimensions,
// holes and outlines have moved and by how much, and which orders that touches.
//
// Start from [Take], then [Of]. What is drawn is compared as it is wanted, each part laid
// on itself at its left upper corner. It decides nothing by texts: two that mean the same
// are the same.
package compare
