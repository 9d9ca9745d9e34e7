// Package source holds the text of design files and says where in it things are.
//
// Start from [File]: [New] takes the bytes of a design, and a [Span] marks a
// stretch of them. The byte offset is the one truth about a place; lines and
// columns are worked out from it when a person needs them.
//
// Spans are half open: Start is the first byte, End the one after the last.
// Lines and columns count from 1, columns count characters, not bytes.
//
// The package never reads from disk and knows nothing of the language.
package source
