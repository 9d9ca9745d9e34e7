// Package export turns a drawing into files.
//
// Start from [Encoder] and [Lookup]. Each format is a package of its own beside
// this one; an encoder's output is a function of the drawing and the encoder's
// options alone, the same bytes each time.
//
// The figures of a drawing are final: encoders never move, grow or simplify
// them beyond the tolerance that a format's package states, and never open or
// name a file. To add a format, write its package and give it a line in
// [Encoders].
package export
