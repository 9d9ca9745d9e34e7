package expr

import (
	"math"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/orders"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/numeral"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// Dimensions finds the dimension that a name stands for. It reports one that is
// not there.
type Dimensions interface {
	Dimension(s resolve.Symbol, at source.Span) (relation.VarID, unit.Kind, bool)
	// Reach has a thing take part, of which Dimension may be asked later. It reports nothing of the name.
	Reach(t *resolve.Thing)
}

// A Compiler compiles the expressions of one design.
type Compiler struct {
	Diags *diag.List
	Dims  Dimensions
	// Declared is the table of orders that the design names, Orders that table
	// and Order the order that is built; nil where there is none.
	Declared *resolve.Orders
	Orders   *orders.Table
	Order    *orders.Row

	lets    map[*resolve.Let]*let
	reached map[*resolve.Let]bool // those whose things have been asked to take part
	glued   map[source.Span]bool  // the fractions that Glued has told of
}

// A Value is an expression with its kind.
type Value struct {
	Kind unit.Kind
	// Power is the exponent of a length: 1 for a length, 2 for an area.
	Power int
	Expr  relation.Expr
	Text  string // of a text
	// Base is the file in which a text is written, of several joined the first, of
	// an order the one that names the table: a path begins at its folder.
	Base *source.File
	At   source.Span
	form *Form // of a form
	// parts is how many operators the value is made with.
	parts  int
	number *ast.Number // a fraction of which it is the sum, or which it is by itself
	// unit is what a bare number means where a length is wanted; nil where it
	// was made of numbers from files with different units.
	unit *unit.Unit
}

// OfDimension is a dimension as a value.
func OfDimension(id relation.VarID, k unit.Kind, at source.Span) Value {
	v := Value{Kind: k, Expr: relation.V(id), At: at}
	if k == unit.Length {
		v.Power = 1
	}
	return v
}

// common is the unit of a bare number that two values make, of which one at
// least is bare: nil where theirs differ.
func common(l, r Value) *unit.Unit {
	switch {
	case l.Kind != unit.Bare:
		return r.unit
	case r.Kind != unit.Bare || l.unit != nil && r.unit != nil && l.unit.Size == r.unit.Size:
		return l.unit
	}
	return nil
}

// Plain reports whether the value is a number without a unit.
func (v Value) Plain() bool {
	return v.Kind == unit.Bare || v.Kind == unit.Ratio || v.Kind == unit.Count
}

// words reports whether the value is no number at all.
func (v Value) words() bool {
	return v.Kind == unit.Text || v.Kind == unit.Truth || v.Kind == unit.Form
}

// Describe says what the value is: a length, an area, a plain number.
func (v Value) Describe() string {
	if v.Kind == unit.Length && v.Power != 1 {
		if v.Power == 2 {
			return "an area"
		}
		return "a length to the power of " + unit.FormatNumber(float64(v.Power), 0)
	}
	return v.Kind.WithArticle()
}

// Same reports whether two values are of one kind, so that they can be added
// and compared. Counts and ratios are both plain numbers.
func (v Value) Same(w Value) bool {
	if v.Kind == unit.Length || w.Kind == unit.Length {
		return v.Kind == w.Kind && v.Power == w.Power
	}
	return v.Kind == w.Kind || v.Plain() && w.Plain()
}

// Value compiles an expression. It reports what is wrong and gives false.
func (c *Compiler) Value(e ast.Expr, s *resolve.Scope) (Value, bool) {
	switch e := e.(type) {
	case *ast.Number:
		return c.number(e, s), true
	case *ast.String:
		return Value{Kind: unit.Text, Text: e.Value, Base: e.Span().File, At: e.Span()}, true
	case *ast.Paren:
		v, ok := c.Value(e.X, s)
		v.At = e.Span()
		return v, ok
	case *ast.Name:
		return c.name(e, s)
	case *ast.Indexed:
		if t := s.Thing(); t != nil && e.Word.Name == dim.Gap.String() && t.Kind.Indexed == e.Word.Name {
			sym := resolve.Symbol{Thing: t, Dim: dim.Gap, Gap: e.Index.Name}
			id, k, ok := c.Dims.Dimension(sym, e.Span())
			return OfDimension(id, k, e.Span()), ok
		}
	case *ast.Unary:
		if e.Op == ast.Neg {
			return c.negative(e, s)
		}
	case *ast.Binary:
		return c.binary(e, s)
	case *ast.Call:
		return c.call(e, s)
	case *ast.BadExpr:
		return Value{}, false
	case *ast.Stated:
		if e.Exact {
			return c.Value(e.X, s)
		}
	}
	c.noNumber(e, s)
	return Value{}, false
}

// noNumber reports an expression that can't be a value here.
func (c *Compiler) noNumber(e ast.Expr, s *resolve.Scope) {
	switch e := e.(type) {
	case *ast.Shape:
		c.Diags.Errorf("kind-mismatch", e.Span(), "%s gives the form of an opening or a corner, not a number", e.Word.Name).
			WithHelp("it can come after hole =, shape =, corners = or corner ... =")
	case *ast.List:
		if slices.ContainsFunc(e.Elems, func(x ast.Expr) bool { _, bad := x.(*ast.BadExpr); return bad }) {
			return // reported by the parser
		}
		c.Diags.Errorf("kind-mismatch", e.Span(), "there are several values here, but only one can be meant").
			WithHelp("repeated readings belong in a notebook; elsewhere state one value")
	case *ast.Stated:
		d := c.Diags.Errorf("kind-mismatch", e.Span(), "± belongs to a reading, and readings belong in a notebook").
			WithHelp("state the value alone, or move the line into the notebook")
		if measured(s.Thing()) {
			d.Message = "± belongs to a reading, and this line isn't one: a reading is a dimension, = and what was read"
			d.WithHelp("state the value alone, or write the reading as in width = 148.2 ± 0.05")
		}
	default:
		c.Diags.Errorf("kind-mismatch", e.Span(), "a number was expected here")
	}
}

// measured reports whether readings may stand in a thing.
func measured(t *resolve.Thing) bool {
	for ; t != nil; t = t.Parent {
		if t.Kind.Bench {
			return true
		}
	}
	return false
}

func (c *Compiler) negative(e *ast.Unary, s *resolve.Scope) (Value, bool) {
	v, ok := c.Value(e.X, s)
	if !ok {
		return v, false
	}
	if v.words() {
		c.Diags.Errorf("kind-mismatch", e.Span(), "%s can't have a minus sign", v.Kind).WithHelp("a minus belongs before a number")
		return v, false
	}
	v.Expr = relation.Neg(v.Expr)
	v.At = e.Span()
	return c.grown(v, v.parts+1, e.Span())
}

func (c *Compiler) number(e *ast.Number, s *resolve.Scope) Value {
	v := Value{Kind: unit.Bare, Expr: relation.C(e.Value), At: e.Span()}
	if e.Unit == "" {
		u := s.File().Unit
		v.unit = &u
		if e.Denominator != 0 && u.Imperial() {
			v.number = e
		}
		return v
	}
	if e.Denominator != 0 {
		c.Glued(e)
	}
	u, ok := unit.Lookup(e.Unit)
	if !ok {
		return v // reported by the parser
	}
	v.Kind, v.Expr = u.Kind, relation.C(e.Value*u.Size)
	if u.Kind == unit.Length {
		v.Power = 1
	}
	return v
}

// Glued warns of a fraction of an inch such as 41/8, which nobody reads from a rule:
// a blank is likely to be missing; and of one of 1 or more beside a whole number, as 5 18/16.
// It reports whether it is one of these.
func (c *Compiler) Glued(n *ast.Number) bool {
	top, bottom, _ := strings.Cut(strings.TrimSpace(strings.TrimSuffix(n.Span().Text(), n.Unit)), "/")
	missing, same, glued := numeral.Mixed(top, bottom)
	carried, above := numeral.Carried(top, bottom)
	if (glued || above) && !c.glued[n.Span()] {
		if c.glued == nil {
			c.glued = map[source.Span]bool{}
		}
		c.glued[n.Span()] = true
		if glued {
			c.Diags.Warnf("glued-fraction", n.Span(), "%s is taken as %s; a blank may be missing", n.Span().Short(), same).
				WithHelp("write %s or %s, whichever is meant", missing, same)
		} else {
			c.Diags.Warnf("glued-fraction", n.Span(), "%s is taken as %s: beside a whole number a fraction is less than 1", n.Span().Short(), carried).
				WithHelp("look at the rule once more, and write %s if that is meant", carried)
		}
	}
	return glued || above
}

// Subject compiles the side of a line that says what the line is about. A name
// that stands there alone means a dimension before it means a named value.
func (c *Compiler) Subject(e ast.Expr, s *resolve.Scope) (Value, bool) {
	if n, ok := e.(*ast.Name); ok {
		sym, problem := s.Subject(n)
		return c.meaning(n, s, sym, problem)
	}
	return c.Value(e, s)
}

// name compiles a name: a dimension, a let or a column of the orders.
func (c *Compiler) name(e *ast.Name, s *resolve.Scope) (Value, bool) {
	sym, problem := s.Lookup(e)
	return c.meaning(e, s, sym, problem)
}

// meaning compiles what a name was found to mean.
func (c *Compiler) meaning(e *ast.Name, s *resolve.Scope, sym resolve.Symbol, problem *diag.Diagnostic) (Value, bool) {
	if problem != nil {
		*c.Diags = append(*c.Diags, problem)
		return Value{}, false
	}
	switch {
	case sym.Broken:
		return Value{}, false
	case sym.Let != nil:
		v, ok := c.Let(sym.Let, e.Span())
		v.At = e.Span()
		return v, ok
	case sym.Order != "":
		return c.column(sym.Order, e)
	case sym.Dim == dim.None:
		c.thingAsValue(e, s, sym.Thing)
		return Value{}, false
	}
	id, k, ok := c.Dims.Dimension(sym, e.Span())
	if !ok {
		return Value{}, false
	}
	return OfDimension(id, k, e.Span()), true
}

// thingAsValue reports a thing where a value is wanted.
func (c *Compiler) thingAsValue(e *ast.Name, s *resolve.Scope, t *resolve.Thing) {
	if l := s.Behind(e); l != nil {
		d := c.Diags.Errorf("kind-mismatch", e.Span(), "%s is a %s here, not the named value", e.Dotted(), t.Kind.Name)
		hidden(d, e, l, t)
		return
	}
	d := c.Diags.Errorf("kind-mismatch", e.Span(), "%s is a %s, not a number", e.Dotted(), t.Kind.Name)
	if n := t.Example(); n != dim.None {
		d.WithHelp("say which of its dimensions is meant, as in %s.%s", e.Dotted(), n)
	} else {
		d.WithHelp("write a number here, or the name of one")
	}
}

// A let remembers what a named value came to.
type let struct {
	value Value
	ok    bool
	open  bool // being compiled: reaching it again closes a circle
}

// Let compiles a named value, once; from is where it is spoken of.
func (c *Compiler) Let(l *resolve.Let, from source.Span) (Value, bool) {
	if known, seen := c.lets[l]; seen {
		if known.open {
			c.Diags.Errorf("let-cycle", l.Stmt.Name.At, "%s would be defined by itself", l.Path()).
				Note(from, "through this").WithHelp("give one of the named values in this circle a number")
			known.ok = false
			return Value{}, false
		}
		return known.value, known.ok
	}
	if c.lets == nil {
		c.lets, c.reached = map[*resolve.Let]*let{}, map[*resolve.Let]bool{}
	}
	n := &let{open: true, ok: true}
	c.lets[l] = n
	e, ok := c.chosen(l)
	if ok && !c.reached[l] {
		c.reached[l] = true
		// A line in what now comes to take part may speak of the value, which is no circle.
		delete(c.lets, l)
		c.TakePart(e, l.Scope)
		if known, seen := c.lets[l]; seen {
			return known.value, known.ok
		}
		c.lets[l] = n
	}
	var v Value
	if ok {
		v, ok = c.define(e, l.Scope)
	}
	n.value, n.ok, n.open = v, ok && n.ok, false
	return n.value, n.ok
}

// TakePart has the things take part of whose dimensions an expression speaks, and works out its named values. What is
// wrong with these is told here, so that it isn't lost where the expression itself is compiled without a word.
func (c *Compiler) TakePart(e ast.Expr, s *resolve.Scope) {
	ast.Walk(e, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if !ok {
			return true
		}
		switch sym, known := s.Means(name); {
		case !known || sym.Broken:
		case sym.Let != nil:
			c.Let(sym.Let, name.Span())
		case sym.Dim != dim.None:
			c.Dims.Reach(sym.Thing)
		}
		return false
	})
}

// define works out what a let states.
func (c *Compiler) define(e ast.Expr, s *resolve.Scope) (Value, bool) {
	if shape, is := e.(*ast.Shape); is {
		return c.form(shape, s)
	}
	v, ok := c.Value(e, s)
	if ok && !v.words() {
		if x, known := v.Expr.Constant(); known {
			v.Expr, v.parts = relation.C(x), 0
		}
	}
	return v, ok
}

// Harmonise makes two values comparable: a bare number takes on the kind of
// the other side. A message about values of different kinds says that they can't
// be what: added, compared.
func (c *Compiler) Harmonise(l, r Value, what string, at source.Span) (Value, Value, bool) {
	switch {
	case l.Kind == unit.Bare && r.Kind == unit.Bare:
		if l.unit != nil && r.unit != nil && l.unit.Size != r.unit.Size {
			c.Diags.Errorf("unit-needed", at, "one of these numbers comes from a file whose unit is %s, the other from one whose unit is %s", l.unit.Name, r.unit.Name).
				WithHelp("put a unit after each of them")
			return l, r, false
		}
		u := common(l, r)
		l.unit, r.unit = u, u
	case l.Kind == unit.Bare:
		return l.taken(r), r, c.checkTaken(l, r)
	case r.Kind == unit.Bare:
		return l, r.taken(l), c.checkTaken(r, l)
	}
	if !l.Same(r) {
		c.Diags.Errorf("kind-mismatch", at, "%s is %s and %s is %s: they can't be %s",
			l.At.Short(), l.Describe(), r.At.Short(), r.Describe(), what).WithHelp("%s", oneKind(l, r))
		return l, r, false
	}
	return l, r, true
}

// oneKind says what to do about two values of different kinds.
func oneKind(l, r Value) string {
	const help = "both sides must be of one kind"
	switch {
	case l.Kind == unit.Length && l.Power == -1:
		return unitHelp(l, help)
	case r.Kind == unit.Count && l.Kind == unit.Length:
		each := r.At.Short()
		if strings.ContainsAny(each, " ") {
			each = "(" + each + ")"
		}
		return "say how long each is: " + each + " * 1 mm"
	}
	return unitHelp(r, help)
}

// unitHelp is the help about a value of a wrong kind: of 12 / 4 mm that its unit
// is the 4's.
func unitHelp(v Value, otherwise string) string {
	if v.Kind == unit.Length && v.Power == -1 {
		return "a unit belongs to the number before it alone: write 12 mm / 4, not 12 / 4 mm"
	}
	return otherwise
}

// taken is a bare number as one of the kind of a model.
func (v Value) taken(model Value) Value {
	if model.Kind == unit.Length && v.unit != nil && v.unit.Size != 1 {
		v.Expr = relation.Mul(relation.C(math.Pow(v.unit.Size, float64(model.Power))), v.Expr)
	}
	v.Kind, v.Power = model.Kind, model.Power
	return v
}

func (c *Compiler) checkTaken(v, model Value) bool {
	switch model.Kind {
	case unit.Text, unit.Truth, unit.Form:
		c.Diags.Errorf("kind-mismatch", v.At, "%s is a number, and %s is wanted here", v.At.Short(), model.Kind.WithArticle())
		return false
	case unit.Length:
		if v.unit == nil {
			c.Diags.Errorf("unit-needed", v.At, "%s mixes numbers from files in mm and in inches, so it is not clear what length it is", v.At.Short()).
				WithHelp("put a unit after the number that is a length")
			return false
		}
		if v.number != nil {
			c.Glued(v.number)
		}
	}
	return true
}

// As compiles an expression that must be of the given kind. what names it in
// messages.
func (c *Compiler) As(e ast.Expr, s *resolve.Scope, k unit.Kind, what string) (relation.Expr, bool) {
	v, ok := c.Value(e, s)
	if !ok {
		return relation.Expr{}, false
	}
	model := Value{Kind: k}
	if k == unit.Length {
		model.Power = 1
	}
	if v.Kind == unit.Bare {
		return v.taken(model).Expr, c.checkTaken(v, model)
	}
	if !v.Same(model) {
		c.Diags.Errorf("kind-mismatch", v.At, "%s is %s, but %s is %s", what, k.WithArticle(), v.At.Short(), v.Describe()).
			WithHelp("%s", unitHelp(v, "state "+k.WithArticle()+" here"))
		return v.Expr, false
	}
	return v.Expr, true
}

// Sides makes the two sides of a line comparable, in the words of a line.
func (c *Compiler) Sides(left, right Value, at source.Span) (Value, Value, bool) {
	if left.words() || right.words() {
		other, help := left, "text can be named by a let and engraved in a region"
		if right.words() {
			other = right
		}
		if other.Kind == unit.Form {
			help = "a form can come after hole =, shape =, corners = or corner ... ="
		}
		c.Diags.Errorf("kind-mismatch", other.At, "%s is %s, but this line is about numbers", other.At.Short(), other.Describe()).WithHelp("%s", help)
		return left, right, false
	}
	if left.Kind != unit.Bare && right.Kind != unit.Bare && !left.Same(right) {
		c.Diags.Errorf("kind-mismatch", right.At, "%s is %s, but %s is %s", left.At.Short(), left.Describe(), right.At.Short(), right.Describe()).
			WithHelp("%s", oneKind(left, right))
		return left, right, false
	}
	return c.Harmonise(left, right, "compared", at)
}
