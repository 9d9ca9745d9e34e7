// Package solution joins a compiled design with its numbers.
//
// Start from [Solution]. It gives the value of each dimension, says where it
// comes from ([Solution.Why]) and writes values for a person. Package tell
// says what is wrong with a design, package outcome what is to be drawn.
package solution
