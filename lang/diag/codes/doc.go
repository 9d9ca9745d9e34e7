// Package codes is the register of what foredge can tell a maker: one entry
// for each code that any stage reports.
//
// Start from [Find], or [All]; [Silenceable] and [Silence] are for stages that
// warn. From the entries are made what `quiet` takes, the reference's table of
// warnings and `foredge help CODE`. Each stage's entries stand in a file of
// their own: text, names, values, readings, solving, board, artwork, advice,
// lattice, orders, files.
//
// A code has one entry, and an entry is of a code that some stage reports;
// what can be silenced is a warning; an entry's example is told just this code.
// Tests in cmd/foredge hold all of that. The package only describes: it never
// decides what is told of a design.
package codes
