// Package dim names the dimensions that things have: width, hole.along,
// over-head. Which kind of thing has which of them is in package kind; what they
// mean and how they are tied to one another, in package compile.
//
// Start from [Name]. The package is data: it computes nothing.
package dim
