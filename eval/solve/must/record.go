package must

import (
	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/optimize"
	"foredge/eval/solve/sparse"
)

// A giver is the step that made a dimension known.
type giver struct {
	kind giverKind
	at   int32 // the relation (byOne), the place in Problem.steps (byMany) or in Problem.solved (byBlock)
	col  int32 // for byMany, the column of the step
}

type giverKind uint8

const (
	byNothing giverKind = iota // not known, or known from the start
	byOne                      // one relation whose other dimensions were known
	byMany                     // several relations together
	byBlock                    // a block of non-linear relations
)

// A step is an elimination that made dimensions known.
type step struct {
	*linear.Elimination
	relation []int32 // of each row, below 0 for an extra row
}

// A Conflict is something that can't hold: a relation with what it leans on,
// or a sign rule, or limits that leave nothing.
type Conflict struct {
	Relations []int32 // enough of them to show it, in order
	Rows      []int32 // with those, places in Problem.Extra, the last first
}

// An OddCount is a count that can't be what it comes out as: no whole number,
// out of bounds, or NaN where nothing bounds it.
type OddCount struct {
	Var      relation.VarID
	Value, U float64
}

// An Undecided is a block of dimensions for which the equations that should
// give them have no solution, or several.
type Undecided struct {
	Vars      []relation.VarID
	Relations []int32
	Given     []int32     // the other relations that those lean on
	Found     [][]float64 // the solutions, each a value for every one of Vars
}

// An ExtraRow is form = 0, where form may move with the benches.
type ExtraRow struct {
	Form relation.Form
	Grad []sparse.Term
}

// A LimitForm ties a form of the space to the limit it came from.
type LimitForm struct {
	form     int32
	Relation int32          // -1 for a sign rule
	Piece    int            // which of the relation's forms
	Sign     relation.VarID // for a sign rule
}

// A Part is what hangs together through limits.
type Part struct {
	params, limits []int32
	stops          []stops              // of each parameter, as far as it was asked for
	poly           *optimize.Polyhedron // once it is asked for
	Large          bool                 // too large for one
	restless       bool                 // it has no lowest point by the limits in turn
	sought         bool                 // a point was looked for
	nowhere        bool                 // none was found in any way
}

// A stops says whether limits stop a parameter by itself on both sides.
type stops uint8

const (
	unasked stops = iota
	unstopped
	stopped
)
