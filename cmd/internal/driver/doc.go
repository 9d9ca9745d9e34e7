// Package driver takes a design from its file through every stage to the files
// that a laser cuts from.
//
// Start from [Session], which a command makes once: it holds the texts that an
// editor has not saved yet and what came in on standard input. [Session.Open]
// reads a design and returns a [Reader], the only way by which the stages get
// at other files: it keeps them inside the design's root folder and records
// each file that was read or looked for, by which a watcher knows when to
// build again.
//
// Invariants: a design with an error leaves no file and touches none; a stage
// is never run on what an earlier one could not make; a panic in a stage
// becomes an [InternalError] here and goes no further.
//
// The package prints nothing and never exits.
package driver
