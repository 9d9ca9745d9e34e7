package mention

import (
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// gather adds what the texts of a design name, in one of its worlds.
func (x *Index) gather(info *resolve.Info) {
	for _, f := range info.All {
		x.lets(f.Lets)
		x.lines(f.Lines)
		for _, t := range f.Things {
			x.thing(t)
		}
	}
	for _, t := range info.Idle {
		x.thing(t)
	}
	if info.Orders != nil {
		for _, c := range info.Orders.Columns {
			x.add(Mention{At: c.Name.At, Symbol: resolve.Symbol{Order: c.Name.Name}, Declares: true})
		}
	}
}

func (x *Index) add(m Mention) {
	if m.At.File != nil && m.At.End > m.At.Start && !m.Broken {
		x.all[m.At.File] = append(x.all[m.At.File], m)
	}
}

// thing gathers what a thing's own text names.
func (x *Index) thing(t *resolve.Thing) {
	x.families.thing(t)
	if t.Decl != nil {
		x.add(Mention{At: t.Decl.Name.At, Symbol: resolve.Symbol{Thing: t}, Declares: true})
		for _, c := range t.Decl.Clauses {
			x.clause(t, c)
		}
	}
	for _, w := range t.When {
		x.value(w.Expr, w.Scope)
	}
	for name, at := range t.Left {
		x.leftOut(t, name, at)
	}
	x.lets(t.Lets)
	x.lines(t.Lines)
	for _, m := range t.Marks {
		if !m.Scope.Inherited() {
			x.mark(m)
		}
	}
	for _, c := range t.Children {
		x.thing(c)
	}
}

// mark gathers what a mark and its options name. What stands on the left of an option
// is a word.
func (x *Index) mark(m *resolve.Mark) {
	x.value(m.Stmt.Value, m.Scope)
	if m.Stmt.Body == nil {
		return
	}
	for _, s := range m.Stmt.Body.Stmts {
		if r, ok := s.(*ast.Relation); ok {
			x.stated(ofMark, leftWord(r.First), r.Rest, m.Scope)
		}
	}
}

// clause gathers what like, mirrors and covers name.
func (x *Index) clause(t *resolve.Thing, c ast.Clause) {
	name, ok := c.Target.(*ast.Name)
	if !ok {
		return
	}
	var to *resolve.Thing
	switch c.Word.Name {
	case "like", "mirrors":
		to = t.Like
	case "covers":
		to = t.Covers
	}
	for i := len(name.Parts) - 1; i >= 0 && to != nil; i, to = i-1, to.Parent {
		if to.Name != name.Parts[i].Name {
			return
		}
		x.add(Mention{At: name.Parts[i].At, Symbol: resolve.Symbol{Thing: to}})
	}
}

// leftOut adds what `without` names, of what the thing is like or covers.
func (x *Index) leftOut(t *resolve.Thing, name string, at source.Span) {
	i := strings.LastIndex(at.Text(), name)
	if i < 0 {
		return
	}
	at.Start += i
	at.End = at.Start + len(name)
	for _, from := range append(models(t), t.Covers) {
		if from == nil {
			continue
		}
		if c, _ := from.Member(name); c != nil {
			x.add(Mention{At: at, Symbol: resolve.Symbol{Thing: c}})
			return
		}
	}
}

func (x *Index) lets(lets []*resolve.Let) {
	for _, l := range lets {
		if l.Scope.Inherited() {
			continue
		}
		x.add(Mention{At: l.Stmt.Name.At, Symbol: resolve.Symbol{Let: l}, Declares: true})
		x.value(l.Stmt.Value, l.Scope)
	}
}

func (x *Index) lines(lines []*resolve.Line) {
	for _, l := range lines {
		switch {
		case l.Scope.Inherited():
		case l.Written != nil:
			x.stmt(l.Written, l.Scope)
		default:
			x.stmt(l.Stmt, l.Scope)
		}
	}
}

// stmt gathers what a line names. What stands alone on its left is what it is about.
func (x *Index) stmt(s ast.Stmt, in *resolve.Scope) {
	switch s := s.(type) {
	case *ast.Relation:
		if of, prop := x.property(s.First, in); prop != "" {
			x.stated(of, prop, s.Rest, in)
			return
		}
		counted := x.about(s.First, in)
		for _, side := range s.Rest {
			if n, ok := side.Value.(*ast.Name); !ok || !counted || n.Dotted() != most {
				x.value(side.Value, in)
			}
		}
	case *ast.Prefer:
		x.about(s.Left, in)
		x.value(s.Right, in)
		x.value(s.Weight, in)
	case *ast.Check:
		x.value(s.Cond, in)
		x.value(s.Message, in)
	}
}

// about gathers what a line is about; counted says that this may be stated to be most.
func (x *Index) about(e ast.Expr, in *resolve.Scope) (counted bool) {
	if n, ok := e.(*ast.Name); ok {
		if sym, problem := in.Subject(n); problem == nil {
			x.parts(n, sym)
			return slices.Contains([]dim.Name{dim.Count, dim.Across, dim.Down}, sym.Dim)
		}
	}
	x.value(e, in)
	return false
}

// property says which property a line states, and of which kind of thing, and adds the
// things by which that is named, as in seal.shape = round 5; "" if it states none. Of
// dimensions only those are among them that can be a word.
func (x *Index) property(left ast.Expr, in *resolve.Scope) (stater, string) {
	switch left := left.(type) {
	case *ast.Indexed:
		return ofThing, left.Word.Name
	case *ast.Name:
		last := len(left.Parts) - 1
		word := left.Parts[last].Name
		if t := in.Thing(); last == 0 && t != nil && t.Kind.Has(word) {
			return ofThing, word
		}
		if last == 0 {
			break
		}
		if sym, means := in.Means(left); means && !sym.Broken {
			break // a dimension of that thing
		}
		outer := &ast.Name{Parts: left.Parts[:last]}
		if sym, problem := in.LookupThing(outer); problem == nil && sym.Thing != nil && sym.Dim == dim.None && sym.Thing.Kind.Has(word) {
			x.parts(outer, sym)
			return ofThing, word
		}
	}
	return ofThing, ""
}

// stated gathers what is named where a property or option is stated: a word is none.
func (x *Index) stated(of stater, prop string, sides []ast.Side, in *resolve.Scope) {
	for _, side := range sides {
		values := []ast.Expr{side.Value}
		if list, ok := side.Value.(*ast.List); ok {
			values = list.Elems
		}
		for _, v := range values {
			n, alone := v.(*ast.Name)
			switch {
			case alone && isWord(of, prop, n.Dotted()):
			case alone && namesThing(prop):
				if sym, problem := in.LookupThing(n); problem == nil {
					x.parts(n, sym)
				}
			default:
				x.value(v, in)
			}
		}
	}
}

// value gathers what an expression names.
func (x *Index) value(e ast.Expr, in *resolve.Scope) {
	if e == nil {
		return
	}
	ast.Walk(e, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if ok {
			sym, means := in.Means(name)
			if !means { // behind numbers, as in 148 = width, it may be what the line is about
				about, problem := in.Subject(name)
				if problem != nil {
					return false
				}
				sym = about
			}
			x.parts(name, sym)
		}
		return !ok
	})
}

// parts adds a mention of what a whole name stands for, at its last part, and of the
// things that its other parts name.
func (x *Index) parts(n *ast.Name, sym resolve.Symbol) {
	last := len(n.Parts) - 1
	from := last
	if words := sym.Dim.String(); sym.Dim != dim.None && last > 0 && (sym.Gap != "" || words == n.Parts[last-1].Name+"."+n.Parts[last].Name) {
		from = last - 1 // hole.along is one dimension
	}
	x.add(Mention{At: n.Parts[from].At.To(n.Parts[last].At), Symbol: sym})
	t := sym.Thing
	switch {
	case sym.Let != nil:
		t = sym.Let.Owner
	case sym.Dim == dim.None && t != nil:
		t = t.Parent
	}
	if sym.Cell != (resolve.Cell{}) {
		from = max(0, from-2)
	}
	for i := from - 1; i >= 0 && t != nil && t.Name == n.Parts[i].Name; i, t = i-1, t.Parent {
		x.add(Mention{At: n.Parts[i].At, Symbol: resolve.Symbol{Thing: t}})
	}
}
