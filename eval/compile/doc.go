// Package compile turns a resolved design into a model: typed things, their
// dimensions and the relations among these.
//
// Start from [Compile]. Each kind of thing has a file of its own, with the
// relations that always hold of it and the properties that it states, each
// decoded once. What the text says of dimensions is compiled in lines.go and
// readings.go. Of a design with errors the model holds what could be compiled.
//
// The package solves nothing and draws nothing, and it never changes what names
// mean. After it, nothing sees the syntax tree.
package compile
