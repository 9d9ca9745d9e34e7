// Package eval gives a design its meaning: it turns the tree of a file into
// dimensions and the relations among them, has them solved, and says in a
// maker's words what came out.
//
// Start from [Build], which makes a [Model], and [Model.Solve], which makes a
// [Solution]; [Solution.Design] holds the solved things as plain numbers for
// drawing. The work is done by the packages below: resolve, compile, solve, tell,
// advice and outcome, in this order.
//
// Lengths are in millimetres and angles in degrees from the first expression
// on. The package reads no file itself, draws nothing, and never changes the
// tree or what names mean.
package eval
