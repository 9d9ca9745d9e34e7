// Package batch makes a design for each of a table of orders.
//
// Start from [Run]. It reads and parses the design once, then goes over the
// orders twice: first each is compiled, solved and laid out, and only when all
// have been, the good ones are made again and written, each with a job ticket,
// and at the end a list of what was made.
//
// Invariants: nothing is written before every order was checked; what is made
// depends on design and orders alone, not on which goroutine came first; each
// file is written whole or not at all, and one that already holds the same
// bytes is left alone, so that a batch may be stopped at any moment and run
// again; memory doesn't grow with the files that are made.
//
// The package prints nothing and never exits.
package batch
