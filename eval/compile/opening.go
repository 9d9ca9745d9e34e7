package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/expr"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// opening compiles the form of a hole or a cutout into two dimensions. It gives
// nil for what it reports.
func (c *compiler) opening(d *draft, p property, along, across dim.Name) *model.Hole {
	e, within, exact := p.value, ast.Expr(nil), false
	if st, ok := e.(*ast.Stated); ok {
		within, exact, e = st.Within, st.Exact, st.X
		if within != nil && d.Bench == 0 {
			c.Value(st, p.scope) // says that it belongs to a reading
		}
	}
	named, reported := c.formOf(e, p.scope)
	if named == nil {
		_, list := e.(*ast.List)
		switch {
		case reported:
		case list:
			c.Diags.Errorf("shape", e.Span(), "the sizes of an opening are stated once, not several times").
				WithHelp("put further readings of a size in a line of their own, as in %s = %s, %s", along, unit.Example(4.1, c.UnitOf(e.Span())), unit.Example(4.2, c.UnitOf(e.Span())))
		case c.meansNothing(e, p.scope):
			c.Diags.Errorf("word", e.Span(), "%s is not a form of opening", e.Span().Short()).WithHelp("write %s", opening.Usage())
		default:
			c.Diags.Errorf("shape", e.Span(), "%s is not a form of opening", e.Span().Short()).WithHelp("write %s", opening.Usage())
		}
		return nil
	}
	shape := named.Shape
	form, ok := opening.Find(shape.Word.Name)
	if !ok {
		at := e.Span()
		if e == ast.Expr(shape) {
			at = shape.Word.At
		}
		c.Diags.Errorf("shape", at, "%s is a form of corner, not of opening", shape.Word.Name).WithHelp("write %s", opening.Usage())
		return nil
	}
	hole := &model.Hole{Form: form, At: p.line.Span(), Own: p.from == nil}
	dims := map[opening.Size]dim.Name{opening.Along: along, opening.Across: across}
	stated := []ast.Expr{shape.A, shape.B}
	_, _, _, tied := form.Tied()
	for i, size := range form.Sizes() {
		if p.lacks(dims[size]) || tied && (p.lacks(along) || p.lacks(across)) {
			continue // stated nearer; of a form with one size by either of its dimensions
		}
		c.size(d, p, form, dims[size], sizeOf{stated[i], named.Scope, within, exact})
	}
	c.tie(d, form, along, across)
	if shape.Radius != nil {
		if x, ok := c.As(shape.Radius, named.Scope, unit.Length, "radius"); ok && c.drawnBy(d, x, shape.Radius.Span()) {
			c.notNegative(x, shape.Radius.Span(), "radius")
			hole.Radius = maybe.Is(x)
		}
	}
	return hole
}

// notNegative reports a size of a form that is stated below 0.
func (c *compiler) notNegative(x relation.Expr, at source.Span, what string) {
	if v, known := x.Constant(); known && v < 0 {
		c.Diags.Errorf("negative", at, "a %s can't be less than 0", what).WithHelp("take it out for sharp corners")
	}
}

// drawnBy sees to a length by which the openings of a thing are drawn: a pattern draws none,
// and what was measured speaks of nothing else.
func (c *compiler) drawnBy(d *draft, x relation.Expr, at source.Span) bool {
	if d.Bench > 0 && !c.staysOnBench(d, at, x, x) {
		return false
	}
	if d.thing.Kind.ID != kind.Pattern {
		c.needExpr(x)
	}
	return true
}

// tie adds that of a form with one size the other follows. It reports whether
// the form has but one.
func (c *compiler) tie(d *draft, form opening.Form, along, across dim.Name) bool {
	tied, factor, why, ok := form.Tied()
	if !ok {
		return false
	}
	size, follows := d.V(along), d.V(across)
	if tied == opening.Along {
		size, follows = follows, size
	}
	if factor != 1 {
		size = relation.Mul(relation.C(factor), size)
	}
	c.own(d, follows, size, why)
	return true
}

// formOf finds the form that an expression states or names. Of what is none, nil,
// it says whether that has been reported.
func (c *compiler) formOf(e ast.Expr, s *resolve.Scope) (form *expr.Form, reported bool) {
	form, ok := c.Form(e, s)
	if !ok {
		return nil, true
	}
	return form, false
}

// meansNothing reports whether an expression is the name of nothing: that is wrong in
// every order, and told in what isn't there as well.
func (c *compiler) meansNothing(e ast.Expr, s *resolve.Scope) bool {
	name, ok := e.(*ast.Name)
	if !ok {
		return false
	}
	_, problem := s.Lookup(name)
	return problem != nil && problem.Code == "unknown-name"
}

// A sizeOf is a size of an opening as it is stated, with how surely it is known.
// Where a let holds the form, its sizes are read in the let's scope.
type sizeOf struct {
	value  ast.Expr
	scope  *resolve.Scope
	within ast.Expr
	exact  bool
}

// size states one size of an opening: a reading in a notebook, else a must.
func (c *compiler) size(d *draft, p property, form opening.Form, n dim.Name, s sizeOf) {
	if s.value == nil {
		return
	}
	if own, ok := s.value.(*ast.Stated); ok && (own.Exact || d.Bench > 0) {
		s.value, s.within, s.exact = own.X, own.Within, own.Exact // said of this size alone
	}
	id, _ := d.Dim(n)
	left := expr.OfDimension(id, unit.Length, p.line.First.Span())
	if d.Bench > 0 && c.onlyNumbers(s.value, s.scope) && !s.exact && !ofPattern(p.from) {
		c.readSize(d, p, form, n, left, s)
		return
	}
	x, ok := c.As(s.value, s.scope, unit.Length, d.Path+"."+n.String())
	if !ok {
		return
	}
	if c.sizedByItself(d, form, id, x, s.value.Span()) {
		return
	}
	if v, known := x.Constant(); known && v <= 0 {
		c.Diags.Errorf("positive", s.value.Span(), "an opening of %s can't be cut", unit.FormatLength(v, s.scope.File().Unit)).
			WithHelp("both sizes of an opening must be above 0")
		return
	}
	c.stated(d, id, x, p, s.value)
}

// sizedByItself reports a size of an opening that speaks of that size, or of the
// one that follows it in a form of one size: in a cutout a bare height is its own.
func (c *compiler) sizedByItself(d *draft, form opening.Form, id relation.VarID, x relation.Expr, at source.Span) bool {
	own := []relation.VarID{id}
	if _, _, _, tied := form.Tied(); tied {
		own = dimsOf(d, dim.Width, dim.Height, dim.HoleAlong, dim.HoleAcross)
	}
	var spoken relation.VarID
	if !x.Mentions(func(v relation.VarID) bool { spoken = v; return slices.Contains(own, v) }) {
		return false
	}
	name := c.System.Vars[spoken].Name
	help := "name what it depends on, or state a number"
	if outer := c.around(name); outer != "" {
		help = "if that of what it stands in is meant, write " + outer
	}
	c.Diags.Errorf("of-itself", at, "the size of %s would be given by itself: %s is its own", d.Path, name).WithHelp("%s", help)
	return true
}

// readSize adds what was read of one size of a hole.
func (c *compiler) readSize(d *draft, p property, form opening.Form, n dim.Name, left expr.Value, s sizeOf) {
	x, ok := c.As(s.value, s.scope, unit.Length, n.String())
	if !ok {
		return
	}
	read, known := x.Constant()
	if !known || read < 0 {
		c.Diags.Errorf("positive", s.value.Span(), "%s must be a length above 0", n).WithHelp("write what the caliper showed between two sides of the hole")
		return
	}
	line := p.asLine()
	if s.within == nil {
		line.Scope = s.scope // a fraction is one of the unit in which it is written
	}
	tool, ok := c.tool(d, line, []ast.Expr{s.value}, s.within, unit.Length)
	if !ok {
		return
	}
	if form.JawsReadLow() {
		if tool.Flat, ok = c.promised(d, "jaw-flat"); !ok {
			return
		}
	}
	at := s.value.Span()
	if s.scope != p.scope {
		at = p.at() // two rows may have the form that a let holds
	}
	c.addReading(d, left, []float64{read}, tool, at, n.String())
}

// openLine sees to the lines that make an opening open to an edge: `neck = 3.5`,
// and of a cutout `open = foredge`.
func (c *compiler) openLine(d *draft, key string, p property) {
	cutout, isCutout := d.node.(*model.Cutout)
	if key == "open" {
		if edge, ok := choose(c, p, "an edge", word.Edges()...); ok {
			cutout.Open, cutout.OpenAt = edge, p.line.Span()
		}
		return
	}
	if _, open := d.props["open"]; isCutout && !open {
		c.Diags.Errorf("no-edge", p.line.Span(), "nothing says which edge the neck of %s leads to", d.Path).
			WithHelp("write open = foredge, or another edge, in its braces")
	}
	x, ok := c.As(p.value, p.scope, unit.Length, key)
	if !ok {
		return
	}
	if v, known := x.Constant(); known && v <= 0 {
		c.Diags.Errorf("positive", p.at(), "a neck must be wider than 0").
			WithHelp("take the line out for openings that are closed all round")
		return
	}
	if !c.drawnBy(d, x, p.line.Span()) {
		return
	}
	neck := &model.Neck{Wide: x, At: p.line.Span()}
	switch n := d.node.(type) {
	case *model.Cutout:
		n.Neck = neck
	case *model.Row:
		n.Neck = neck
	}
}
