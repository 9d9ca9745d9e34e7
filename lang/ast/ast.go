package ast

import (
	"foredge/lang/numeral"
	"foredge/lang/source"
)

// A Node is any part of the tree.
type Node interface {
	Span() source.Span
}

// Comments are the comments that belong to a statement or file. Every comment
// of a file has exactly one owner.
type Comments struct {
	Before []Comment // whole lines above it
	Suffix []Comment // at the end of its last line (for a block: after its closing brace)
	Open   []Comment // for a block: at the end of the line of its opening brace
	End    []Comment // for a block or file: whole lines after its last statement
}

// A Comment is the text from # to the end of the line, # included, or a line that a
// merge of two versions has left and that is not read.
type Comment struct {
	At    source.Span
	Blank bool // an empty line stands before it
}

// A File is a whole design file.
type File struct {
	Source   *source.File
	Stmts    []Stmt
	Comments Comments
	// Broken says that part of the text could not be read and was reported, so
	// that what seems to be missing may stand there.
	Broken bool
	// Astray is where things may stand in the wrong braces, as one is missing or one
	// too many: what the rest of the program finds wrong in there comes of that.
	Astray source.Span
}

// A Stmt is one statement.
type Stmt interface {
	Node
	Comment() *Comments
	stmt()
}

// base is what all statements share.
type base struct {
	At       source.Span
	comments Comments
}

func (b *base) Span() source.Span     { return b.At }
func (b *base) Comment() *Comments    { return &b.comments }
func (b *base) SetSpan(s source.Span) { b.At = s }
func (*base) stmt()                   {}

// An Ident is a name as written in one place, without dots.
type Ident struct {
	At   source.Span
	Name string
}

func (i Ident) Span() source.Span { return i.At }

// Version is `foredge 1`: the version of the language that the file is
// written in.
type Version struct {
	base
	Number Ident
}

// Units is `units in`.
type Units struct {
	base
	Unit Ident
}

// Use is `use "shop.fore"` (Path set) or `use bindings` (Shelf set).
type Use struct {
	base
	Path  *String
	Shelf *Ident
}

// A Decl declares a thing: KIND NAME CLAUSE... { ... }. A kind may be named by
// a string (`orders "orders.csv" { ... }`), then Name is zero and Title set.
type Decl struct {
	base
	Kind    Ident
	Name    Ident
	Title   *String
	Clauses []Clause
	Body    *Block // nil without braces
	// Broken says that something between its name and its braces could not be read.
	Broken bool
}

// A Clause is `on EDGE`, `like X`, `mirrors X`, `covers X` or `when CONDITION`.
// The first has Word "on", and so on. Target is a *Name for all but `when`.
type Clause struct {
	At     source.Span
	Word   Ident
	Target Expr
}

func (c Clause) Span() source.Span { return c.At }

// A Block is { ... }.
type Block struct {
	At    source.Span // braces included
	Stmts []Stmt
}

func (b *Block) Span() source.Span { return b.At }

// A Relation is `A = B`, `A >= B`, `A <= B` or the chain `3 <= A <= 5`. Its
// first side stands in First; each further side with the sign before it in
// Rest. A property such as `material = birch` or a reading such as
// `width = 203.3, 203.4` has the same form.
type Relation struct {
	base
	First Expr
	Rest  []Side
}

// A Side is a sign (=, >= or <=) with what follows it.
type Side struct {
	Op    Op
	OpAt  source.Span
	Value Expr
}

// Prefer is `prefer A = B weight 3`. Weight is nil where none is stated.
type Prefer struct {
	base
	Left   Expr
	Op     Op // = (others are read, and refused by the meaning)
	Right  Expr
	Weight Expr
}

// Check is `check CONDITION else MESSAGE`. Message is nil where none is given.
type Check struct {
	base
	Cond    Expr
	Message Expr
}

// Let is `let NAME = EXPR`. Only here Value may be a [Choice].
type Let struct {
	base
	Name  Ident
	Value Expr
}

// Without is `without NAME`.
type Without struct {
	base
	Name Ident
}

// A Mark is `engrave text EXPR { ... }` (a [List] for several texts), `engrave art "file.svg"`, `mark text
// ...`, `inlay text ...` or `mark frame { ... }`.
type Mark struct {
	base
	Verb  Ident // engrave, mark, score, cut or inlay
	What  Ident // text, art or frame
	Value Expr  // nil for frame
	Body  *Block
}

// A BadStmt is a stretch that could not be read; it has been reported. Body is
// a block that stood after it, nil if none did; its own faults are reported,
// what it means is unknown.
type BadStmt struct {
	base
	Body *Block
}

// An Expr is a value, or what stands on one side of a relation.
type Expr interface {
	Node
	expr()
}

type exprBase struct {
	At source.Span
}

func (e *exprBase) Span() source.Span     { return e.At }
func (e *exprBase) SetSpan(s source.Span) { e.At = s }
func (*exprBase) expr()                   {}

// A Number is `12`, `.5`, `4 3/4`, `7/16`, `12mm`, `4 3/4 in`, `20 %`, `90 deg`.
type Number struct {
	exprBase
	numeral.Number        // without its unit
	Unit           string // "" for a bare number
}

// A String is `"Harbour Log"`.
type String struct {
	exprBase
	Value string
}

// A Name is `front.wire.pitch`. A part that is a whole number, as in
// `front.rings.gap.3`, is an Ident like the others.
type Name struct {
	exprBase
	Parts []Ident
}

// Dotted returns the name as written, without blanks.
func (n *Name) Dotted() string {
	s := ""
	for i, p := range n.Parts {
		if i > 0 {
			s += "."
		}
		s += p.Name
	}
	return s
}

// An Indexed is the left side `corner head-foredge` or `gap 3`.
type Indexed struct {
	exprBase
	Word  Ident // corner or gap
	Index Ident // an edge pair, or a whole number
}

// An Op is an operator or a sign.
type Op uint8

const (
	NoOp Op = iota
	Add
	Sub
	Mul
	Div
	Eq
	Ne
	Lt
	Le
	Gt
	Ge
	And
	Or
	Not
	Neg
)

func (o Op) String() string {
	return [...]string{"", "+", "-", "*", "/", "=", "!=", "<", "<=", ">", ">=", "and", "or", "not", "-"}[o]
}

// A Binary is `A + B`, `A >= B`, `A and B`...
type Binary struct {
	exprBase
	Op   Op
	OpAt source.Span
	L, R Expr
}

// A Unary is `-A` or `not A`.
type Unary struct {
	exprBase
	Op Op // Neg or Not
	X  Expr
}

// A Paren is `( A )`.
type Paren struct {
	exprBase
	X Expr
}

// A Call is `max(A, B)`, `sqrt(A)`, `nearest(A, STEP)`...
type Call struct {
	exprBase
	Func Ident
	Args []Expr
}

// A List is `A, B, C` on the right of a sign: repeated readings, gaps or the
// parts of a case.
type List struct {
	exprBase
	Elems []Expr
}

// A Shape is `rect A by B radius R`, `round D`, `chamfer C` or what else
// [ShapeWords] lists.
type Shape struct {
	exprBase
	Word   Ident
	A      Expr // the first size; a Stated where ± or exact stands behind it alone
	B      Expr // the second; nil for words that take one
	Radius Expr // of its corners; nil where none is stated
}

// A Pair is `600 by 300`.
type Pair struct {
	exprBase
	A, B Expr
}

// A Less is `310 by 200 less 80 by 60 at head-right`: a rectangle of which a smaller one is
// gone at a corner. Both are a Pair, or a BadExpr.
type Less struct {
	exprBase
	Of, Gone Expr
	At       Ident // the corner
}

// A Stated is a value with how surely it is known: `148.2 ± 0.05` (Within
// set) or `210 exact` (Exact set). X may be a List or a Shape.
type Stated struct {
	exprBase
	X      Expr
	Exact  bool
	Within Expr
}

// A Choice is `3 when size = "small", 5 when size = "large"`, what a let
// chooses from.
type Choice struct {
	exprBase
	Options []Option
}

// An Option is one value of a [Choice] with the condition under which it is
// taken. When is nil for one that is taken where no other is: only the last.
type Option struct {
	Value, When Expr
}

// Span is the option as written.
func (o Option) Span() source.Span {
	if o.When == nil {
		return o.Value.Span()
	}
	return o.Value.Span().To(o.When.Span())
}

// A Grain is `along width` or `along height`.
type Grain struct {
	exprBase
	Along Ident
}

// A Column is the type of an orders column: `text from "Line 1" default ""`. Default is
// nil where none is stated. A column `one of "fox", "owl"` has the Type one, and Values.
type Column struct {
	exprBase
	Type    Ident
	Values  []Expr // what it may hold
	From    []Expr // how the table calls it
	Default Expr
}

// A BadExpr is a stretch that could not be read; it has been reported.
type BadExpr struct {
	exprBase
}
