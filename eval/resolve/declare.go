package resolve

import (
	"foredge/eval/kind"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/spell"
)

// declare makes the thing that a declaration states, with its own lines but
// nothing inherited yet. It returns nil for what it had to report.
func (r *resolver) declare(d *ast.Decl, f *File, parent *Thing) *Thing {
	k := kind.Find(d.Kind.Name)
	if k == nil {
		e := r.diags.Errorf("unknown-kind", d.Kind.At, "there is no kind of thing called %q", d.Kind.Name)
		suggest(e, d.Kind.Name, kind.Names(), "the kinds are "+spell.Or(kind.Names()))
		r.broken(d, f, parent)
		return nil
	}
	if k.ID == kind.Orders && parent != nil {
		r.diags.Errorf("misplaced", d.Kind.At, "orders can't go in a %s: they belong to the whole design", parent.Kind.Name).
			WithHelp("move them out of the braces, to the top of the file")
		return nil
	}
	if !r.placed(d, k, parent) {
		r.broken(d, f, parent)
		return nil
	}
	switch k.ID {
	case kind.Orders:
		r.orders(d, f)
		return nil
	case kind.Job:
		r.job(d)
		return nil
	}
	if d.Name.Name == "" {
		e := r.diags.Errorf("name", d.Span(), "this %s has no name", k.Name)
		if d.Title != nil {
			e.WithHelp("what stands in quotes is a text: write the name without them, as in %s front", k.Name)
		} else {
			e.WithHelp("give it one after the word %s, so that others can refer to it", k.Name)
		}
		return nil
	}
	t := &Thing{Kind: k, Name: d.Name.Name, Decl: d, At: source.Span{}, File: f, Parent: parent,
		members: map[string]member{}, Left: map[string]source.Span{}}
	t.At = d.Kind.At.To(d.Name.At)
	outer, members := f.scope, f.members
	if parent != nil {
		t.depth = parent.depth + 1
		outer, members = parent.scope, parent.members
		if parent.Kind.Takes(t.Name) {
			r.diags.Errorf("taken-name", d.Name.At, "%q is already the name of something that every %s has", t.Name, parent.Kind.Name).
				WithHelp("give this %s another name", k.Name)
			return nil
		}
	}
	t.scope = &Scope{home: t, thing: t, outer: outer, file: f}
	rivals := &f.rivals
	if parent != nil {
		rivals = &parent.rivals
	}
	if !r.compete(rivals, members[t.Name].thing, t) && !r.add(members, d.Name, member{thing: t, at: d.Name.At}, parent) {
		return nil
	}
	r.clauses(t, d)
	if d.Body != nil {
		r.body(t, d.Body)
	}
	return t
}

// broken notes the name of a declaration that was reported as wrong, so that
// lines that speak of it are passed over.
func (r *resolver) broken(d *ast.Decl, f *File, parent *Thing) {
	if k := kind.Find(d.Kind.Name); k != nil && k.ID == kind.Orders {
		f.noOrders = true
	}
	members := f.members
	if parent != nil {
		members = parent.members
	}
	if _, taken := members[d.Name.Name]; !taken && d.Name.Name != "" {
		members[d.Name.Name] = member{at: d.Name.At, broken: true}
	}
}

// placed reports a kind that stands where it can't.
func (r *resolver) placed(d *ast.Decl, k *kind.Kind, parent *Thing) bool {
	switch {
	case parent == nil && !k.Top && !k.Template:
		r.diags.Errorf("misplaced", d.Kind.At, "%s can't be on its own: it belongs in a %s", k.One(), spell.Or(kind.Words(k.Within...))).
			WithHelp("put it in the braces of the %s that it belongs to", k.Within[0])
		return false
	case parent != nil && !k.In(parent.Kind.ID):
		e := r.diags.Errorf("misplaced", d.Kind.At, "%s can't go in a %s", k.One(), parent.Kind.Name)
		if k.Top {
			e.WithHelp("move it out of the braces, to the top of the file")
		} else {
			e.WithHelp("%s belongs in a %s", k.One(), spell.Or(kind.Words(k.Within...)))
		}
		return false
	}
	return true
}

// body sorts the statements of a thing's braces.
func (r *resolver) body(t *Thing, b *ast.Block) {
	for _, s := range b.Stmts {
		switch s := s.(type) {
		case *ast.Decl:
			if c := r.declare(s, t.File, t); c != nil {
				t.Children = append(t.Children, c)
			}
		case *ast.Let:
			l := &Let{Name: s.Name.Name, Stmt: s, Scope: t.scope, Owner: t, File: t.File}
			if _, ok := t.Kind.Dim(l.Name); ok {
				r.diags.Errorf("taken-name", s.Name.At, "%q is the word for a dimension of a %s", l.Name, t.Kind.Name).
					WithHelp("write `%s = ...` to state it, or give the let another name", l.Name)
				continue
			}
			if r.addLet(t.members, l, t) {
				t.Lets = append(t.Lets, l)
			}
		case *ast.Relation, *ast.Prefer, *ast.Check:
			t.Lines = append(t.Lines, &Line{Stmt: s, Scope: t.scope})
		case *ast.Mark:
			if !t.Kind.Marks {
				r.diags.Errorf("misplaced", s.Span(), "%s %s can't go in a %s", s.Verb.Name, s.What.Name, t.Kind.Name).
					WithHelp("put it in a region of the panel, which says where it goes")
				continue
			}
			t.Marks = append(t.Marks, &Mark{Stmt: s, Scope: t.scope})
		case *ast.Without:
			t.Left[s.Name.Name] = s.Name.At
		case *ast.Units:
			r.diags.Errorf("first-line", s.Span(), "units applies to the whole file and can't go in a %s", t.Kind.Name).
				WithHelp("move it to the first line of the file, or give single lengths their unit: 7 3/8 in")
		case *ast.Use:
			r.diags.Errorf("misplaced", s.Span(), "use can't go in a %s", t.Kind.Name).
				WithHelp("move it to the top of the file")
		}
	}
}

// addLet puts a named value into a place. One that states a reading is no value: it
// is reported, used or not, and what speaks of it passed over.
func (r *resolver) addLet(members map[string]member, l *Let, in *Thing) bool {
	m := member{let: l, at: l.Stmt.Name.At}
	values := []ast.Expr{l.Stmt.Value}
	if choice, ok := l.Stmt.Value.(*ast.Choice); ok {
		values = values[:0]
		for _, o := range choice.Options {
			values = append(values, o.Value)
		}
	}
	for _, v := range values {
		switch v := v.(type) {
		case *ast.List:
			r.diags.Errorf("kind-mismatch", v.Span(), "there are several values here, and a let names one").
				WithHelp("repeated readings belong in the line that was read, in a notebook; here state one value")
		case *ast.Stated:
			r.diags.Errorf("kind-mismatch", v.Span(), "± and exact belong to what was read, and a let names a value").
				WithHelp("take it out here, and write it behind %s in the line of the notebook", l.Name)
		default:
			continue
		}
		m = member{at: m.at, broken: true}
	}
	return r.add(members, l.Stmt.Name, m, in) && !m.broken
}

// clauses checks the clauses of a declaration and notes those that name no
// other thing; the others are followed when the thing is expanded.
func (r *resolver) clauses(t *Thing, d *ast.Decl) {
	seen := map[string]source.Span{}
	for _, c := range d.Clauses {
		clause := c.Word.Name
		if at, ok := seen[clause]; ok {
			r.diags.Errorf("stated-twice", c.Span(), "%s is here twice", clause).Note(at, "the first is here").
				WithHelp("take one of them out")
			continue
		}
		seen[clause] = c.Span()
		if !t.Kind.Allows(clause) {
			r.diags.Errorf("clause", c.Span(), "%s can't have `%s`", t.Kind.One(), clause).
				WithHelp("%s", clauseHelp(t.Kind, clause))
			continue
		}
		switch clause {
		case "on":
			n, ok := c.Target.(*ast.Name)
			t.BadEdge = !ok
			if ok {
				if edge, known := word.Find(n.Dotted(), word.Edges()...); known {
					t.Edge = edge
				} else {
					edges := word.Strings(word.Edges()...)
					e := r.diags.Errorf("edge", n.Span(), "there is no edge called %q", n.Dotted())
					suggest(e, n.Dotted(), edges, "the edges are "+spell.Or(edges))
					t.BadEdge = true
				}
			}
		case "like", "mirrors":
			top := t
			for top.Parent != nil {
				top = top.Parent
			}
			top.inherits = true
		case "when":
			t.When = append(t.When, Condition{Expr: c.Target, Scope: t.scope.outer, words: wordsOf(c.Target)})
		}
	}
	if l, ok := seen["like"]; ok {
		if m, ok := seen["mirrors"]; ok {
			r.diags.Errorf("clause", m, "a panel can be like another or mirror it, not both").Note(l, "like is here").
				WithHelp("mirrors brings along all that like does, with the spine on the other side")
		}
	}
}

func clauseHelp(k *kind.Kind, clause string) string {
	switch {
	case clause == "on":
		return "only a row and tabs run along an edge"
	case clause == "covers" || clause == "mirrors":
		return "only a panel " + clause + " something"
	case len(k.Clauses) == 0:
		return "only its name may come before the brace"
	}
	return "before its brace there may be " + spell.Or(k.Clauses)
}
