// Package ast is the tree of a design file as it was written.
//
// Start from [File], whose statements are one of the types that implement
// [Stmt]; values are [Expr]. The doc comment of each node shows how it is
// written. Every node knows its [source.Span]; a child's span lies within its
// parent's, and a statement's span does not include its line end.
//
// The tree is plain data. Only package parse makes it and nobody changes it
// afterwards: what names mean is kept elsewhere. A part that could not be read
// is a [BadStmt] or [BadExpr], about which later stages stay silent.
package ast
