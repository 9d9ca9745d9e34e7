// Mutate tells how well the tests hold the program: it changes the code in one
// place at a time, such as < to <=, and looks whether a test fails.
//
//	go run ./.ci/mutate            400 mutants of lang, eval, layout and export
//	go run ./.ci/mutate -list      only say which they would be
//	go run ./.ci/mutate -only '^layout/geom$' -n 40
//	go run ./.ci/mutate -above 3   ask no more than 3 packages above: sooner done, and none is killed too many
//	go run ./.ci/mutate -again     try those anew that lived, with all packages
//
// Which mutants are tried depends on the seed and on the code alone: each place
// has a rank that a change elsewhere in the code leaves as it is. A mutant is
// tried with the short tests of its own package and, while it lives, with those
// of each package that depends on it. One that fails a test or hangs is killed;
// one that does not compile is not counted. What came out is added to a file at
// once, so that a run that was stopped goes on where it was.
//
// A mutant that lives shows that something is not tested, unless it changes
// nothing that could be seen. Such a one is named in equivalent.tsv with the
// reason; entries that no longer match the code are told.
//
// The code itself is never touched: the changed file is laid over the true one
// by the -overlay flag of the go command.
package main
