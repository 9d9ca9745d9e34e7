// Package shelf holds the shipped library: punching patterns and materials,
// written in the language itself, each fact with its source as a comment.
//
// Start from [Text], which gives the text of one part. Nothing is read, parsed
// or kept until a design asks for it with `use`.
package shelf
