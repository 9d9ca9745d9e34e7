package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/expr"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// gatherProps finds the lines that state properties of the thing's kind.
func (c *compiler) gatherProps(d *draft) {
	for t := d.thing; t != nil && !c.once[t]; t = t.Model() {
		c.once[t] = true
		c.statedTwice(t)
	}
	for _, l := range d.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 {
			continue
		}
		key := d.thing.Property(r.First)
		if key == "" {
			continue
		}
		if old, twice := d.props[key]; twice && old.from == l.From {
			continue // which is told
		}
		d.props[key] = property{value: r.Rest[0].Value, line: r, scope: l.Scope, from: l.From, of: l}
	}
}

// statedTwice reports what the lines of a thing state twice of what is no dimension, in its
// braces or outside of them. What comes along is reported where it stands.
func (c *compiler) statedTwice(t *resolve.Thing) {
	first := map[string]*ast.Relation{}
	for _, l := range t.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || l.From != nil || len(r.Rest) != 1 {
			continue
		}
		key := t.Property(r.First)
		switch before := first[key]; {
		case key == "":
		case before != nil:
			c.Diags.Errorf("stated-twice", r.Span(), "%s states its %s twice", t.Path(), key).
				Note(before.Span(), "the first is here").WithHelp("take one of the two lines out")
		default:
			first[key] = r
		}
	}
}

// decode decodes a line that states a property. What a kind's own relations
// need of it (the form of its holes, what it lays) has been read by then.
func (c *compiler) decode(d *draft, key string, s *ast.Relation) {
	side := s.Rest[0]
	if len(s.Rest) != 1 || side.Op != ast.Eq {
		c.Diags.Errorf("only-equal", side.OpAt, "%s can only be stated with =", key).
			WithHelp("write %s = %s", key, side.Value.Span().Short())
		return
	}
	p, ok := d.props[key]
	if !ok || p.line != s {
		return // replaced by a later line
	}
	switch n := d.node.(type) {
	case *model.Notebook, *model.Stock:
		if key == "accuracy" || key == "resolution" || key == "jaw-flat" {
			c.caliperLine(caliperOf(n), key, p)
			return
		}
	case *model.Material:
		c.materialLine(d, n, key, p)
		return
	}
	switch n := d.node.(type) {
	case *model.Panel:
		c.panelLine(d, n, key, p)
	case *model.Row, *model.Cutout, *model.Pattern:
		c.openingLine(d, key, p)
	case *model.Region:
		if key == "face" {
			n.Face, _ = choose(c, p, "a face of a board", word.Sides()...)
			return
		}
		c.clearLine(&n.Box, p)
	case *model.Tabs:
		c.tabsLine(n, key, p)
	case *model.Line:
		if key == "from" {
			n.From, _ = choose(c, p, "an edge", word.Edges()...)
		} else {
			n.Op, _ = choose(c, p, "an operation of a line", word.OfLines()...)
		}
	case *model.Lattice:
		c.shearLine(&n.ShearModulus, &n.AllowedShear, key, p)
	case *model.Case:
		if key == "quiet" {
			n.Quiet = c.quiet(p, kind.Case)
		}
	case *model.Stock:
		c.stockLine(d, n, key, p)
	case *model.Laser:
		c.laserLine(n, key, p)
	case *model.Binding:
		choose(c, p, "a form of binding", word.Bindings()...)
	}
}

// mostCopies is how often a panel may be wanted.
const mostCopies = 1000

func (c *compiler) panelLine(d *draft, n *model.Panel, key string, p property) {
	switch key {
	case "corners":
		c.corners(d, p)
	case "arch":
		c.archLine(n, p)
	case "copies":
		switch v, ok := c.number(key, p, unit.Count, 1); {
		case ok && v > mostCopies:
			c.Diags.Errorf("count", p.at(), "copies can't be more than %d", mostCopies).WithHelp("make the rest another time")
		case ok:
			n.Copies = maybe.Is(int(v))
			c.copiesTwice(p)
		}
	case "quiet":
		n.Quiet = c.quiet(p, kind.Panel)
	case "stock": // read with the panel's own relations
	default:
		c.cornerLine(d, p)
	}
}

// copiesTwice tells of copies of a panel that are worked out of how often the order is made, and so
// count twice: of an order for 12 there would be 144 boards.
func (c *compiler) copiesTwice(p property) {
	if name := c.quantityIn(p.value, p.scope, map[*resolve.Let]bool{}); name != "" {
		c.Diags.Warnf("copies-twice", p.at(), "each order is made as often as its %s says already, and these copies multiply that", name).
			WithHelp("take the line out; if it is the number of boards of one order, give the column another name, and say how often an order is made in a column copies, as in copies = count default 1")
	}
}

// quantityIn is the column that says how often an order is made, if a value rests on it; seen are the
// named values already looked into.
func (c *compiler) quantityIn(value ast.Expr, scope *resolve.Scope, seen map[*resolve.Let]bool) (column string) {
	if c.Orders == nil {
		return ""
	}
	ast.Walk(value, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if !ok || column != "" {
			return column == ""
		}
		switch sym, _ := scope.Lookup(name); {
		case sym.Order != "":
			if i := c.Orders.Column(sym.Order); i >= 0 && c.Orders.IsCopies(i) {
				column = sym.Order
			}
		case sym.Let != nil && !seen[sym.Let]:
			seen[sym.Let] = true
			column = c.quantityIn(sym.Let.Stmt.Value, sym.Let.Scope, seen)
		}
		return column == ""
	})
	return column
}

// openingLine decodes what rows, patterns and cutouts state of their openings.
func (c *compiler) openingLine(d *draft, key string, p property) {
	switch key {
	case "open", "neck":
		c.openLine(d, key, p)
	case "clear":
		if cutout, ok := d.node.(*model.Cutout); ok {
			c.clearLine(&cutout.Box, p)
		}
	case "rotate":
		c.rotateLine(d, p)
	case "depth":
		c.depthLine(d, p)
	case "face":
		c.recessFace(d, p)
	}
}

// depthLine decodes how deep a cutout is that doesn't go through.
func (c *compiler) depthLine(d *draft, p property) {
	cutout := d.node.(*model.Cutout)
	if x, ok := c.ofClosed(d, "depth", p, unit.Length, "recess", "so it goes through and has no depth", "a recess may reach the edge by a distance of 0"); ok {
		cutout.Depth, cutout.DepthAt = maybe.Is(x), p.line.Span()
	}
}

// ofClosed reads what only a cutout that is closed all round can have: one that is
// open to an edge has no wall there, and its neck no bend.
func (c *compiler) ofClosed(d *draft, key string, p property, k unit.Kind, code diag.Code, so, instead string) (relation.Expr, bool) {
	x, ok := c.As(p.value, p.scope, k, key)
	if !ok {
		return x, false
	}
	if open, is := d.props["open"]; is {
		c.Diags.Errorf(code, p.at(), "%s is open to an edge, %s", d.Path, so).
			Note(open.line.Span(), "it is opened here").
			WithHelp("leave out one of the two; %s", instead)
		return x, false
	}
	c.needExpr(x)
	return x, true
}

// recessFace decodes on which face a recess lies. What goes through has no face.
func (c *compiler) recessFace(d *draft, p property) {
	if _, is := d.props["depth"]; !is {
		c.Diags.Errorf("recess", p.at(), "%s goes through the board, so it lies on no face", d.Path).
			WithHelp("state its depth, as in depth = %s, or take the line out", unit.Example(2, c.UnitOf(p.at())))
		return
	}
	d.node.(*model.Cutout).Face, _ = choose(c, p, "a face of a board", word.Sides()...)
}

// rotateLine decodes by how much a cutout is turned.
func (c *compiler) rotateLine(d *draft, p property) {
	cutout := d.node.(*model.Cutout)
	if x, ok := c.ofClosed(d, "rotate", p, unit.Angle, "rotated-open", "so it can't be turned", "for a quarter turn change its two sizes"); ok {
		cutout.Rotate, cutout.RotateAt = maybe.Is(x), p.line.Span()
	}
}

// clearLine decodes how far a box asks to be kept from every cut.
func (c *compiler) clearLine(box *model.Box, p property) {
	if x, ok := c.As(p.value, p.scope, unit.Length, "clear"); ok {
		if v, known := x.Constant(); known && v < 0 {
			c.Diags.Errorf("negative", p.at(), "clear can't be %s", p.at().Short()).WithHelp("state a number that is not below 0")
			return
		}
		c.needExpr(x)
		box.Clear, box.ClearAt = maybe.Is(x), p.line.Span()
	}
}

// caliperLine decodes what is stated of a caliper.
func (c *compiler) caliperLine(to *model.Caliper, key string, p property) (float64, bool) {
	v, ok := c.promise(key, p)
	if ok {
		*map[string]*maybe.Of[float64]{"accuracy": &to.Accuracy, "resolution": &to.Resolution, "jaw-flat": &to.JawFlat}[key] = maybe.Is(v)
	}
	return v, ok
}

// shearLine decodes a shear modulus or the shear stress that is allowed.
func (c *compiler) shearLine(modulus, allowed *model.Shear, key string, p property) {
	v, ok := c.number(key, p, unit.Ratio, 0)
	switch {
	case !ok:
	case v == 0:
		c.Diags.Errorf("positive", p.at(), "%s can't be 0", key).WithHelp("state it in N/mm² (MPa), or take the line out")
	default:
		to := modulus
		if key == "allowed-shear" {
			to = allowed
		}
		*to = model.Shear{Value: maybe.Is(v), At: p.line.Span()}
	}
}

// quiet decodes `quiet = thin-web, small-part` of a thing of a kind. What is said
// once of the whole design, as the caution is, only the laser can silence, and what is
// told of a stock or a case no other thing.
func (c *compiler) quiet(p property, in kind.ID) (silent []diag.Code) {
	values := c.listed(p)
	for _, e := range values {
		if isBad(e) {
			continue
		}
		n, ok := e.(*ast.Name)
		if ok && n.Dotted() == "caution" && in != kind.Laser {
			c.Diags.Errorf("quiet", e.Span(), "the caution is said of the whole design, so it can't be silenced here").
				WithHelp("write quiet = caution in the laser")
			continue
		}
		if entry, known := codes.Find(diag.Code(e.Span().Text())); ok && known && entry.Of != "" && in != kind.Laser && in.String() != entry.Of {
			help := "write quiet = %s in the %s"
			if entry.Of != kind.Laser.String() {
				help += ", or in the laser for the whole design"
			}
			c.Diags.Errorf("quiet", e.Span(), "%s is told of a %s, so it can't be silenced in a %s", entry.Code, entry.Of, in).
				WithHelp(help, entry.Code, entry.Of)
			continue
		}
		if ok && codes.Silenceable(diag.Code(n.Dotted())) {
			silent = append(silent, diag.Code(n.Dotted()))
			continue
		}
		d := c.Diags.Errorf("quiet", e.Span(), "%s is not a warning that can be silenced", e.Span().Short())
		if ok {
			if _, told := codes.Find(diag.Code(n.Dotted())); told {
				d.WithHelp("take it out: what it tells must be seen")
				continue
			}
			if near := spell.Nearest(n.Dotted(), codes.Quiet()); near != "" {
				d.Meant(n.Dotted(), near)
				continue
			}
		}
		if text, quoted := e.(*ast.String); quoted && codes.Silenceable(diag.Code(text.Value)) {
			d.WithHelp("write it without quotes: quiet = %s", text.Value)
			continue
		}
		d.WithHelp("the warning itself gives its name, as in quiet = thin-web")
	}
	return silent
}

// isBad reports whether an expression could not be read, which the parser has told.
func isBad(e ast.Expr) bool {
	_, bad := e.(*ast.BadExpr)
	return bad
}

// lookUp finds what a name stands for where a thing is to be named. False for
// what it reports, or what was reported where it is declared.
func (c *compiler) lookUp(n *ast.Name, s *resolve.Scope, kinds ...kind.ID) (resolve.Symbol, bool) {
	sym, problem := s.LookupThing(n, kinds...)
	if problem != nil {
		*c.Diags = append(*c.Diags, problem)
		return resolve.Symbol{}, false
	}
	return sym, !sym.Broken
}

// isThing reports whether a name stands for a thing of one of the kinds.
func isThing(sym resolve.Symbol, kinds ...kind.ID) bool {
	return sym.Thing != nil && sym.Dim == dim.None && slices.Contains(kinds, sym.Thing.Kind.ID)
}

// namedThing finds the thing of a kind that a property names. It gives nil for
// what it reports; what names the property in messages.
func (c *compiler) namedThing(code diag.Code, what string, p property, k kind.ID, help string) *resolve.Thing {
	n, ok := p.value.(*ast.Name)
	if !ok {
		if _, bad := p.value.(*ast.BadExpr); !bad {
			c.Diags.Errorf(code, p.at(), "%s must be the name of a %s", what, k).WithHelp("%s", help)
		}
		return nil
	}
	sym, ok := c.lookUp(n, p.scope, k)
	if !ok {
		return nil
	}
	if !isThing(sym, k) {
		d := c.Diags.Errorf(code, p.at(), "%s is not a %s", n.Dotted(), k).WithHelp("%s", help)
		if sym.Let != nil {
			d.Note(sym.Let.Stmt.Name.At, "it is a named value")
		}
		return nil
	}
	return sym.Thing
}

// choose reads a property that is one of a few words. what says what it must
// be, such as an edge.
func choose[C word.Choice](c *compiler, p property, what string, among ...C) (C, bool) {
	n, ok := p.value.(*ast.Name)
	if ok {
		if choice, known := word.Find(n.Dotted(), among...); known {
			return choice, true
		}
	}
	words := word.Strings(among...)
	if _, bad := p.value.(*ast.BadExpr); bad {
		return 0, false
	}
	d := c.Diags.Errorf("word", p.at(), "%s is not %s", p.at().Short(), what)
	if ok {
		if say := word.Elsewhere(n.Dotted(), func(w string) bool { return slices.Contains(words, w) }); say != "" {
			word.Tell(d, n.Dotted(), say)
			return 0, false
		}
		if near := spell.Nearest(n.Dotted(), words); near != "" {
			d.Meant(n.Dotted(), near)
			return 0, false
		}
	}
	d.WithHelp("it can be %s", spell.Or(words))
	return 0, false
}

// text reads a property that is a text: in quotes, a let, of an order, or
// several joined. It gives false for what it reports; wrong reports anything
// that is no text, by the code that says whether it is a name of nothing.
func (c *compiler) text(p property, wrong func(diag.Code)) (expr.Value, bool) {
	if n, ok := p.value.(*ast.Name); ok && len(n.Parts) == 1 {
		if _, problem := p.scope.Lookup(n); problem != nil && problem.Code == "unknown-name" {
			wrong(problem.Code) // most often a word that lacks its quotes
			return expr.Value{}, false
		}
	}
	v, ok := c.Text(p.value, p.scope)
	if ok && v.Kind != unit.Text {
		wrong("kind-mismatch")
		return expr.Value{}, false
	}
	return v, ok
}

// number reads a property whose value speaks of no dimension and is not below
// least.
func (c *compiler) number(key string, p property, k unit.Kind, least float64) (float64, bool) {
	v, ok := c.constant(key, p.value, p, k)
	if !ok {
		return 0, false
	}
	switch {
	case k == unit.Count && (v < least || v != float64(int(v))):
		c.Diags.Errorf("count", p.at(), "%s can't be %s", key, p.at().Short()).WithHelp("state a whole number from %.0f up", least)
	case v < least:
		c.Diags.Errorf("negative", p.at(), "%s can't be %s", key, p.at().Short()).WithHelp("state a number that is not below 0")
	default:
		return v, true
	}
	return 0, false
}

// constant reads a value that speaks of no dimension.
func (c *compiler) constant(key string, e ast.Expr, p property, k unit.Kind) (float64, bool) {
	x, ok := c.As(e, p.scope, k, key)
	if !ok {
		return 0, false
	}
	v, known := x.Constant()
	if !known {
		c.Diags.Errorf("constant", e.Span(), "%s must be a number here, without the name of a dimension", key).
			WithHelp("a named value (let) may be used here")
		return 0, false
	}
	return v, true
}
