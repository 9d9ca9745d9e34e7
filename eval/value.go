package eval

import (
	"math"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A value is an expression with its kind.
type value struct {
	kind unit.Kind
	// power is the exponent of a length: 1 for a length, 2 for an area.
	power int
	// unit is what a bare number means where a length is wanted; nil where it
	// was made of numbers from files with different units.
	unit *unit.Unit
	expr relation.Expr
	text string
	at   source.Span
}

func (v value) plain() bool {
	return v.kind == unit.Bare || v.kind == unit.Ratio || v.kind == unit.Count
}

func (v value) describe() string {
	if v.kind == unit.Length && v.power != 1 {
		if v.power == 2 {
			return "an area"
		}
		return "a length to the power of " + unit.FormatNumber(float64(v.power), 0)
	}
	return v.kind.WithArticle()
}

// same reports whether two values are of one kind, so that they can be added
// and compared. Counts and ratios are both plain numbers.
func (v value) same(w value) bool {
	if v.kind == unit.Length || w.kind == unit.Length {
		return v.kind == w.kind && v.power == w.power
	}
	return v.kind == w.kind || v.plain() && w.plain()
}

// value compiles an expression. It reports what is wrong and gives false.
func (b *builder) value(e ast.Expr, s *resolve.Scope) (value, bool) {
	switch e := e.(type) {
	case *ast.Number:
		return b.number(e, s), true
	case *ast.String:
		return value{kind: unit.Text, text: e.Value, at: e.Span()}, true
	case *ast.Paren:
		v, ok := b.value(e.X, s)
		v.at = e.Span()
		return v, ok
	case *ast.Name:
		return b.name(e, s)
	case *ast.Unary:
		if e.Op != ast.Neg {
			break
		}
		v, ok := b.value(e.X, s)
		if !ok {
			return v, false
		}
		if v.kind == unit.Text || v.kind == unit.Truth {
			b.diags.Errorf("kind-mismatch", e.Span(), "%s has no minus", v.kind).WithHelp("a minus belongs before a number")
			return v, false
		}
		v.expr = relation.Neg(v.expr)
		v.at = e.Span()
		return v, true
	case *ast.Binary:
		return b.binary(e, s)
	case *ast.Call:
		return b.call(e, s)
	case *ast.BadExpr:
		return value{}, false
	case *ast.Shape:
		b.diags.Errorf("kind-mismatch", e.Span(), "%s gives the form of an opening or a corner, not a number", e.Word.Name).
			WithHelp("it can stand behind hole =, shape =, corners = or corner ... =")
		return value{}, false
	case *ast.List:
		b.diags.Errorf("kind-mismatch", e.Span(), "there are several values here, but only one can be meant").
			WithHelp("repeated readings belong into a notebook; elsewhere state one value")
		return value{}, false
	case *ast.Stated:
		if e.Exact {
			return b.value(e.X, s)
		}
		b.diags.Errorf("kind-mismatch", e.Span(), "± belongs to a reading, and readings stand in a notebook").
			WithHelp("state the value alone, or move the line into the notebook")
		return value{}, false
	}
	b.diags.Errorf("kind-mismatch", e.Span(), "a number was expected here")
	return value{}, false
}

func (b *builder) number(e *ast.Number, s *resolve.Scope) value {
	v := value{kind: unit.Bare, expr: relation.C(e.Value), at: e.Span()}
	if e.Unit == "" {
		u := s.File().Unit
		v.unit = &u
		return v
	}
	u, ok := unit.Lookup(e.Unit)
	if !ok {
		return v // reported by the parser
	}
	v.kind, v.expr = u.Kind, relation.C(e.Value*u.Size)
	if u.Kind == unit.Length {
		v.power = 1
	}
	return v
}

// name compiles a name: a dimension, a let or a column of the orders.
func (b *builder) name(e *ast.Name, s *resolve.Scope) (value, bool) {
	sym, problem := s.Lookup(e)
	if problem != nil {
		b.diags = append(b.diags, problem)
		return value{}, false
	}
	switch {
	case sym.Broken:
		return value{}, false
	case sym.Let != nil:
		v, ok := b.let(sym.Let, e.Span())
		v.at = e.Span()
		return v, ok
	case sym.Order != "":
		return b.orderValue(sym.Order, e)
	case sym.Dim == "":
		b.diags.Errorf("kind-mismatch", e.Span(), "%s is a %s, not a number", e.Dotted(), sym.Thing.Kind.Name).
			WithHelp("say which of its dimensions is meant, as in %s.width", e.Dotted())
		return value{}, false
	}
	id, ok := b.dim(sym.Thing, sym.Dim, e.Span())
	if !ok {
		return value{}, false
	}
	v := value{kind: b.sys.Vars[id].Kind, expr: relation.V(id), at: e.Span()}
	if v.kind == unit.Length {
		v.power = 1
	}
	return v, true
}

// a letState remembers what a let came to.
type letState struct {
	value value
	ok    bool
	open  bool // being compiled: reaching it again closes a circle
}

func (b *builder) let(l *resolve.Let, from source.Span) (value, bool) {
	if st, seen := b.lets[l]; seen {
		if st.open {
			b.diags.Errorf("let-cycle", l.Stmt.Name.At, "%s would come to stand for itself", l.Path()).
				Note(from, "by way of this").WithHelp("give one of the named values in this circle a number")
			st.ok = false
			return value{}, false
		}
		return st.value, st.ok
	}
	st := &letState{open: true, ok: true}
	b.lets[l] = st
	v, ok := b.value(l.Stmt.Value, l.Scope)
	st.value, st.ok, st.open = v, ok && st.ok, false
	return st.value, st.ok
}

// harmonise makes two values comparable: a bare number takes on the kind of
// the other side.
func (b *builder) harmonise(l, r value, what string, at source.Span) (value, value, bool) {
	switch {
	case l.kind == unit.Bare && r.kind == unit.Bare:
		if l.unit != nil && r.unit != nil && l.unit.Size != r.unit.Size {
			b.diags.Errorf("unit-needed", at, "one of these numbers was written in a file in %s, the other in one in %s", l.unit.Name, r.unit.Name).
				WithHelp("put a unit behind each of them")
			return l, r, false
		}
	case l.kind == unit.Bare:
		return b.take(l, r), r, b.checkTaken(l, r)
	case r.kind == unit.Bare:
		return l, b.take(r, l), b.checkTaken(r, l)
	}
	if !l.same(r) {
		b.diags.Errorf("kind-mismatch", at, "%s is %s and %s is %s: they can't be %s",
			short(l.at), l.describe(), short(r.at), r.describe(), what).WithHelp("both sides must be of one kind")
		return l, r, false
	}
	return l, r, true
}

// take gives a bare number the kind of a model.
func (b *builder) take(v, model value) value {
	if model.kind == unit.Length && v.unit != nil {
		v.expr = relation.Mul(relation.C(math.Pow(v.unit.Size, float64(model.power))), v.expr)
		if v.unit.Size == 1 {
			v.expr = v.expr.Args[1]
		}
	}
	v.kind, v.power = model.kind, model.power
	return v
}

func (b *builder) checkTaken(v, model value) bool {
	switch model.kind {
	case unit.Text, unit.Truth:
		b.diags.Errorf("kind-mismatch", v.at, "%s is a number, and %s is wanted here", short(v.at), model.kind)
		return false
	case unit.Length:
		if v.unit == nil {
			b.diags.Errorf("unit-needed", v.at, "%s mixes numbers from files in mm and in inches, so it is not clear what length it is", short(v.at)).
				WithHelp("put a unit behind the number that is a length")
			return false
		}
	}
	return true
}

// as takes a value as one of the given kind.
func (b *builder) as(v value, kind unit.Kind, what string) (relation.Expr, bool) {
	model := value{kind: kind}
	if kind == unit.Length {
		model.power = 1
	}
	if v.kind == unit.Bare {
		return b.take(v, model).expr, b.checkTaken(v, model)
	}
	if !v.same(model) {
		b.diags.Errorf("kind-mismatch", v.at, "%s is %s, but %s is %s", what, kind.WithArticle(), short(v.at), v.describe()).
			WithHelp("state %s here", kind.WithArticle())
		return v.expr, false
	}
	return v.expr, true
}

// expr compiles an expression that must be of the given kind.
func (b *builder) expr(e ast.Expr, s *resolve.Scope, kind unit.Kind, what string) (relation.Expr, bool) {
	v, ok := b.value(e, s)
	if !ok {
		return relation.Expr{}, false
	}
	return b.as(v, kind, what)
}

func (b *builder) binary(e *ast.Binary, s *resolve.Scope) (value, bool) {
	l, okL := b.value(e.L, s)
	r, okR := b.value(e.R, s)
	if !okL || !okR {
		return value{}, false
	}
	switch e.Op {
	case ast.Add, ast.Sub:
		l, r, ok := b.harmonise(l, r, map[ast.Op]string{ast.Add: "added", ast.Sub: "subtracted"}[e.Op], e.Span())
		if !ok {
			return value{}, false
		}
		if l.kind == unit.Text || l.kind == unit.Truth {
			b.diags.Errorf("kind-mismatch", e.Span(), "only numbers can be added")
			return value{}, false
		}
		out := l
		if r.kind != l.kind {
			out.kind = unit.Ratio
		}
		out.at = e.Span()
		if e.Op == ast.Add {
			out.expr = relation.Add(l.expr, r.expr)
		} else {
			out.expr = relation.Less(l.expr, r.expr)
		}
		return out, true
	case ast.Mul, ast.Div:
		return b.product(e, l, r)
	}
	b.diags.Errorf("kind-mismatch", e.Span(), "a number was expected here, not a condition").
		WithHelp("conditions stand behind check and when")
	return value{}, false
}

func (b *builder) product(e *ast.Binary, l, r value) (value, bool) {
	out := value{at: e.Span()}
	sign := 1
	if e.Op == ast.Mul {
		out.expr = relation.Mul(l.expr, r.expr)
	} else {
		if by, known := constant(r.expr); known && by == 0 && r.kind != unit.Text && r.kind != unit.Truth {
			d := b.diags.Errorf("impossible", e.Span(), "nothing can be divided by 0")
			if short(r.at) != "0" {
				d.Note(r.at, "%s is 0", short(r.at))
			}
			d.WithHelp("check this number")
			return value{}, false
		}
		out.expr = relation.Div(l.expr, r.expr)
		sign = -1
	}
	switch {
	case l.kind == unit.Bare && r.kind == unit.Bare:
		out.kind, out.unit = unit.Bare, l.unit
		if l.unit != nil && r.unit != nil && l.unit.Size != r.unit.Size {
			out.unit = nil
		}
	case r.plain() && l.kind != unit.Text && l.kind != unit.Truth:
		out.kind, out.power, out.unit = l.kind, l.power, l.unit
		if l.kind == unit.Bare {
			out.kind = r.kind
		}
		if l.kind == unit.Count && e.Op == ast.Div || r.kind == unit.Ratio && l.plain() {
			out.kind = unit.Ratio
		}
	case l.plain() && e.Op == ast.Mul && r.kind != unit.Text && r.kind != unit.Truth:
		out.kind, out.power = r.kind, r.power
	case (l.plain() || l.kind == unit.Length) && r.kind == unit.Length:
		out.kind, out.power = unit.Length, l.power+sign*r.power
		if out.power == 0 {
			out.kind = unit.Ratio
		}
	case l.kind == r.kind && e.Op == ast.Div && l.kind != unit.Text && l.kind != unit.Truth:
		out.kind = unit.Ratio
	default:
		b.diags.Errorf("kind-mismatch", e.Span(), "%s is %s and %s is %s: they can't be %s",
			short(l.at), l.describe(), short(r.at), r.describe(),
			map[ast.Op]string{ast.Mul: "multiplied", ast.Div: "divided"}[e.Op])
		return value{}, false
	}
	return out, true
}

// short is how a message quotes a stretch of the design.
func short(at source.Span) string {
	s := []rune(at.Text())
	if len(s) > 40 {
		return string(s[:37]) + "..."
	}
	return string(s)
}
