// Package columns reads a design's table of orders as the design declares it:
// its file, its encoding and what each column holds.
//
// Start from [Read]. How tables are written, package orders knows; what is
// declared, package resolve. The package builds no order.
package columns
