// Package columns reads a design's table of orders as the design declares it:
// its file, its encoding and what each column holds.
//
// Start from [Read]. Package orders knows how tables are written, package resolve
// what is declared. The package builds no order.
package columns
