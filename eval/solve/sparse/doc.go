// Package sparse holds sparse rows of numbers and what adds them up.
//
// Start from [Affine]: a constant and multiples of numbered parameters, with the
// way the constant moves with quantities outside. [Combine] adds two rows,
// [Gatherer] and [Sum] many. [Lister] and [Slab] keep many short slices in few
// pieces of memory.
//
// Terms are in order of their parameter, each parameter at most once and with a
// coefficient other than 0. What cancels to within [Vanish] of its parts is left
// out. Nothing here knows what a parameter stands for.
package sparse
