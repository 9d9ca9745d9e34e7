package expr

import (
	"cmp"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/unit"
)

func (c *Compiler) binary(e *ast.Binary, s *resolve.Scope) (Value, bool) {
	if c.dashed(e, s) {
		return Value{}, false
	}
	l, okL := c.Value(e.L, s)
	r, okR := c.Value(e.R, s)
	if !okL || !okR {
		return Value{}, false
	}
	if e.Op == ast.Add && (l.Kind == unit.Text || r.Kind == unit.Text) {
		return c.join(e, l, r)
	}
	for _, side := range []Value{l, r} {
		if side.Kind == unit.Form {
			c.Diags.Errorf("kind-mismatch", e.Span(), "%s is a form, and only numbers can be %s", side.At.Short(), done(e.Op)).
				WithHelp("state a form of its own, as in slot 9 by 3, whose sizes may be worked out")
			return Value{}, false
		}
	}
	var v Value
	ok := false
	switch e.Op {
	case ast.Add, ast.Sub:
		v, ok = c.sum(e, l, r)
	case ast.Mul, ast.Div:
		v, ok = c.product(e, l, r)
	default:
		c.Diags.Errorf("kind-mismatch", e.Span(), "a number was expected here, not a condition").
			WithHelp("conditions come after check and when")
	}
	if !ok {
		return Value{}, false
	}
	return c.grown(v, l.parts+r.parts+1, e.Span())
}

func (c *Compiler) sum(e *ast.Binary, l, r Value) (Value, bool) {
	add := relation.Minus
	if e.Op == ast.Add {
		add = func(a, b relation.Expr) relation.Expr { return relation.Add(a, b) }
	}
	l, r, ok := c.Harmonise(l, r, done(e.Op), e.Span())
	if !ok {
		return Value{}, false
	}
	if l.words() {
		c.Diags.Errorf("kind-mismatch", e.Span(), "only numbers can be %s", done(e.Op)).WithHelp("texts are joined by +; a form stands alone")
		return Value{}, false
	}
	out := l
	if r.Kind != l.Kind {
		out.Kind = unit.Ratio
	}
	out.At, out.number = e.Span(), cmp.Or(l.number, r.number)
	out.Expr = add(l.Expr, r.Expr)
	return out, true
}

func (c *Compiler) product(e *ast.Binary, l, r Value) (Value, bool) {
	out, ok := productKind(e.Op, l, r)
	out.At = e.Span()
	if e.Op == ast.Mul {
		out.Expr = relation.Mul(l.Expr, r.Expr)
	} else {
		if by, known := r.Expr.Constant(); known && by == 0 && !r.words() {
			d := c.Diags.Errorf("impossible", e.Span(), "nothing can be divided by 0")
			if r.At.Short() != "0" {
				d.Note(r.At, "%s is 0", r.At.Short())
			}
			d.WithHelp("check this number")
			return Value{}, false
		}
		out.Expr = relation.Div(l.Expr, r.Expr)
	}
	if !ok {
		d := c.Diags.Errorf("kind-mismatch", e.Span(), "%s is %s and %s is %s: they can't be %s",
			l.At.Short(), l.Describe(), r.At.Short(), r.Describe(),
			done(e.Op))
		if e.Op == ast.Div && r.Kind == unit.Angle {
			d.WithHelp("a unit belongs to the number before it alone: write 45 deg / 2, not 45 / 2 deg")
		} else {
			d.WithHelp("let one of them be a plain number, a count or a ratio; texts are only joined, by +")
		}
		return Value{}, false
	}
	return out, true
}

// done says what an operator does to numbers.
func done(op ast.Op) string {
	return map[ast.Op]string{ast.Add: "added", ast.Sub: "subtracted", ast.Mul: "multiplied", ast.Div: "divided"}[op]
}

// productKind is the kind of a product or quotient; false where there is none.
func productKind(op ast.Op, l, r Value) (out Value, ok bool) {
	sign := 1
	if op == ast.Div {
		sign = -1
	}
	switch {
	case l.Kind == unit.Bare && r.Plain() || r.Kind == unit.Bare && l.Plain():
		// A bare factor may be the length among counts and ratios: 2 * order.n.
		out.Kind, out.unit = unit.Bare, common(l, r)
	case r.Plain() && !l.words():
		out.Kind, out.Power = l.Kind, l.Power
		if l.Kind == unit.Count && op == ast.Div || r.Kind == unit.Ratio && l.Plain() {
			out.Kind = unit.Ratio
		}
	case l.Plain() && op == ast.Mul && !r.words():
		out.Kind, out.Power = r.Kind, r.Power
	case (l.Plain() || l.Kind == unit.Length) && r.Kind == unit.Length:
		out.Kind, out.Power = unit.Length, l.Power+sign*r.Power
		if out.Power == 0 {
			out.Kind = unit.Ratio
		}
	case l.Kind == r.Kind && op == ast.Div && !l.words():
		out.Kind = unit.Ratio
	default:
		return out, false
	}
	return out, true
}

// dashed reports a whole number with a fraction of an inch glued to it by a sign, as
// some write a mixed fraction: 4-1/8 would be less than 4, and beside a bare
// number in mm 4+1/8 in would be no inches.
func (c *Compiler) dashed(e *ast.Binary, s *resolve.Scope) bool {
	whole, ok := e.L.(*ast.Number)
	part, isNumber := e.R.(*ast.Number)
	if !ok || !isNumber || part.Denominator == 0 || whole.Denominator != 0 || whole.Decimals > 0 || part.Value >= 1 ||
		e.L.Span().End != e.OpAt.Start || e.OpAt.End != e.R.Span().Start {
		return false
	}
	inches := whole.Unit == unit.Inch.Name || whole.Unit == "" && s.File().Unit.Imperial()
	if e.Op != ast.Sub && (e.Op != ast.Add || inches) {
		return false
	}
	written, fraction := e.L.Span().Text(), e.R.Span().Text()
	one, other := written+" "+fraction, written+" "+e.OpAt.Text()+" "+fraction
	c.Diags.Errorf("dashed-fraction", e.Span(), "%s is %s, and no mixed fraction", e.Span().Short(), other).
		WithHelp("write %s for the one, with a blank, and %s with blanks for the other", one, other).
		WithFix(e.Span(), one).WithFix(e.Span(), other)
	return true
}
