// Package job makes the jobs of a file: the parts of several designs, each with all its
// orders, on the sheets of a shop.
//
// Start from [Make]. It gives a result for the file and one for each job, whose files are
// those of its sheets and a page that shows them. Parts of all designs that are cut from one
// stock lie together. A job is made whole or not at all: one design or order that can't be
// made, or two designs that don't agree on a stock, and it has no files.
//
// What is made is a function of the files alone, but where the context ends the search for
// fewer sheets early: then the best that was found is made. The package writes nothing.
package job
