package relation

import (
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A VarID is the index of a dimension in [System.Vars].
type VarID int32

// A Var is one dimension of one thing, or a value computed from dimensions.
type Var struct {
	Name   string // as a maker writes it from the top: front.wire.pitch
	Kind   unit.Kind
	Signed bool // it may be negative (over-*, ease); all others are at least 0
	Whole  bool // a count: a whole number
	Most   bool // `count = most`: the largest whole number that can hold
	// Bench is 0 for a dimension of the design and k for one of the k-th
	// notebook ([System.Benches][k-1]), which is solved by itself first.
	Bench int
	// Needed says that something drawn, checked or asked for depends on it, so
	// that it is an error if it stays free.
	Needed bool
	// Member says that it is one of a field's member: where that lies by the field's own.
	Member bool
	// Aside says that it is no dimension of a thing: see [Reading.As].
	Aside bool
	At    source.Span // the thing's declaration, or the line that names it
}

// An Op is the form of an [Expr].
type Op uint8

const (
	Const    Op = iota // Value
	Ref                // the dimension Var
	Sum                // Args[0] + Args[1] + ...
	Product            // Args[0] * Args[1] * ...
	Quotient           // Args[0] / Args[1]
	Min                // the least of Args
	Max                // the greatest of Args
	Abs                // |Args[0]|
	Sqrt               // square root of Args[0]
	Cos                // cosine of Args[0] degrees
	Acos               // the angle in degrees, 0 to 180, whose cosine is Args[0]
	// The following work forwards only: what they take must be known.
	Floor   // Value * floor(Args[0] / Value), Value the unit's size
	Ceil    // Value * ceil(Args[0] / Value)
	Nearest // the multiple of Args[1] nearest to Args[0]
)

// An Expr is a side of a relation.
type Expr struct {
	Op Op
	// Kind says of a Const what it is a number of, where what stands around it
	// doesn't: that 45 is degrees. It only matters when the relation is written.
	Kind  unit.Kind
	Var   VarID
	Value float64
	Args  []Expr
}

// C is a constant.
func C(v float64) Expr { return Expr{Op: Const, Value: v} }

// Degrees is a constant angle.
func Degrees(v float64) Expr { return Expr{Op: Const, Kind: unit.Angle, Value: v} }

// Call is a function of its arguments: min, sqrt, acos.
func Call(op Op, args ...Expr) Expr { return Expr{Op: op, Args: args} }

// V is a dimension.
func V(id VarID) Expr { return Expr{Op: Ref, Var: id} }

// Add is the sum of its arguments.
func Add(args ...Expr) Expr { return Expr{Op: Sum, Args: args} }

// Mul is the product of its arguments.
func Mul(args ...Expr) Expr { return Expr{Op: Product, Args: args} }

// Neg is -e.
func Neg(e Expr) Expr { return Mul(C(-1), e) }

// Minus is a - b.
func Minus(a, b Expr) Expr { return Add(a, Neg(b)) }

// Div is a / b.
func Div(a, b Expr) Expr { return Expr{Op: Quotient, Args: []Expr{a, b}} }

// A Sign says how the two sides of a relation compare.
type Sign uint8

const (
	EQ Sign = iota // left = right
	GE             // left >= right
	LE             // left <= right
)

// Swapped is the sign of the same relation with its sides exchanged.
func (s Sign) Swapped() Sign {
	switch s {
	case GE:
		return LE
	case LE:
		return GE
	}
	return s
}

// A Role says where a must-relation comes from, and so whether it may stand in
// a clash.
type Role uint8

const (
	Own     Role = iota // a kind's own relation (pitch = hole.along + web): always kept
	Stated              // a line of the design, its own or inherited
	Fact                // a notebook's reconciled value that a panel covers
	Pattern             // a line that came with a pattern
	Held                // a default that no line speaks of, and so holds
)

// Background reports whether a relation holds without a line that says so: no
// clash can be mended by taking it out.
func (r Role) Background() bool { return r == Own || r == Fact }

// A Relation is left = right, left >= right or left <= right, and must hold.
type Relation struct {
	Sign        Sign
	Role        Role
	Left, Right Expr
	Bench       int         // the notebook in which it stands, 0 for the design
	At          source.Span // the stated line; for Own the thing's declaration
	// Words are the maker's own, empty for a relation that a kind of thing carries:
	// [System.Say] makes those from the expressions, so that they can't differ.
	Words string
	// Why says in a few words why a relation without Words holds; it may be empty.
	Why string
	// Inherited names the thing whose line this is where `like` or `mirrors`
	// brought it along; empty otherwise.
	Inherited string
	// Turned says that it is about the name on its right, though one stands alone on
	// its left too; see Subject.
	Turned bool
	// Swapped says that the maker wrote its sides the other way round, as in `3 <= first`:
	// a line with a number on its left would be told as one that moves the number.
	Swapped bool
	// Follows are dimensions of other things of the panel than that in whose braces it
	// stands, which follows them: it doesn't tie their ends.
	Follows []VarID
}

// Subject is the dimension that a line is about: a name that stands alone on one
// of its sides. It gives false if neither does.
func (r *Relation) Subject() (VarID, bool) { return subject(&r.Left, &r.Right, r.Turned) }

// Subject is the dimension that a wish is about; see [Relation.Subject].
func (w *Wish) Subject() (VarID, bool) { return subject(&w.Left, &w.Right, w.Turned) }

func subject(left, right *Expr, turned bool) (VarID, bool) {
	switch {
	case left.Op == Ref && !turned:
		return left.Var, true
	case right.Op == Ref:
		return right.Var, true
	}
	return 0, false
}

// A Reading is what a tool said of an expression of one notebook's dimensions.
type Reading struct {
	Left Expr
	// As is a dimension of its own that a relation says to be Left, where that isn't
	// linear: so all that isn't is in relations. It is the zero Expr elsewhere.
	As    Expr
	Bench int
	Value float64 // the mean of the repeats
	// U is the standard uncertainty, U > 0: sqrt(g²/3 + d²/12 + s²/n).
	U float64
	// Repeats is n; Scatter is s, the sample standard deviation; Accuracy is g,
	// the half width of what the tool promises (0 if only repeats are known);
	// Resolution is d, its digital step (0 where not stated).
	Repeats    int
	Scatter    float64
	Accuracy   float64
	Resolution float64
	// Flat is the width w of the jaws' flat, for which Value corrects what was
	// read of a round hole: Value² = Read² + w². Read is the mean as read. Both
	// are 0 where nothing was corrected.
	Flat, Read float64
	// Each are the repeats as they were read, where there are several; Step is that
	// of the last digit to which they are written, 0 where nothing says it.
	Each []Repeat
	Step float64
	At   source.Span // the line, or the part of it that holds this value
	Text string      // what was read: "wire.web", "10 * wire.pitch"
}

// Solved is what the solver takes for what was read: As or, if that is none, Left.
func (r *Reading) Solved() Expr {
	if r.As.Op == Ref {
		return r.As
	}
	return r.Left
}

// A Repeat is one of the values of a reading.
type Repeat struct {
	Value float64
	At    source.Span
}

// A Wish is left = right, as near as the rest allows.
type Wish struct {
	Left, Right Expr
	Weight      float64 // multiplies the squared deviation, > 0
	Bench       int     // the notebook in which it stands, 0 for the design
	At          source.Span
	Words       string // the maker's own
	Turned      bool   // see Relation
}

// A Default is left = right, as near as the levels above it and the defaults of
// lower rank allow. Those of one rank are met together: the squares of their
// deviations add up to the least.
type Default struct {
	Left, Right Expr
	Rank        int // from 0 on
	// Given are dimensions that it takes as they are: a default that only they
	// could give way to does nothing. So left gets its value from right, and not
	// the other way round, where right's dimensions are given.
	Given []VarID
	// Mutual are those of Given that belong to what takes dimensions of this default's thing
	// as given in turn: it waits for them too, but where the two wait for one another, they
	// may move.
	Mutual []VarID
	// Ring is the same number above 0 for all that wait for one another, 0 for a default
	// that waits for none that waits for it.
	Ring int
	// Frame are the sizes of what it places something in. They are given too, and
	// all defaults of a rank together don't decide them either.
	Frame []VarID
	// Wished says that it would be a must if no wish were about what it decides. Counts
	// that are most take it for one where they can, so that no wish changes them.
	Wished bool
	// Vars are the dimensions that it is there to settle, for explanations.
	Vars []VarID
	At   source.Span
	Why  string // in a few words; it may be empty
}

// A Bench is one notebook (or a stock's thickness) with its readings.
type Bench struct {
	Name string
	At   source.Span
}

// A System is all of it.
type System struct {
	Vars      []Var
	Relations []Relation
	Readings  []Reading
	Wishes    []Wish
	Defaults  []Default
	Benches   []Bench
}
