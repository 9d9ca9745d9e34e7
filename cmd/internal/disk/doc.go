// Package disk is how foredge reads and writes files.
//
// Start from [Read], which brings in a file with a size limit and a message
// for a maker when it can't, and [WriteSet], which writes several files so
// that either all of them are new or none is. [Look] takes the state of a path
// (what stands there, and a hash of it), by which a watcher knows whether
// anything really changed.
//
// Invariants: a file is read whole or not at all; a file that is written
// appears under its name complete; a file whose bytes would not change is not
// touched; no temporary file stays behind when a call returns.
//
// The package knows nothing of designs or drawings.
package disk
