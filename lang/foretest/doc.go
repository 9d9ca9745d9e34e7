// Package foretest holds what the tests of every package need: golden files,
// the repository's own designs, numbers that agree within a tolerance, the size
// of a random sample, and programs from outside that give a second opinion.
//
// Start from [Golden], [Near], [Sample] or [Missing]. The package stands below
// all others and imports the standard library alone, so that any test may use
// it. It knows nothing of the language; what solves a text for a test is in
// package evaltest, what reads a cut file back in exporttest. No program may
// import it.
package foretest
