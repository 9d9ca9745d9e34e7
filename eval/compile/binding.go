package compile

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// binding adds what holds of every binding:
//
//	outside = ring + 2 * wire
func (c *compiler) binding(d *draft, b *model.Binding) {
	b.Form = d.thing.BindingForm()
	c.namedAfterForm(d, b.Form)
	c.own(d, d.V(dim.Outside), relation.Add(d.V(dim.Ring), relation.Mul(relation.C(2), d.V(dim.Wire))), "")
}

// namedAfterForm warns of a binding that is called after one form and is of another:
// the wire of a twin loop is there twice in each hole, and a coil climbs.
func (c *compiler) namedAfterForm(d *draft, form word.Binding) {
	if d.thing.Decl == nil || d.thing.File.Shelf {
		return
	}
	called := word.Binding(0)
	for _, part := range strings.Split(d.Name, "-") {
		named, ok := word.Find(part, word.Bindings()...)
		if ok && called != 0 && named != called {
			return // ring-loop may be either
		}
		if ok {
			called = named
		}
	}
	if called == 0 || called == form {
		return
	}
	if p, stated := d.props["form"]; stated {
		n, ok := p.value.(*ast.Name)
		if !ok {
			return
		}
		if _, known := word.Find(n.Dotted(), word.Bindings()...); !known {
			return // told as no form
		}
	}
	w := c.Diags.Warnf("binding-name", d.At, "%s is called a %s, but by what it states it is a %s", d.Path, called, form)
	if _, stated := d.props["form"]; stated {
		w.WithHelp("state form = %s, or give it another name", called)
		return
	}
	switch called {
	case word.Loop:
		w.WithHelp("write form = loop, or state its pair, if both wires of a twin loop go through each hole; else give it another name")
	case word.Coil:
		w.WithHelp("write form = coil, or state its pitch, if it climbs along the edge; else give it another name")
	default:
		w.WithHelp("write form = ring if it is one, or give it another name")
	}
}

// bindingDim gives a binding a dimension that only some forms have.
func (c *compiler) bindingDim(d *draft, n dim.Name, at source.Span) (relation.VarID, bool) {
	form := d.thing.BindingForm()
	switch {
	case n == dim.Pair && form == word.Loop, n == dim.Pitch && form == word.Coil:
		return c.addDim(d, n), true
	case n == dim.Pair:
		c.Diags.Errorf("binding-form", at, "a %s goes through each hole with one wire, so %s has no pair", form, d.Path).
			WithHelp("pair is how far both wires of a twin loop reach along the edge: write form = loop, or leave it out")
	default:
		c.Diags.Errorf("binding-form", at, "a %s doesn't climb, so %s has no pitch", form, d.Path).
			WithHelp("the distance of the holes is the row's pitch; for a coil write form = coil")
	}
	return 0, false
}

// rowBinding finds what goes through a row's holes: the binding that the row
// names, one in its braces, the only one in its notebook, or that of the
// notebook's row on which it lies. Of a notebook's row it is the wire, and a coil
// has the pitch of its rows.
func (c *compiler) rowBinding(d *draft, row *model.Row) {
	x := c.findBinding(d)
	if x == nil {
		return
	}
	d.binding = x
	row.Binding, _ = x.node.(*model.Binding)
	_, climbs := x.Dim(dim.Pitch)
	_, even := d.Dim(dim.Pitch)
	switch book := c.covered(d); {
	case !climbs || !even:
	case book == nil:
		c.sharesWith(d, x, dim.Pitch)
	case book.binding != x || x.Bench > 0 && x.Bench != book.Bench: // else it has it from the notebook's row
		c.byDefault(radiusPhase, relation.Default{Left: x.V(dim.Pitch), Right: d.V(dim.Pitch), Vars: dimsOf(x, dim.Pitch), At: d.At})
	}
	if row.Book == nil {
		return
	}
	if _, ok := d.Dim(dim.Wire); !ok {
		c.addDim(d, dim.Wire)
	}
	c.sharesWith(d, x, dim.Wire)
}

// sharesWith makes a length of a row one with its binding's. A notebook is solved by
// itself, so what a binding outside notebooks comes to by its own lines comes in as a number;
// what they leave open the binding has from the row by default. What was read of a binding in
// another notebook is no number that is sure, so none of it comes in.
func (c *compiler) sharesWith(d, x *draft, n dim.Name) {
	if x.Bench == d.Bench {
		c.own(d, d.V(n), x.V(n), "")
		return
	}
	if x.Bench > 0 && d.Bench > 0 {
		return
	}
	if v, known := c.lengthsOf(x)[dimsOf(x, n)[0]]; known && d.Bench > 0 {
		c.own(d, d.V(n), relation.C(v), "that of "+x.Path)
		return
	}
	c.byDefault(radiusPhase, relation.Default{Left: x.V(n), Right: d.V(n), Vars: dimsOf(x, n), At: d.At})
}

// lengthsOf are the lengths of a binding that equations between its own lengths alone
// give, one after another: those that its lines state, and outside = ring + 2 * wire.
// Where several give one the last in its braces counts.
func (c *compiler) lengthsOf(x *draft) map[relation.VarID]float64 {
	if x.lengths != nil {
		return x.lengths
	}
	x.lengths = map[relation.VarID]float64{}
	equations := []relation.Relation{{Left: x.V(dim.Outside), Right: relation.Add(x.V(dim.Ring), relation.Mul(relation.C(2), x.V(dim.Wire)))}}
	for _, l := range slices.Concat(x.thing.Outside(), x.thing.Lines) {
		if e, ok := c.equationIn(l); ok {
			equations = append(equations, e)
		}
	}
	own := func(v relation.VarID) bool {
		return slices.ContainsFunc(x.thing.Kind.Dims, func(n dim.Name) bool { return x.Is(v, n) })
	}
	known := func(v relation.VarID) (float64, bool) {
		value, ok := x.lengths[v]
		return value, ok
	}
	for found := true; found; {
		found = false
		for _, e := range slices.Backward(equations) {
			f, linear := e.Difference(known)
			if !linear || len(f.Terms) != 1 || !own(f.Terms[0].Var) {
				continue
			}
			if value := -f.Const / f.Terms[0].Coef; value > 0 {
				x.lengths[f.Terms[0].Var], found = value, true
			}
		}
	}
	return x.lengths
}

// equationIn is what a line says if it is A = B. What is wrong with it is told where it is
// compiled.
func (c *compiler) equationIn(l *resolve.Line) (relation.Relation, bool) {
	r, ok := l.Stmt.(*ast.Relation)
	if !ok || !isEquation(r) || l.Drops(0) {
		return relation.Relation{}, false
	}
	values, _, _ := unwrap(r.Rest[0].Value)
	c.TakePart(r.First, l.Scope)
	c.TakePart(values[0], l.Scope)
	told := len(*c.Diags)
	defer func() { *c.Diags = (*c.Diags)[:told] }()
	left, okL := c.Subject(r.First, l.Scope)
	right, okR := c.Value(values[0], l.Scope)
	if !okL || !okR {
		return relation.Relation{}, false
	}
	left, right, ok = c.Sides(left, right, r.Span())
	return relation.Relation{Left: left.Expr, Right: right.Expr}, ok
}

// statedAs is the number that a line gives for one of a thing's dimensions, in its
// braces or outside them. Of several the last in the braces counts.
func (c *compiler) statedAs(d *draft, n dim.Name, k unit.Kind) (value float64, known bool) {
	for _, l := range slices.Concat(d.thing.Outside(), d.thing.Lines) {
		if e := c.statedOf(l, d.thing, n); e != nil {
			if v, ok := c.quietly(e, l.Scope, k); ok {
				value, known = v, true
			}
		}
	}
	return value, known
}

// quietly is the number that an expression comes to. The line in which it stands
// tells what is wrong with it.
func (c *compiler) quietly(e ast.Expr, s *resolve.Scope, k unit.Kind) (float64, bool) {
	c.TakePart(e, s)
	told := len(*c.Diags)
	x, ok := c.As(e, s, k, "")
	*c.Diags = (*c.Diags)[:told]
	if !ok {
		return 0, false
	}
	return x.Constant()
}

// findBinding finds a row's binding; nil if it has none.
func (c *compiler) findBinding(d *draft) *draft {
	if p, ok := d.props["binding"]; ok {
		return c.namedBinding(p)
	}
	switch own := c.bindingsIn(d.thing); {
	case len(own) == 1:
		return own[0]
	case len(own) > 1:
		c.Diags.Errorf("which-binding", d.At, "%s doesn't say which of its bindings goes through its holes: %s or %s", d.Path, own[0].Name, own[1].Name).
			Note(own[0].At, "one is here").Note(own[1].At, "another is here").
			WithHelp("name it in the braces of the row, as in binding = %s, or take the other out", own[0].Name)
		return nil
	}
	if x := c.bindingsIn(d.parent.thing); len(x) == 1 {
		return x[0]
	}
	if book := c.covered(d); book != nil {
		return book.binding
	}
	return nil
}

// bindingsIn are the bindings that stand in a thing and are there, the first two of them.
func (c *compiler) bindingsIn(t *resolve.Thing) (found []*draft) {
	for _, child := range t.Children {
		if child.Kind.ID != kind.Binding || len(found) == 2 {
			continue
		}
		if x := c.draft(child); !x.absent {
			found = append(found, x)
		}
	}
	return found
}

func (c *compiler) namedBinding(p property) *draft {
	t := c.namedThing("binding", "binding", p, kind.Binding, fmt.Sprintf("declare one, as in binding clip { ring = %s; wire = %s }, and name it here",
		unit.Example(9.5, c.UnitOf(p.at())), unit.Example(0.9, c.UnitOf(p.at()))))
	if t == nil {
		return nil
	}
	x := c.draft(t)
	if x.absent {
		c.Diags.Errorf("left-out", p.at(), "%s isn't there: its `when` doesn't hold", p.at().Short()).
			Note(x.At, "it is declared here").WithHelp("leave this line out, or put the row under the same `when`")
		return nil
	}
	return x
}
