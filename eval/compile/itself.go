package compile

import (
	"strings"

	"foredge/eval/expr"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// ofItself reports a line that ties a dimension to nothing but itself: `height =
// height / 4` would make it 0 where that of the thing around is meant. It also
// reports one that says nothing, such as `thick = thick`.
func (c *compiler) ofItself(l *resolve.Line, left, right expr.Value, at source.Span) bool {
	v, alone := tiedToItself(left.Expr, right.Expr)
	if !alone {
		if !saysNothing(left.Expr, right.Expr) {
			return false
		}
		c.Diags.Errorf("says-nothing", at, "both sides of this line are the same, so it says nothing").
			WithHelp("name what is meant in full, as in front.height, or take the line out")
		return true
	}
	if l.From != nil && left.Expr.Op == right.Expr.Op && (left.At.Text() != right.At.Text() || ofPattern(l.From) && l.From.File == c.info.Main) {
		// `height = back.height` of a panel, in a back that is like it: it goes without
		// saying. A `first = first` of a pattern is told there.
		return false
	}
	name := c.System.Vars[v].Name
	help := "name what it depends on, or take the line out"
	if outer := c.around(name); outer != "" {
		help = "if that of what it stands in is meant, write " + outer
	}
	c.Diags.Errorf("of-itself", at, "this line ties %s to nothing but itself", name).WithHelp("%s", help)
	return true
}

// tiedToItself finds the dimension that is one side of a line and all that the
// other speaks of. `width = nearest(width, 5)` does say something.
func tiedToItself(left, right relation.Expr) (relation.VarID, bool) {
	v, ok := only(left)
	w, okW := only(right)
	if !ok || !okW || v != w || left.Op != relation.Ref && right.Op != relation.Ref {
		return 0, false
	}
	return v, !left.Hides(v) && !right.Hides(v)
}

// ofNamedValue reports a line that says of a named number what is so already:
// its name seems to be that of a dimension, which the thing doesn't have.
func (c *compiler) ofNamedValue(l *resolve.Line, s *ast.Relation, left, right expr.Value) bool {
	n, ok := s.First.(*ast.Name)
	if !ok || !isEquation(s) {
		return false
	}
	lv, known := left.Expr.Constant()
	rv, knownToo := right.Expr.Constant()
	if !known || !knownToo || lv != rv {
		return false
	}
	sym, problem := l.Scope.Subject(n)
	if problem != nil || sym.Let == nil {
		return false
	}
	if _, _, same := c.Sides(left, right, s.Span()); !same {
		return true // 4 of a file in inches is not what 4 is here
	}
	d := c.Diags.Errorf("says-nothing", s.Span(), "%s is a named value, and this line says of it only what it is already", n.Dotted()).
		Note(sym.Let.Stmt.Name.At, "it is named here")
	if t := l.Scope.Thing(); t != nil {
		d.WithHelp("%s has no dimension of that name: take the line out, or write what is meant", t.Kind.One())
	} else {
		d.WithHelp("take the line out")
	}
	return true
}

// saysNothing reports whether two sides that speak of dimensions are equal
// whatever these are.
func saysNothing(left, right relation.Expr) bool {
	first := func(e relation.Expr) (one relation.VarID, any bool) {
		any = e.Mentions(func(v relation.VarID) bool { one = v; return true })
		return one, any
	}
	v, any := first(left)
	if !any || !right.Mentions(func(w relation.VarID) bool { return v == w }) {
		return false
	}
	r := relation.Relation{Left: left, Right: right}
	form, linear := r.Difference(relation.Nothing)
	return linear && len(form.Terms) == 0 && form.Const == 0
}

// only is the dimension that an expression speaks of, if it is a single one.
func only(e relation.Expr) (relation.VarID, bool) {
	var one relation.VarID
	found := false
	several := e.Mentions(func(v relation.VarID) bool {
		if !found {
			one, found = v, true
		}
		return v != one
	})
	return one, found && !several
}

// around is the dimension of the same name of what a dimension's thing stands
// in, "" if there is none.
func (c *compiler) around(name string) string {
	dot := strings.LastIndexByte(name, '.')
	for path := name[:max(dot, 0)]; ; {
		i := strings.LastIndexByte(path, '.')
		if i < 0 {
			return ""
		}
		path = path[:i]
		if outer := path + name[dot:]; c.has(outer) {
			return outer
		}
	}
}

func (c *compiler) has(name string) bool {
	_, ok := c.Design.Dimension(name)
	return ok
}
