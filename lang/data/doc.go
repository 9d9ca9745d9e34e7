// Package data has what all JSON that the program prints or writes shares: the
// number of its schema, how numbers and places are written, and how the whole
// is laid out.
//
// Start from [Write], which takes a structure that begins with a [Head]. Inside
// it numbers are [Number] and places [Place]; keys are small letters with
// hyphens. Lengths are in mm, whatever the unit of the design.
//
// The package decides nothing of what is told. Of ours it imports lang/source
// only.
package data
