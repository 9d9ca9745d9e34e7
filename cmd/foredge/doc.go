// Command foredge compiles designs of covers, panels and boxes, written down
// as measurements and relations, into files that a laser cuts from.
//
// Start from commands, the table of what it can do; each command has a file of
// its own, which reads its flags, lets package driver do the work, and tells
// what came of it. Results go to standard output or into files, diagnostics to
// standard error. The exit status is 0 when all was done, 1 when a design has
// errors, 2 for misuse and for files that can't be read or written.
//
// No command knows how a design is solved or drawn.
package main
