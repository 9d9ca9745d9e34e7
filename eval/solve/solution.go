package solve

import (
	"foredge/eval/relation"
	"foredge/eval/solve/adjust"
	"foredge/eval/solve/level"
	"foredge/eval/solve/must"
	"foredge/eval/solve/sparse"
)

// An Origin says how the value of a dimension came about.
type Origin uint8

const (
	Unknown   Origin = iota // it is free, or could not be worked out
	Stated                  // one line gives it as a number
	Reading                 // read on the bench, reconciled with the others
	Derived                 // follows from other dimensions
	ByWish                  // as near to a wish as the rest allows
	ByDefault               // nothing stated decides it; a default does
)

// String is the origin as a word for data.
func (o Origin) String() string {
	return [...]string{"unknown", "stated", "reading", "derived", "wish", "default"}[o]
}

// A CauseKind says which list of the system [Cause.Index] points into.
type CauseKind uint8

const (
	NoCause       CauseKind = iota
	ByRelation              // Index into System.Relations, as for ByLimit
	ByReadings              // the bench's adjustment as a whole; Index is the reading nearest to it, or -1
	ByWishLine              // into System.Wishes
	ByDefaultLine           // into System.Defaults
	ByLimit                 // a limit that the dimension stands at
)

// A Cause is the step that gave a dimension its value: the line, and the
// dimensions whose values it used. Following From to its end never comes back
// to where it began, except within a block of lines that are solved together,
// all of which then name each other.
type Cause struct {
	Kind CauseKind
	// Missed says that a wish or a default is not met, but only as near as can be.
	Missed bool
	Index  int
	From   []relation.VarID
	// Together lists the relations of a block that were solved in one step, the
	// same for all its dimensions; empty where one relation was enough.
	Together []int
}

// A Solution is what package solve makes of a system. Slices indexed by
// dimension have one entry for each of [relation.System.Vars].
type Solution struct {
	Values []float64 // NaN where unknown
	// U is the standard uncertainty, 0 for exact values.
	U     []float64
	From  []Origin
	Cause []Cause

	uncertain uncertain

	Benches []BenchReport
	Clashes []Clash
	Free    []FreeGroup
	Counts  []CountProblem
	Tangles []Tangle
	// GivenUp are wishes that were given up, and why.
	GivenUp []level.Unsettled
	// Spent says that the solver gave up, and at what; nil if it didn't.
	Spent *must.Spent
}

// OK reports whether every needed dimension has a value and nothing clashes.
// A failed global test of readings does not count: see [BenchReport].
func (s *Solution) OK() bool {
	return len(s.Clashes) == 0 && len(s.Free) == 0 && len(s.Counts) == 0 && len(s.Tangles) == 0 && len(s.GivenUp) == 0 && s.Spent == nil
}

// A Clash is an irreducible set of lines that can't all hold: without any one of
// them the others can. What holds without a line that says so ([relation.Role.Background])
// and sign rules are never members.
type Clash struct {
	// Relations are indices into System.Relations, in source order but that defaults
	// that hold stand first; none where what notebooks say can't be covered.
	Relations []int
	// Carried are the lines of notebooks that belong to it.
	Carried Carried
	// Facts are the relations that tie them to what is covered or cut from. They
	// always hold, and are no members.
	Facts []int
	// Low and High are the least and the greatest value that the other members
	// leave for the last member's left side; Asked is what the last member asks
	// of it, and Miss by how much it fails. Low and High may be infinite.
	Low, High, Asked, Miss float64
	// Chosen says that the musts alone could hold: a line that isn't linear,
	// the only member, is broken by what wishes and defaults have chosen.
	Chosen bool
}

// Carried is what notebooks say that carries a clash, by the places in the
// system: relations of notebooks; readings, which count with what they were
// adjusted to; wishes, with what came of them.
type Carried struct{ Relations, Readings, Wishes []int }

// A FreeGroup is dimensions that nothing decides and that move together.
type FreeGroup struct {
	Vars []relation.VarID
	// Settle is the dimension whose value, once stated, would settle the most
	// of the group.
	Settle relation.VarID
	// Low and High bound it by what holds already; may be infinite, and are where
	// lines that clash speak of the group.
	Low, High float64
}

// A CountProblem is a count that comes out as no whole number, is out of
// bounds, or is `most` with nothing that bounds it.
type CountProblem struct {
	Var       relation.VarID
	Value     float64 // what it comes out as; NaN for an unbounded most
	U         float64
	Unbounded bool // `most`, and nothing stated keeps the holes apart
}

// A Tangle is a block of non-linear relations for which no value, or more than
// one, was found.
type Tangle struct {
	Vars      []relation.VarID
	Relations []int
	// Given are other relations that it leans on, in source order: where there is
	// no solution, those without any one of which there is, or may be.
	Given []int
	// Found holds the different solutions, each a value for every one of Vars;
	// empty if there is none.
	Found [][]float64
}

// A BenchReport says how well one notebook's readings agree.
type BenchReport struct {
	Bench     int // from 1
	ChiSquare float64
	Freedom   int // degrees of freedom
	// Scale is sqrt(ChiSquare / Freedom), by how much the readings scatter more
	// than they promise; NaN without redundancy. Where readings of equal but
	// unknown uncertainty are entered with U = 1, uncertainties times Scale are
	// those of ordinary least squares.
	Scale float64
	// Limit95 and Limit999 are the bounds of the global test at 95 % and 99.9 %, for
	// all benches that have one together.
	Limit95, Limit999 float64
	Readings          []ReadingReport
	// Suspects are indices into Readings: the reading with the largest
	// normalised deviation first, then those that nothing tells apart from it:
	// without them the others agree about as well. Empty if the global test at 95 % passes.
	Suspects []int
}

// A ReadingReport says what became of one reading.
type ReadingReport struct {
	Index     int     // into System.Readings
	Adjusted  float64 // what the reconciled dimensions give for it
	AdjustedU float64
	// Deviation is the reading minus Adjusted; Normalised is that in units of
	// its own standard deviation, 0 for a reading that nothing checks.
	Deviation, Normalised float64
	// Redundancy is 0 for a reading that nothing else checks, up to 1 for one
	// that the others give exactly.
	Redundancy float64
	// Implied is what all other readings together say it would have to be, with
	// its standard uncertainty; NaN if nothing else gives it.
	Implied, ImpliedU float64
}

// uncertain says how every value moves with what the benches left uncertain.
type uncertain struct {
	adj  *adjust.Adjustments
	grad [][]sparse.Term // of each dimension, over the parameters of the benches
}
