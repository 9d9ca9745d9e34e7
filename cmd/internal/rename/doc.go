// Package rename finds wherever designs speak of a thing or named value, and gives it
// another name there.
//
// Start from [Bench]. What merges by like, mirrors or covers, and what shares a name by
// `when`, is renamed together, in every design that uses the file. A name is changed only
// if nothing else changes by it: every name must stand for what it stood for, all
// dimensions and cut files must come out as before, and no error may come of it. It writes
// nothing.
package rename
