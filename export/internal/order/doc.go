// Package order puts a drawing into the order in which a laser runs it, and
// refuses one that no cut file can hold.
//
// Start from [Running]. Every encoder walks its result, so that all files of a
// design name the same shapes in the same order: that of layout/tour. Guides are left out.
//
// The package never changes a drawing and never moves a figure.
package order
