// Package root finds where non-linear functions are 0: [Scan] all the places on
// a line, [Newton] one from a given start in several dimensions, for which
// [Start] spreads starts, [NewtonShortest] one of many where some directions make no
// difference, which are those [Unsaid].
//
// It is for functions that cost little and may be undefined, NaN, in places. No
// random numbers: the same function gives the same roots. What is no zero, such
// as a jump, is never returned as one.
package root
