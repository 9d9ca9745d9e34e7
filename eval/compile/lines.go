package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/expr"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// line compiles one line of a thing, or of the top of a file (d is nil).
func (c *compiler) line(d *draft, l *resolve.Line) {
	switch s := l.Stmt.(type) {
	case *ast.Relation:
		if d != nil {
			if key := d.thing.Property(s.First); key != "" {
				c.decode(d, key, s)
				return
			}
			if c.noGap(d, s.First) || c.noProperty(d, l, s.First) {
				return
			}
		}
		c.relation(d, l, s)
	case *ast.Prefer:
		c.prefer(d, l, s)
	case *ast.Check:
		if d != nil && d.Kind == kind.Pattern {
			c.Known(s, l.Scope) // each row that is like the pattern asks it
			return
		}
		c.check(l, s)
	}
}

// noProperty reports a line of a thing about what only things of other kinds
// have, such as the corners of a cutout.
func (c *compiler) noProperty(d *draft, l *resolve.Line, left ast.Expr) bool {
	name, ok := left.(*ast.Name)
	if !ok || len(name.Parts) != 1 {
		return false
	}
	if _, isDim := d.thing.Kind.Dim(name.Dotted()); isDim {
		return false
	}
	if _, problem := l.Scope.Subject(name); problem == nil {
		return false
	}
	var having []string
	property := false
	for _, k := range kind.Names() {
		other := kind.Find(k)
		_, isDim := other.Dim(name.Dotted())
		property = property || other.Has(name.Dotted())
		if isDim || other.Has(name.Dotted()) {
			having = append(having, k)
		}
	}
	if !property {
		return false
	}
	e := c.Diags.Errorf("unknown-name", left.Span(), "%s has no %s", d.thing.Kind.One(), name.Dotted()).
		WithHelp("%s belongs to a %s", name.Dotted(), spell.Or(having))
	if say := word.Elsewhere(name.Dotted(), d.thing.Kind.Takes); say != "" {
		word.Tell(e, name.Dotted(), say)
	}
	if name.Dotted() == "corners" && d.thing.Kind.Has("shape") {
		e.WithHelp("corners belongs to a panel; those of an opening stand with its sizes: shape = rect 20 by 15 radius 3")
	}
	return true
}

// isForm reports the form of an opening or a corner.
func isForm(e ast.Expr) bool {
	_, ok := e.(*ast.Shape)
	return ok
}

// ofProperty reports what only a property can be: an answer, a size, or several of these.
func ofProperty(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.Name:
		_, answer := word.Find(e.Dotted(), word.Answers()...)
		return answer
	case *ast.Pair, *ast.Less, *ast.Grain:
		return true
	case *ast.List:
		return slices.ContainsFunc(e.Elems, ofProperty)
	}
	return false
}

// relation compiles A = B, A >= B, A <= B or a chain of limits.
func (c *compiler) relation(d *draft, l *resolve.Line, s *ast.Relation) {
	if c.mostLine(l, s) {
		return
	}
	eased := c.easeOf(l, s.First, s.Rest)
	if eased != nil && c.easeOfNothing(l, s, eased, sidesOf(s)...) {
		return
	}
	first, numbers := s.First, c.onlyNumbers(s.First, l.Scope)
	var left expr.Value
	ok := false
	if !l.Drops(0) {
		left, ok = c.Subject(first, l.Scope)
	}
	for i, side := range s.Rest {
		var right expr.Value
		okR := false
		read := c.readsRight(d, l, first, side)
		if !ok && (ofProperty(side.Value) && !l.Drops(0) || isForm(side.Value)) {
			continue // a property that is misspelt, which is told
		}
		next := i+1 < len(s.Rest) && !l.Drops(i+1)
		if _, form := side.Value.(*ast.Shape); form && !ok {
			return // what it is to be the form of is told
		}
		if !l.Drops(i) && !read || next {
			// In `148 = width` and `3 <= first <= 5` the line is about what stands behind
			// the number.
			value := c.Value
			if numbers {
				value, numbers = c.Subject, c.onlyNumbers(side.Value, l.Scope)
			}
			right, okR = value(side.Value, l.Scope)
		}
		switch {
		case !ok || !okR && !read || l.Drops(i):
		case read:
			c.reading(d, l, left, side.Value, s)
		case c.readsLeft(d, l, first, side, right):
			c.reading(d, l, right, first, s)
		case !c.ofNamedValue(l, s, left, right):
			c.must(d, l, s, left, side, right)
		}
		first, left, ok = side.Value, right, okR
	}
	if eased != nil && !ofPattern(l.From) { // which has none, as is told
		c.warnEase(eased, s)
	}
}

// sidesOf are the sides of a relation, from left to right.
func sidesOf(s *ast.Relation) []ast.Expr {
	sides := []ast.Expr{s.First}
	for _, side := range s.Rest {
		sides = append(sides, side.Value)
	}
	return sides
}

// aboutInset reports whether a line of a row is about its inset: that is the name alone
// on a side, or there is none and it speaks of it.
func aboutInset(d *draft, r *relation.Relation) bool {
	if v, ok := r.Subject(); ok {
		return d.Is(v, dim.Inset)
	}
	return namesInset(d, r.Left, r.Right)
}

// namesInset reports whether one of two sides speaks of the inset of the row d.
func namesInset(d *draft, left, right relation.Expr) bool {
	is := func(v relation.VarID) bool { return d.Is(v, dim.Inset) }
	return left.Mentions(is) || right.Mentions(is)
}

// isEquation reports whether a line is A = B.
func isEquation(s *ast.Relation) bool { return len(s.Rest) == 1 && s.Rest[0].Op == ast.Eq }

// must adds one relation between two sides.
func (c *compiler) must(d *draft, l *resolve.Line, s *ast.Relation, left expr.Value, side ast.Side, right expr.Value) {
	at := left.At.To(right.At)
	lv, rv, ok := c.Sides(left, right, at)
	if !ok {
		return
	}
	sign, known := map[ast.Op]relation.Sign{ast.Eq: relation.EQ, ast.Ge: relation.GE, ast.Le: relation.LE}[side.Op]
	if !known {
		return // reported by the parser
	}
	if c.ofItself(l, lv, rv, at) {
		return
	}
	rel := relation.Relation{Sign: sign, Left: lv.Expr, Right: rv.Expr, Role: relation.Stated, At: s.Span(), Words: at.Text(),
		Turned: c.turned(d, lv.Expr, rv.Expr)}
	if isNumber(rel.Left) && !isNumber(rel.Right) {
		rel.Left, rel.Right, rel.Sign, rel.Swapped = rel.Right, rel.Left, sign.Swapped(), true
	}
	c.origin(&rel, l)
	if rel.Role == relation.Pattern && d != nil {
		// How far a pattern's row lies from the edge is a wish: books differ. Of a
		// notebook it must be measured, so nothing may give it there by a detour, as
		// `first = inset` would.
		switch {
		case d.Bench > 0 && namesInset(d, rel.Left, rel.Right):
			return
		case sign == relation.EQ && aboutInset(d, &rel):
			c.System.Wishes = append(c.System.Wishes, relation.Wish{Left: rel.Left, Right: rel.Right, Weight: 1, At: rel.At, Words: rel.Words, Turned: rel.Turned})
			return
		}
	}
	if d != nil && d.Bench > 0 {
		rel.Bench = d.Bench
		if !c.staysOnBench(d, s.Span(), rel.Left, rel.Right) {
			return
		}
	}
	if rel.Bench == 0 && sign == relation.EQ && c.readOutside(s.Span(), rel.Left, rel.Right, "write the line in its braces, where it counts as a reading") {
		return
	}
	if rel.Bench == 0 {
		c.needRead(rel.Left)
		c.needRead(rel.Right)
	}
	c.System.Relations = append(c.System.Relations, rel)
}

// isNumber reports whether a side rests on no dimension.
func isNumber(e relation.Expr) bool {
	_, known := e.Constant()
	return known
}

// turned reports whether a line in d, nil at the top of a file, is about the name
// on its right where one stands alone on each side.
func (c *compiler) turned(d *draft, left, right relation.Expr) bool {
	if left.Op != relation.Ref || right.Op != relation.Ref {
		return false
	}
	path := func(v relation.VarID) string {
		if owner := c.Owners[v]; owner != nil {
			return owner.Base().Path
		}
		return ""
	}
	at := ""
	if d != nil {
		at = d.Path
	}
	return !resolve.OnLeft(at, path(left.Var), path(right.Var))
}

// needRead marks what a line outside a notebook takes from it: left open there, it
// would be passed over with the line.
func (c *compiler) needRead(e relation.Expr) {
	if e.Op == relation.Ref && c.System.Vars[e.Var].Bench > 0 {
		c.System.Vars[e.Var].Needed = true
	}
	for _, a := range e.Args {
		c.needRead(a)
	}
}

// readOutside reports a line outside a notebook or a measured stock that says
// how large something of it is: nothing would follow from it.
func (c *compiler) readOutside(at source.Span, left, right relation.Expr, help string) bool {
	if _, number := left.Constant(); number {
		left, right = right, left
	}
	vars := left.Vars()
	if _, number := right.Constant(); !number || len(vars) != 1 || c.System.Vars[vars[0]].Bench == 0 {
		return false
	}
	v := c.System.Vars[vars[0]]
	read := "read"
	if v.Whole {
		read, help = "stated", "write the line in its braces"
	}
	c.Diags.Errorf("read-outside", at, "%s is %s in the braces of %s, not outside them", v.Name, read, c.System.Benches[v.Bench-1].Name).
		WithHelp("%s", help)
	return true
}

// origin notes where an inherited line came from.
func (c *compiler) origin(rel *relation.Relation, l *resolve.Line) {
	if l.From == nil {
		return
	}
	if t := l.Scope.Thing(); t != nil {
		rel.Inherited = t.Path()
	}
	if l.From.Kind.ID == kind.Pattern {
		rel.Role = relation.Pattern
	}
}

// ofPattern reports whether a line came from a pattern, or from a binding that
// was not measured. In a notebook it is no reading: it says what the notebook was
// punched to, or what its wire is sold as.
func ofPattern(from *resolve.Thing) bool {
	return from != nil && (from.Kind.ID == kind.Pattern || from.Kind.ID == kind.Binding && from.Parent == nil)
}

// staysOnBench reports a notebook's line that speaks of something outside it.
func (c *compiler) staysOnBench(d *draft, at source.Span, left, right relation.Expr) bool {
	var outside relation.VarID
	leaves := func(id relation.VarID) bool {
		outside = id
		return c.System.Vars[id].Bench != d.Bench
	}
	if !left.Mentions(leaves) && !right.Mentions(leaves) {
		return true
	}
	c.Diags.Errorf("bench", at, "%s was measured, so no line in it can refer to %s", d.Path, c.System.Vars[outside].Name).
		WithHelp("write the line at the top of the file, with full names: what is made follows what was measured, never the other way round")
	return false
}

// mostLine handles `count = most`.
func (c *compiler) mostLine(l *resolve.Line, s *ast.Relation) bool {
	if !isEquation(s) {
		return false
	}
	n, ok := s.Rest[0].Value.(*ast.Name)
	if !ok || n.Dotted() != "most" {
		return false
	}
	var sym resolve.Symbol
	if left, ok := s.First.(*ast.Name); ok {
		var problem *diag.Diagnostic
		if sym, problem = l.Scope.Subject(left); problem == nil && isMost(sym) {
			switch id, ok := c.find(sym, left.Span()); {
			case ok && c.System.Vars[id].Bench != 0:
				c.Diags.Errorf("most-read", s.Span(), "%s is not most: a notebook has the holes that it has", c.System.Vars[id].Name).
					WithHelp("count the holes and state them, as in count = 14")
			case ok && c.Owners[id].Base().Kind == kind.Stitch:
				c.Diags.Errorf("most", n.Span(), "how many stitches there are follows from their length, so %s can't be most", c.System.Vars[id].Name).
					WithHelp("take this line out, or state a shorter stitch-length for more holes")
			case ok && c.Owners[id].Base().Kind == kind.Pattern: // each row has room for as many as it has
			case ok:
				c.System.Vars[id].Most = true
				c.System.Vars[id].At = s.Span()
			}
			return true
		}
	}
	if _, known := l.Scope.Means(n); known {
		return false // something of that name is meant
	}
	e := c.Diags.Errorf("most", n.Span(), "only the count of a row, and across and down of a field, can be most: as many as there is room for").
		WithHelp("write count = most in a row, or across = most in a field")
	if sym.Dim == dim.Links || sym.Dim == dim.Rows {
		e.Message = sym.Dim.String() + " can't be most: that is for the count of a row, and for across and down of a field"
		e.WithHelp("state how many %s there are, or take the line out: they then follow from the others", sym.Dim)
	}
	return true
}

// isMost reports whether a symbol is a count that may be as large as can be.
func isMost(sym resolve.Symbol) bool {
	return sym.Dim == dim.Count || sym.Dim == dim.Across || sym.Dim == dim.Down
}

// prefer compiles a wish.
func (c *compiler) prefer(d *draft, l *resolve.Line, s *ast.Prefer) {
	eased := c.easeOf(l, s.Left, []ast.Side{{Value: s.Right}})
	if c.easeOfNothing(l, s, eased, s.Left, s.Right) {
		return
	}
	left, okL := c.Subject(s.Left, l.Scope)
	value := c.Value
	if c.onlyNumbers(s.Left, l.Scope) {
		value = c.Subject
	}
	right, okR := value(s.Right, l.Scope)
	weight, okW := c.weight(l, s)
	if !okL || !okR || !okW {
		return
	}
	lv, rv, ok := c.Sides(left, right, s.Span())
	if !ok {
		return
	}
	switch {
	case s.Op != ast.Eq:
		c.Diags.Errorf("prefer", s.Span(), "a wish names the value to come near to: prefer A = B").
			WithHelp("to set a bound that must hold, leave out prefer")
		return
	case lv.Kind == unit.Count || c.countsAlone(lv.Expr, rv.Expr):
		c.Diags.Errorf("prefer", s.Left.Span(), "a count can't be wished for").
			WithHelp("state it, as in count = 20, or ask for as many as there is room for: count = most")
		return
	case c.ofItself(l, lv, rv, s.Span()):
		return
	}
	wish := relation.Wish{Left: lv.Expr, Right: rv.Expr, Weight: weight, At: s.Span(), Words: s.Span().Text(),
		Turned: c.turned(d, lv.Expr, rv.Expr)}
	if d != nil && d.Bench > 0 {
		if l.From != nil && l.From.Kind.ID == kind.Pattern && namesInset(d, wish.Left, wish.Right) {
			return // how far in a notebook's holes lie must be measured
		}
		wish.Bench = d.Bench
		if !c.staysOnBench(d, s.Span(), wish.Left, wish.Right) {
			return
		}
	}
	if wish.Bench == 0 && c.readOutside(s.Span(), wish.Left, wish.Right, "write the line in its braces, where it counts if no reading decides that") {
		return
	}
	if wish.Bench == 0 {
		c.needRead(wish.Left)
		c.needRead(wish.Right)
	}
	c.System.Wishes = append(c.System.Wishes, wish)
	if eased != nil && !ofPattern(l.From) {
		c.warnEase(eased, s)
	}
}

// countsAlone reports a wish that speaks of counts and of nothing else, as
// `prefer 2 * count = 10` does.
func (c *compiler) countsAlone(left, right relation.Expr) bool {
	counts := append(left.Vars(), right.Vars()...)
	return len(counts) > 0 && !slices.ContainsFunc(counts, func(v relation.VarID) bool { return !c.System.Vars[v].Whole })
}

// weight is how much a wish counts.
func (c *compiler) weight(l *resolve.Line, s *ast.Prefer) (float64, bool) {
	if s.Weight == nil {
		return 1, true
	}
	w, ok := c.Value(s.Weight, l.Scope)
	if !ok {
		return 0, false
	}
	weight, known := w.Expr.Constant()
	if !known || !w.Plain() || weight <= 0 {
		c.Diags.Errorf("weight", s.Weight.Span(), "a weight is a plain number above 0").
			WithHelp("weight 3 makes a wish count three times as much as one without")
		return 0, false
	}
	return weight, true
}

// check compiles `check CONDITION else "message"`.
func (c *compiler) check(l *resolve.Line, s *ast.Check) {
	cond, ok := c.Condition(s.Cond, l.Scope)
	if !ok {
		return
	}
	c.needCondition(cond)
	check := model.Check{Condition: cond, At: s.Span()}
	if s.Message != nil {
		v, ok := c.text(property{value: s.Message, scope: l.Scope}, func(code diag.Code) {
			c.Diags.Errorf(code, s.Message.Span(), "%s is no text, and what follows else is a message", s.Message.Span().Short()).
				WithHelp(`write it in double quotes, as in else "too little wood between the holes"`)
		})
		if !ok {
			return
		}
		check.Message = v.Text
	}
	c.Checks = append(c.Checks, check)
}

// needCondition marks the dimensions that a check asks for.
func (c *compiler) needCondition(cond model.Condition) {
	for _, part := range cond.Parts {
		c.needCondition(part)
	}
	c.needExpr(cond.Left.Expr)
	c.needExpr(cond.Right.Expr)
}

// easeOf is the thing whose ease a line is about by its name, the first of its sides that
// is no number; nil if it is about anything else.
func (c *compiler) easeOf(l *resolve.Line, first ast.Expr, rest []ast.Side) *resolve.Thing {
	if n := namesEase(first); n != nil {
		return c.easeNamed(l, n)
	}
	for i, side := range rest {
		n := namesEase(side.Value)
		if n == nil {
			continue // as most
		}
		if !c.onlyNumbers(first, l.Scope) || slices.ContainsFunc(rest[:i], func(s ast.Side) bool { return !c.onlyNumbers(s.Value, l.Scope) }) {
			return nil
		}
		return c.easeNamed(l, n)
	}
	return nil
}

// namesEase is an expression as the name of an ease, by its word; nil if it is none.
func namesEase(e ast.Expr) *ast.Name {
	if n, ok := e.(*ast.Name); ok && n.Parts[len(n.Parts)-1].Name == dim.Ease.String() {
		return n
	}
	return nil
}

// easeNamed is the thing of which a name alone means the ease, nil if it means something else.
func (c *compiler) easeNamed(l *resolve.Line, n *ast.Name) *resolve.Thing {
	if sym, problem := l.Scope.Subject(n); problem == nil && sym.Dim == dim.Ease {
		return sym.Thing
	}
	return nil
}

// easeOfNothing warns of a line about the ease of what lies on nothing, which has none.
func (c *compiler) easeOfNothing(l *resolve.Line, s ast.Stmt, of *resolve.Thing, sides ...ast.Expr) bool {
	if of == nil || of.Has(dim.Ease) {
		return false
	}
	for _, side := range sides {
		if namesEase(side) == nil {
			c.Value(side, l.Scope) // for what is wrong with it
		}
	}
	if !of.Unsure && !(of.Parent != nil && of.Parent.Unsure) {
		c.idleEase(s, of)
	}
	return true
}

// unsure reports whether what a thing lies on was reported as wrong.
func unsure(d *draft) bool { return d.thing.Unsure || d.parent != nil && d.parent.thing.Unsure }

// idleEase tells that the ease of a thing does nothing: of what is measured itself,
// where it belongs.
func (c *compiler) idleEase(s ast.Stmt, t *resolve.Thing) {
	for book := t; book != nil; book = book.Parent {
		if book.Kind.ID == kind.Notebook {
			c.Diags.Warnf("idle-ease", s.Span(), "this ease does nothing: %s is what was measured, not what is cut", t.Path()).
				WithHelp("state it in the panel that covers %s", book.Path())
			return
		}
	}
	c.Diags.Warnf("idle-ease", s.Span(), "this ease does nothing: %s lies on no measured hole", t.Path()).
		WithHelp("%s", statedIsCut)
}

const statedIsCut = "a hole that is stated is cut as stated; make it larger there if it should be looser"

// warnEase warns of an ease that does nothing: of a row whose hole is stated, and not by that ease.
func (c *compiler) warnEase(of *resolve.Thing, s ast.Stmt) {
	if d := c.drafts[of]; d != nil && d.Kind == kind.Row && !unsure(d) {
		if p, own := d.props["hole"]; own && !takesEase(p.value) && !c.easesNeck(d) {
			c.idleEase(s, of)
		}
	}
}

// names reports whether an expression is the name of a dimension of the thing in
// which it stands.
func names(e ast.Expr, n dim.Name) bool {
	name, ok := e.(*ast.Name)
	return ok && name.Dotted() == n.String()
}

// speaksOf reports whether a line states a dimension of its thing: one of its
// sides is that and nothing else.
func speaksOf(l *resolve.Line, n dim.Name) bool {
	r, ok := l.Stmt.(*ast.Relation)
	if !ok {
		return false
	}
	for _, side := range r.Rest {
		if names(side.Value, n) {
			return true
		}
	}
	return names(r.First, n)
}

// takesEase reports whether an expression speaks of an ease.
func takesEase(e ast.Expr) bool {
	takes := false
	ast.Walk(e, func(n ast.Node) bool {
		if x, ok := n.(ast.Expr); ok {
			takes = takes || namesEase(x) != nil
		}
		return !takes
	})
	return takes
}
