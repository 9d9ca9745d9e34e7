package eval

import (
	"math"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// line compiles one line of a thing, or of the top of a file (it is nil).
func (b *builder) line(it *item, l *resolve.Line) {
	switch s := l.Stmt.(type) {
	case *ast.Relation:
		if it != nil {
			if key := propKey(it.thing.Kind, s.First); key != "" {
				b.property(it, key, s)
				return
			}
			if b.gapLine(it, l, s) {
				return
			}
		}
		b.relation(it, l, s)
	case *ast.Prefer:
		b.prefer(it, l, s)
	case *ast.Check:
		b.check(l, s)
	}
}

// relation compiles A = B, A >= B, A <= B or a chain of limits.
func (b *builder) relation(it *item, l *resolve.Line, s *ast.Relation) {
	if b.mostLine(l, s) {
		return
	}
	if it != nil && it.bench > 0 && len(s.Rest) == 1 && s.Rest[0].Op == ast.Eq && !ofPattern(l.From) {
		if onlyNumbers(s.Rest[0].Value) {
			b.readings(it, l, s)
			return
		}
	}
	left, ok := b.value(s.First, l.Scope)
	for _, side := range s.Rest {
		right, okR := b.value(side.Value, l.Scope)
		if ok && okR {
			b.must(it, l, s, left, side, right)
		}
		left, ok = right, okR
	}
	b.warnEase(it, s)
}

// must adds one relation between two sides.
func (b *builder) must(it *item, l *resolve.Line, s *ast.Relation, left value, side ast.Side, right value) {
	at := left.at.To(right.at)
	lv, rv, ok := b.sides(left, right, at)
	if !ok {
		return
	}
	sign, known := map[ast.Op]relation.Sign{ast.Eq: relation.EQ, ast.Ge: relation.GE, ast.Le: relation.LE}[side.Op]
	if !known {
		return // reported by the parser
	}
	rel := relation.Relation{Sign: sign, Left: lv.expr, Right: rv.expr, Role: relation.Stated, At: s.Span(), Text: at.Text()}
	b.origin(&rel, l)
	if rel.Role == relation.Pattern && it != nil && rel.Left.Op == relation.Ref && rel.Left.Var == it.vars["inset"] && sign == relation.EQ {
		// How far a pattern's row lies from the edge is a wish: books differ. Of a
		// notebook it must be measured.
		if it.bench > 0 {
			return
		}
		b.sys.Wishes = append(b.sys.Wishes, relation.Wish{Left: rel.Left, Right: rel.Right, Weight: 1, At: rel.At, Text: rel.Text})
		return
	}
	if it != nil && it.bench > 0 {
		rel.Bench = it.bench
		if !b.staysOnBench(it, rel, s) {
			return
		}
	}
	b.sys.Relations = append(b.sys.Relations, rel)
}

// sides makes the two sides of a line comparable, in the words of a line.
func (b *builder) sides(left, right value, at source.Span) (value, value, bool) {
	if left.kind == unit.Text || right.kind == unit.Text {
		text := left
		if right.kind == unit.Text {
			text = right
		}
		b.diags.Errorf("kind-mismatch", text.at, "%s is text, but this line is about numbers", short(text.at)).
			WithHelp("text can be named by a let and engraved in a region")
		return left, right, false
	}
	if left.kind != unit.Bare && right.kind != unit.Bare && !left.same(right) {
		b.diags.Errorf("kind-mismatch", right.at, "%s is %s, but %s is %s", short(left.at), left.describe(), short(right.at), right.describe()).
			WithHelp("both sides must be of one kind")
		return left, right, false
	}
	return b.harmonise(left, right, "set against each other", at)
}

// origin notes where an inherited line came from.
func (b *builder) origin(rel *relation.Relation, l *resolve.Line) {
	if l.From == nil {
		return
	}
	if t := l.Scope.Thing(); t != nil {
		rel.Inherited = t.Path()
	}
	if l.From.Kind.Name == "pattern" {
		rel.Role = relation.Pattern
	}
}

// ofPattern reports whether a line came from a pattern, or from a binding that
// was not measured. In a notebook it is no reading: it says what the notebook was
// punched to, or what its wire is sold as.
func ofPattern(from *resolve.Thing) bool {
	return from != nil && (from.Kind.Name == "pattern" || from.Kind.Name == "binding" && from.Parent == nil)
}

// staysOnBench reports a notebook's line that speaks of something outside it.
func (b *builder) staysOnBench(it *item, rel relation.Relation, s *ast.Relation) bool {
	good := true
	var walk func(e relation.Expr)
	walk = func(e relation.Expr) {
		if e.Op == relation.Ref && b.sys.Vars[e.Var].Bench != it.bench && good {
			good = false
			b.diags.Errorf("bench", s.Span(), "%s was measured, so no line in it can speak of %s", it.thing.Path(), b.sys.Vars[e.Var].Name).
				WithHelp("move the line into the panel: what is made follows the notebook, never the other way round")
		}
		for _, a := range e.Args {
			walk(a)
		}
	}
	walk(rel.Left)
	walk(rel.Right)
	return good
}

// mostLine handles `count = most`.
func (b *builder) mostLine(l *resolve.Line, s *ast.Relation) bool {
	if len(s.Rest) != 1 || s.Rest[0].Op != ast.Eq {
		return false
	}
	n, ok := s.Rest[0].Value.(*ast.Name)
	if !ok || n.Dotted() != "most" {
		return false
	}
	if _, problem := l.Scope.Lookup(n); problem == nil {
		return false // something of that name is meant
	}
	left, ok := s.First.(*ast.Name)
	if ok {
		if sym, problem := l.Scope.Lookup(left); problem == nil && sym.Dim == "count" {
			if id, ok := b.dim(sym.Thing, "count", left.Span()); ok {
				b.sys.Vars[id].Most = true
				b.sys.Vars[id].At = s.Span()
			}
			return true
		}
	}
	b.diags.Errorf("most", n.Span(), "only a count can be most: as many holes as there is room for").
		WithHelp("write count = most in a row")
	return true
}

// prefer compiles a wish.
func (b *builder) prefer(it *item, l *resolve.Line, s *ast.Prefer) {
	left, okL := b.value(s.Left, l.Scope)
	right, okR := b.value(s.Right, l.Scope)
	weight := 1.0
	if s.Weight != nil {
		w, ok := b.value(s.Weight, l.Scope)
		if !ok {
			return
		}
		c, known := constant(w.expr)
		if !known || !w.plain() || c <= 0 {
			b.diags.Errorf("weight", s.Weight.Span(), "a weight is a plain number above 0").
				WithHelp("weight 3 makes a wish count three times as much as one without")
			return
		}
		weight = c
	}
	if !okL || !okR {
		return
	}
	lv, rv, ok := b.sides(left, right, s.Span())
	if !ok {
		return
	}
	switch {
	case s.Op != ast.Eq:
		b.diags.Errorf("prefer", s.Span(), "a wish names the value to come near to: prefer A = B").
			WithHelp("to set a bound that must hold, leave out prefer")
		return
	case lv.kind == unit.Count:
		b.diags.Errorf("prefer", s.Left.Span(), "a count can't be wished for").
			WithHelp("state it, as in count = 20, or ask for as many as there is room for: count = most")
		return
	case it != nil && it.bench > 0:
		b.diags.Errorf("prefer", s.Span(), "a wish can't move what was measured").WithHelp("move it into the panel")
		return
	}
	b.sys.Wishes = append(b.sys.Wishes, relation.Wish{Left: lv.expr, Right: rv.expr, Weight: weight, At: s.Span(), Text: s.Span().Text()})
}

// warnEase warns of an ease that does nothing.
func (b *builder) warnEase(it *item, s *ast.Relation) {
	n, ok := s.First.(*ast.Name)
	if !ok || it == nil || n.Dotted() != "ease" {
		return
	}
	covers := it.thing.Covers != nil || it.thing.CoverOf != nil
	if it.thing.Kind.Name == "row" && covers {
		_, own := it.props["hole"]
		covers = !own
	}
	if !covers {
		b.diags.Warnf("idle-ease", s.Span(), "this ease does nothing: %s lies on no measured hole", it.thing.Path()).
			WithHelp("a hole that is stated is cut as stated; make it larger there if it should be looser")
	}
}

// constant gives the value of an expression that speaks of no dimension.
func constant(e relation.Expr) (float64, bool) {
	v := e.Eval(nil)
	return v, !math.IsNaN(v) && !math.IsInf(v, 0)
}

// gapLine handles `gap 3 = 70.0, 70.1`; other lines are not its business.
func (b *builder) gapLine(it *item, l *resolve.Line, s *ast.Relation) bool {
	g, ok := s.First.(*ast.Indexed)
	if !ok {
		return false
	}
	if g.Word.Name != "gap" || !it.thing.Kind.Has("gap") {
		b.diags.Errorf("unknown-name", s.First.Span(), "a %s has no %s", it.thing.Kind.Name, g.Word.Name).
			WithHelp("corner belongs to a panel and gap to a row")
		return true
	}
	id, ok := b.dim(it.thing, "gap."+g.Index.Name, s.First.Span())
	if !ok {
		return true
	}
	left := value{kind: unit.Length, power: 1, expr: relation.V(id), at: s.First.Span()}
	if it.bench > 0 && len(s.Rest) == 1 && s.Rest[0].Op == ast.Eq && onlyNumbers(s.Rest[0].Value) {
		b.reading(it, l, left, s.Rest[0].Value, s)
		return true
	}
	for _, side := range s.Rest {
		if right, ok := b.value(side.Value, l.Scope); ok {
			b.must(it, l, s, left, side, right)
			left = right
		}
	}
	return true
}
