// Package solve finds the values of a design's dimensions.
//
// Start from [Solve]: it takes a [relation.System] and returns a [Solution],
// which says of each dimension what it is, how uncertain, and why; and where
// the design can't be solved, which lines clash, which dimensions are free,
// which count is not whole. It returns structure, never text for a maker.
//
// Each notebook (bench) is solved by itself first, by weighted least squares
// in which the musts hold exactly. Its values are then facts for the design,
// which is solved in three levels one after another: musts, wishes, defaults.
// Nothing of a later level moves an earlier one; there are no penalties and no
// sums of weights across levels.
//
// The numerics, from the bottom: sparse rows (sparse.go), elimination of the
// equations (eliminate.go), what is left of freedom as a space of parameters
// (space.go), least squares by orthogonal factors (factor.go), limits by the
// simplex method on small parts and by an interior-point method with an exact
// finish on large ones (simplex.go, qp.go). On them stand the musts (plan.go,
// musts.go, root.go, block.go, limit.go), each problem in a scope of its own
// (scope.go), the benches (bench.go), the levels (solve.go, wish.go, default.go,
// most.go, fix.go), and what is told of them (clash.go, free.go, explain.go,
// propagate.go).
//
// The result is a pure function of the system: no clock, no random numbers, no
// map order. Solve never panics, whatever numbers the system holds.
package solve
