// Package asttest shows trees of designs to tests.
//
// Start from [Dump], which writes a file's tree as text; [Head] and [Show] do
// so for one statement and one value. [Walk] visits all nodes of a file.
//
// Operators stand before what they join, in brackets. Comments follow their
// statement, marked by where they belong: ^ before it, > at its end, { at its
// opening brace, } before its closing one. The form is no promise.
package asttest
