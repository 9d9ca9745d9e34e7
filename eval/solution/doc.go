// Package solution joins a compiled design with its numbers.
//
// Start from [Solution]. It gives the value of each dimension, says where it
// comes from ([Solution.Why]) and writes values for a person. What is wrong with
// a design, package tell says; what is to be drawn, package outcome.
package solution
