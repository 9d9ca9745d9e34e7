// Package advise says what an old hand would say of a design that can be cut as
// it stands: what is too thin to last, what warps, what a child could swallow,
// what must not go under a laser.
//
// Start from [Notes], in which all that is said is collected, and from [Panel],
// [Case] and [Materials]. Each warning has its own code, by which the design
// may silence it, and says its number and where that comes from.
//
// The package works on a solved design and on distances that package layout has
// measured. It draws nothing and never changes a design.
package advise
