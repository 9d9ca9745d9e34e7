package compile

import (
	"slices"

	"foredge/eval/kind"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// Of a used file its panels, notebooks and cases are made only where the design
// speaks of them. This file says what of it counts all the same.

// usedLines adds the lines at the top of used files that speak only of what takes
// part in this design: of named values, and of things that it has taken.
func (c *compiler) usedLines() {
	taken := c.taken()
	seen := map[*resolve.Let]bool{}
	for _, f := range c.info.All[1:] {
		for _, l := range f.Lines {
			if c.concerns(l.Stmt, l.Scope, taken, seen) {
				c.line(nil, l)
			}
		}
	}
}

// taken are the things that take part, and the patterns, bindings and templates that
// one of them is like. A panel or notebook takes part only by itself.
func (c *compiler) taken() map[*resolve.Thing]bool {
	taken := map[*resolve.Thing]bool{}
	take := func(t *resolve.Thing) {
		for ; t != nil && !taken[t]; t = t.Like {
			if t.Parent == nil && (t.Kind.Template || t.Kind.ID == kind.Pattern || t.Kind.ID == kind.Binding) {
				taken[t] = true
				for _, child := range t.Children {
					taken[child] = true
				}
			}
		}
	}
	for _, d := range c.present {
		taken[d.thing] = true
		take(d.thing.Like)
		for _, l := range d.thing.Lines {
			take(l.From) // where a style brought it
		}
	}
	return taken
}

// concerns reports whether a line, or a let of which it speaks, is about what takes
// part and nothing else. A name that means nothing is left to whoever compiles it.
// seen are the lets looked into, with what came of it.
func (c *compiler) concerns(n ast.Node, s *resolve.Scope, taken map[*resolve.Thing]bool, seen map[*resolve.Let]bool) bool {
	all := true
	ast.Walk(n, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if !ok || !all {
			return all
		}
		sym, problem := s.Lookup(name)
		switch {
		case problem != nil:
		case sym.Thing != nil:
			all = taken[sym.Thing]
		case sym.Order != "":
			all = c.Declared != nil // a shop's file may serve designs with orders and without
		case sym.Let != nil:
			about, known := seen[sym.Let]
			if !known {
				seen[sym.Let] = true // a circle is told of by whoever compiles it
				about = c.concerns(sym.Let.Stmt.Value, sym.Let.Scope, taken, seen)
				seen[sym.Let] = about
			}
			all = about
		}
		return true
	})
	return all
}

// idleNames tells of names that mean nothing in what takes no part in the design:
// in used files, but for the shelf, which is tested by itself, and in what nothing is
// like. All of it is compiled apart, and nothing is made of it.
func (c *compiler) idleNames() {
	var wrong diag.List
	withoutOrders := func(diags *diag.List) *compiler { // a shop's file may serve designs whose tables differ
		apart := newCompiler(Input{Info: c.info, Files: unread{}}, diags)
		apart.Declared = nil
		return apart
	}
	apart := withoutOrders(&wrong)
	for i, f := range c.info.All {
		if f.Shelf {
			continue
		}
		for _, t := range f.Things {
			if c.drafts[t] == nil {
				apart.trying = t // if it is a style
				apart.draft(t)
			}
			if t.Kind.ID == kind.Pattern {
				apart.patternNames(t)
			}
		}
		if i == 0 {
			continue // its lines and lets have been compiled
		}
		apart.trying = nil // no line outside a style speaks of its dimensions
		for _, l := range f.Lines {
			apart.line(nil, l)
		}
		for _, l := range f.Lets {
			apart.Known(l.Stmt.Value, l.Scope)
		}
	}
	apart.stitchesApart()
	c.tell(slices.DeleteFunc(wrong, func(d *diag.Diagnostic) bool { return !meansNothing(d.Code) }), nil)
	if len(apart.absent) == 0 {
		return
	}
	sway := c.swayedThings()
	absent := slices.DeleteFunc(apart.absent, sway.takesOver)
	told := withoutOrders(new(diag.List)).asIfThere(absent)
	c.tell(slices.DeleteFunc(told, func(d *diag.Diagnostic) bool { return !meansNothing(d.Code) || !neverMeans(d.Code) }), sway.doubtful(absent))
}

// meansNothing reports whether a code is that of a name or word that means nothing, or
// not one thing, or of a style's dimension, which it hasn't. Whatever else is wrong may be
// right where the thing is taken.
func meansNothing(code diag.Code) bool {
	return slices.Contains([]diag.Code{"unknown-name", "unknown-function", "two-meanings", "kind-mismatch", "style", "word", "shape", "corner", "corner-form", "grain", "quiet"}, code)
}

// patternNames reports what can't be looked up in a pattern's hole and gaps, of which
// only a row that is like it makes anything.
func (c *compiler) patternNames(t *resolve.Thing) {
	for _, l := range t.Lines {
		if r, ok := l.Stmt.(*ast.Relation); ok && t.Property(r.First) != "" {
			for _, side := range r.Rest {
				c.Known(side.Value, l.Scope)
			}
		}
	}
}

// unread stands for files that nobody asks for: each is empty.
type unread struct{}

func (unread) Use(*source.File, string) (*source.File, error) { return nil, nil }
func (unread) Read(*source.File, string) ([]byte, error)      { return nil, nil }
