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
// The work is done in packages below this one, each of which imports only those
// before it. The numerics know nothing of designs: sparse (rows of numbers),
// graph (which equations mention which unknowns), root (zeros of functions),
// linear (elimination, and the space it leaves), lsq (least squares by
// orthogonal factors), optimize (least values and least squares under limits).
// On them stand plan (a system made ready), must (equations and limits), adjust
// (readings) and level (musts, wishes, defaults of a design). This package is on
// top: it has them do their work (solve.go, telling.go) and tells what came of
// it (readings.go, clash.go with filter.go and carry.go, free.go, cause.go,
// covariance.go, verify.go).
//
// The result is a pure function of the system: no clock, no random numbers, no
// map order. Solve never panics, whatever numbers the system holds.
package solve
