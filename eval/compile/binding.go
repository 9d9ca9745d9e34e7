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
	switch {
	case !climbs || !even:
	case d.thing.CoverOf == nil:
		c.sharesWith(d, x, dim.Pitch)
	case c.draft(d.thing.CoverOf).binding != x: // else it has it from the notebook's row
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
// itself, so what a binding outside it comes to by its own lines comes in as a number;
// what they leave open the binding has from the row by default.
func (c *compiler) sharesWith(d, x *draft, n dim.Name) {
	if x.Bench == d.Bench {
		c.own(d, d.V(n), x.V(n), "")
		return
	}
	if v, known := c.bindingLength(x, n); known && d.Bench > 0 {
		c.own(d, d.V(n), relation.C(v), "that of "+x.Path)
		return
	}
	c.byDefault(radiusPhase, relation.Default{Left: x.V(n), Right: d.V(n), Vars: dimsOf(x, n), At: d.At})
}

// bindingLength is the number to which equations between a binding's own lengths bring
// one of them: those that its lines state, and outside = ring + 2 * wire. It doesn't
// look at those above, which are being worked out.
func (c *compiler) bindingLength(x *draft, n dim.Name, above ...dim.Name) (value float64, known bool) {
	if v, stated := c.statedAs(x, n, unit.Length); stated || slices.Contains(above, n) {
		return v, stated
	}
	above = append(slices.Clip(above), n)
	for _, l := range slices.Concat(x.thing.Outside(), x.thing.Lines) {
		e := equalTo(l, x.thing, n)
		if e == nil {
			continue
		}
		if right, ok := c.quietly(e, l.Scope, unit.Length); ok {
			if v, ok := c.byLengths(x, right, above); ok {
				value, known = v, true
			}
		}
	}
	if known {
		return value, true
	}
	ring, wire, outside := x.V(dim.Ring), x.V(dim.Wire), x.V(dim.Outside)
	switch n {
	case dim.Ring:
		return c.byLengths(x, relation.Minus(outside, relation.Mul(relation.C(2), wire)), above)
	case dim.Wire:
		return c.byLengths(x, relation.Div(relation.Minus(outside, ring), relation.C(2)), above)
	case dim.Outside:
		return c.byLengths(x, relation.Add(ring, relation.Mul(relation.C(2), wire)), above)
	}
	return 0, false
}

// byLengths is what an expression of a binding's own lengths comes to.
func (c *compiler) byLengths(x *draft, e relation.Expr, above []dim.Name) (float64, bool) {
	values := make([]float64, len(c.System.Vars))
	for _, id := range e.Vars() {
		names := x.thing.Kind.Dims
		own := slices.IndexFunc(names, func(n dim.Name) bool { return x.Is(id, n) })
		if own < 0 {
			return 0, false
		}
		v, known := c.bindingLength(x, names[own], above...)
		if !known {
			return 0, false
		}
		values[id] = v
	}
	return e.Eval(values), true
}

// equalTo is the other side of a line that says what one of a thing's dimensions
// equals; nil if the line is another.
func equalTo(l *resolve.Line, of *resolve.Thing, n dim.Name) ast.Expr {
	r, ok := l.Stmt.(*ast.Relation)
	if !ok || !isEquation(r) || l.Drops(0) {
		return nil
	}
	switch right := r.Rest[0].Value; {
	case l.Says(r.First, of, n):
		return right
	case l.Says(right, of, n):
		return r.First
	}
	return nil
}

// statedAs is the number that a line gives for one of a thing's dimensions, in its
// braces or outside them. Of several the last in the braces counts.
func (c *compiler) statedAs(d *draft, n dim.Name, k unit.Kind) (value float64, known bool) {
	for _, l := range slices.Concat(d.thing.Outside(), d.thing.Lines) {
		e := c.statedOf(l, d.thing, n)
		if e == nil {
			continue
		}
		if x, ok := c.quietly(e, l.Scope, k); ok {
			if v, ok := x.Constant(); ok {
				value, known = v, true
			}
		}
	}
	return value, known
}

// quietly is what an expression comes to. The line in which it stands tells what is
// wrong with it.
func (c *compiler) quietly(e ast.Expr, s *resolve.Scope, k unit.Kind) (relation.Expr, bool) {
	told := len(*c.Diags)
	x, ok := c.As(e, s, k, "")
	*c.Diags = (*c.Diags)[:told]
	return x, ok
}

// findBinding finds a row's binding; nil if it has none.
func (c *compiler) findBinding(d *draft) *draft {
	if p, ok := d.props["binding"]; ok {
		return c.namedBinding(p)
	}
	if x := c.onlyBinding(d.thing); x != nil {
		return x
	}
	if x := c.onlyBinding(d.parent.thing); x != nil {
		return x
	}
	if d.thing.CoverOf != nil {
		return c.draft(d.thing.CoverOf).binding
	}
	return nil
}

// onlyBinding is the one binding that stands in a thing; nil if there is none
// or more than one.
func (c *compiler) onlyBinding(t *resolve.Thing) *draft {
	var found *draft
	for _, child := range t.Children {
		if child.Kind.ID != kind.Binding {
			continue
		}
		x := c.draft(child)
		if x.absent {
			continue
		}
		if found != nil {
			return nil
		}
		found = x
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
