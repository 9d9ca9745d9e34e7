// Package diagtest checks diagnostics against what a design file expects of
// itself.
//
// Start from [Check]. A comment at the end of a line says which diagnostics
// must be reported on that line:
//
//	width = 12 mn          # error: mn is no unit
//	count = -1             # error: at least 0 | warning: no holes
//	# error below: not closed
//	name = "abc
//	# error file: is 2.0 MiB long
//
// What follows the colon must be part of the message, of its hint or of one
// of its notes. Several are divided by " | "; each further one may begin with
// a severity of its own. `below` speaks of the next line, `file` of a
// diagnostic with no line in the file. Each expectation takes one diagnostic.
// Those that were not expected fail the test, and so do those that are
// missing; notes (`# note: ...`) may be expected but need not be.
package diagtest
