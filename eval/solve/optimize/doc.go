// Package optimize solves linear and least squares problems under limits, forms
// that must be at least 0.
//
// Start from [NewPolyhedron] for a few limits: it says whether they leave
// anything, and the least value of a form (simplex method). Start from [NewQP]
// for least squares under any number of limits (active sets, the method of multipliers
// where many of those act that hang together, and an interior-point method where active
// sets go astray).
//
// A polyhedron that leaves nothing names limits that show it. An optimum names
// the limits that hold it back, and how each goal moves with what lies outside
// the parameters. Neither ever breaks a limit to come nearer to a goal.
package optimize
