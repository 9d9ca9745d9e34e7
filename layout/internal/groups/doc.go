// Package groups keeps track of which of some numbered things are connected.
//
// Start from [New]; [Groups.Unite] makes one group of two. A group is known by
// its least number, so what is found never depends on the order of uniting.
package groups
