package expr

import (
	"slices"
	"strconv"

	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// Condition compiles a question that is answered by yes or no.
func (c *Compiler) Condition(e ast.Expr, s *resolve.Scope) (model.Condition, bool) {
	switch e := e.(type) {
	case *ast.Paren:
		return c.Condition(e.X, s)
	case *ast.Unary:
		if e.Op == ast.Not {
			part, ok := c.Condition(e.X, s)
			return model.Condition{Ask: model.None, Parts: []model.Condition{part}}, ok
		}
	case *ast.Binary:
		switch e.Op {
		case ast.And, ast.Or:
			l, okL := c.Condition(e.L, s)
			r, okR := c.Condition(e.R, s)
			ask := model.All
			if e.Op == ast.Or {
				ask = model.Any
			}
			return model.Condition{Ask: ask, Parts: []model.Condition{l, r}}, okL && okR
		}
		if ask, ok := comparisons(e.Op); ok {
			return c.comparison(ask, e, s)
		}
	case *ast.BadExpr:
		return model.Condition{}, false
	}
	c.Diags.Errorf("condition", e.Span(), "%s is not a question that can be answered with yes or no", e.Span().Short()).
		WithHelp("compare two values, as in wire.web >= 3 mm")
	return model.Condition{}, false
}

func comparisons(op ast.Op) (model.Ask, bool) {
	ask, ok := map[ast.Op]model.Ask{ast.Eq: model.Equal, ast.Ne: model.NotEqual, ast.Lt: model.Less, ast.Le: model.AtMost,
		ast.Gt: model.More, ast.Ge: model.AtLeast}[op]
	return ask, ok
}

func (c *Compiler) comparison(ask model.Ask, e *ast.Binary, s *resolve.Scope) (model.Condition, bool) {
	l, okL := c.Value(e.L, s)
	r, okR := c.Value(e.R, s)
	if !okL || !okR {
		return model.Condition{}, false
	}
	ok := true
	switch {
	case l.Kind == unit.Text && r.Kind == unit.Text:
		if ask != model.Equal && ask != model.NotEqual {
			c.Diags.Errorf("kind-mismatch", e.Span(), "texts can only be equal or not").WithHelp("use = or !=")
			return model.Condition{}, false
		}
		ok = c.mayBe(e.L, e.R) && c.mayBe(e.R, e.L)
	case l.Kind == unit.Form || r.Kind == unit.Form:
		c.Diags.Errorf("condition", e.Span(), "forms can't be compared").WithHelp("compare the text or number by which the form is chosen")
		return model.Condition{}, false
	default:
		l, r, ok = c.Harmonise(l, r, "compared", e.Span())
	}
	return model.Condition{Ask: ask, Left: side(l), Right: side(r)}, ok
}

// mayBe reports whether a text that is written can be that of a column, if that lists
// all that it may hold.
func (c *Compiler) mayBe(column, written ast.Expr) bool {
	name, isName := column.(*ast.Name)
	text, isText := written.(*ast.String)
	if !isName || !isText || len(name.Parts) != 2 || name.Parts[0].Name != "order" || c.Orders == nil {
		return true
	}
	i := c.Orders.Column(name.Parts[1].Name)
	if i < 0 || c.Orders.Columns[i].Values == nil || slices.Contains(c.Orders.Columns[i].Values, text.Value) {
		return true
	}
	d := c.Diags.Errorf("not-listed", text.Span(), "%s is never %s: that isn't in its list", name.Dotted(), text.Span().Short()).
		Note(c.Orders.Columns[i].At, "the list is here")
	if near := spell.Nearest(text.Value, c.Orders.Columns[i].Values); near != "" {
		d.WithFix(text.Span(), strconv.Quote(near)).WithHelp("did you mean %q?", near)
	} else {
		d.WithHelp("write one of the list, or add it there")
	}
	return false
}

func side(v Value) model.Side {
	s := model.Side{Kind: v.Kind, Expr: v.Expr, Text: v.Text, At: v.At}
	switch {
	case v.Kind != unit.Length || v.Power == 1:
	case v.Power == 2:
		s.Kind = unit.Area
	default:
		s.Kind = unit.None
	}
	return s
}

// Unsolved are dimensions before there is a model: each is one, of its kind, and
// none has a value.
type Unsolved struct{}

// Dimension finds any dimension.
func (Unsolved) Dimension(s resolve.Symbol, _ source.Span) (relation.VarID, unit.Kind, bool) {
	return 0, s.Dim.Kind(), true
}

// Reach does nothing: no thing takes part.
func (Unsolved) Reach(*resolve.Thing) {}

// Now decides the condition of a `when`, which may ask about named values and
// orders only.
func (c *Compiler) Now(when resolve.Condition) (holds, known bool) {
	return c.decide(when.Expr, when.Scope, "whether a thing is there")
}

// decide decides a condition that may ask about named values and orders only.
// what says in messages what rests on it.
func (c *Compiler) decide(e ast.Expr, s *resolve.Scope, what string) (holds, known bool) {
	cond, ok := c.Condition(e, s)
	if !ok {
		return false, false
	}
	if !cond.Known() {
		c.Diags.Errorf("when", e.Span(), "%s can't depend on a dimension", what).
			WithHelp("ask about named values (let) or orders; to demand something of a dimension write a check")
		return false, false
	}
	return cond.Holds(nil), true
}
