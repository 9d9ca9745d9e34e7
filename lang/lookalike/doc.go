// Package lookalike tells names and words that a person or a disk takes for
// others: start from [Key] for names that are one, and [Mixed] for letters of
// several alphabets in one word.
//
// It must never decide what is told of them.
package lookalike
