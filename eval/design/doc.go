// Package design holds a solved design as plain numbers, ready to be drawn.
//
// Start from [Design]. Lengths are in mm, angles in degrees. What a design may
// leave open is a [maybe.Of], a nil pointer or the zero value of a choice. The
// types know nothing of the text that they came from but where in it each thing
// stands, for messages; and nothing of how they were worked out.
package design
