package eval

import (
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A condition is a question about solved values.
type condition struct {
	op   ast.Op // And, Or, Not, or a comparison
	args []condition
	l, r value
}

// A check is decided after solving and never moves anything.
type check struct {
	cond    condition
	message string
	at      source.Span
	scope   *resolve.Scope
}

// check compiles `check CONDITION else "message"`.
func (b *builder) check(l *resolve.Line, s *ast.Check) {
	c, ok := b.condition(s.Cond, l.Scope)
	if !ok {
		return
	}
	b.needCondition(c)
	ch := check{cond: c, at: s.Span(), scope: l.Scope}
	if s.Message != nil {
		ch.message = s.Message.Value
	}
	b.checks = append(b.checks, ch)
}

func (b *builder) condition(e ast.Expr, s *resolve.Scope) (condition, bool) {
	switch e := e.(type) {
	case *ast.Paren:
		return b.condition(e.X, s)
	case *ast.Unary:
		if e.Op == ast.Not {
			c, ok := b.condition(e.X, s)
			return condition{op: ast.Not, args: []condition{c}}, ok
		}
	case *ast.Binary:
		switch e.Op {
		case ast.And, ast.Or:
			l, okL := b.condition(e.L, s)
			r, okR := b.condition(e.R, s)
			return condition{op: e.Op, args: []condition{l, r}}, okL && okR
		case ast.Eq, ast.Ne, ast.Lt, ast.Le, ast.Gt, ast.Ge:
			return b.comparison(e, s)
		}
	case *ast.BadExpr:
		return condition{}, false
	}
	b.diags.Errorf("condition", e.Span(), "%s is no question that could be answered with yes or no", short(e.Span())).
		WithHelp("compare two values, as in wire.web >= 3 mm")
	return condition{}, false
}

func (b *builder) comparison(e *ast.Binary, s *resolve.Scope) (condition, bool) {
	l, okL := b.value(e.L, s)
	r, okR := b.value(e.R, s)
	if !okL || !okR {
		return condition{}, false
	}
	if l.kind == unit.Text && r.kind == unit.Text {
		if e.Op != ast.Eq && e.Op != ast.Ne {
			b.diags.Errorf("condition", e.Span(), "texts can only be equal or not").WithHelp("use = or !=")
			return condition{}, false
		}
		return condition{op: e.Op, l: l, r: r}, true
	}
	l, r, ok := b.harmonise(l, r, "compared", e.Span())
	return condition{op: e.Op, l: l, r: r}, ok
}

// needCondition marks the dimensions that a check asks for.
func (b *builder) needCondition(c condition) {
	for _, a := range c.args {
		b.needCondition(a)
	}
	for _, v := range []value{c.l, c.r} {
		b.needExpr(v.expr)
	}
}

func (b *builder) needExpr(e relation.Expr) {
	if e.Op == relation.Ref {
		b.sys.Vars[e.Var].Needed = true
	}
	for _, a := range e.Args {
		b.needExpr(a)
	}
}

// slack is by how much a comparison in mm or degrees may fail from rounding
// alone.
const slack = 1e-6

// holds decides a condition by the values of the dimensions.
func (c condition) holds(values []float64) bool {
	switch c.op {
	case ast.And:
		return c.args[0].holds(values) && c.args[1].holds(values)
	case ast.Or:
		return c.args[0].holds(values) || c.args[1].holds(values)
	case ast.Not:
		return !c.args[0].holds(values)
	}
	if c.l.kind == unit.Text {
		return (c.l.text == c.r.text) == (c.op == ast.Eq)
	}
	d := c.l.expr.Eval(values) - c.r.expr.Eval(values)
	switch c.op {
	case ast.Eq:
		return d >= -slack && d <= slack
	case ast.Ne:
		return d < -slack || d > slack
	case ast.Lt:
		return d < -slack
	case ast.Le:
		return d <= slack
	case ast.Gt:
		return d > slack
	}
	return d >= -slack
}

// known reports whether a condition speaks of no dimension.
func (c condition) known() bool {
	for _, a := range c.args {
		if !a.known() {
			return false
		}
	}
	if c.args != nil || c.l.kind == unit.Text {
		return true
	}
	_, l := constant(c.l.expr)
	_, r := constant(c.r.expr)
	return l && r
}

// now decides the condition of a `when`, which may ask about named values and
// orders only.
func (b *builder) now(c resolve.Condition) (holds, known bool) {
	cond, ok := b.condition(c.Expr, c.Scope)
	if !ok {
		return false, false
	}
	if !cond.known() {
		b.diags.Errorf("when", c.Expr.Span(), "whether a thing is there can't depend on a dimension").
			WithHelp("ask about named values (let) or orders; to demand something of a dimension write a check")
		return false, false
	}
	return cond.holds(nil), true
}
