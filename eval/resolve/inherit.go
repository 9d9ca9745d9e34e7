package resolve

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/spell"
)

// expand gives a thing all that like, mirrors and covers bring along, after
// having done so for the things that these name.
func (r *resolver) expand(t *Thing) {
	switch t.state {
	case done:
		return
	case underway:
		// The caller reports the cycle where it was entered.
		return
	}
	t.state = underway
	if t.Decl != nil {
		for _, c := range t.Decl.Clauses {
			if !t.Kind.Allows(c.Word.Name) {
				continue
			}
			switch c.Word.Name {
			case "like", "mirrors":
				r.inherit(t, c)
			case "covers":
				t.Covers = r.clauseThing(t, c, []kind.ID{kind.Notebook})
			}
		}
	}
	for _, c := range t.Children {
		r.expand(c)
	}
	if t.Covers != nil {
		r.cover(t, t.Covers)
	}
	for name, at := range t.Left {
		if _, ok := t.members[name]; !ok && !at.IsZero() {
			d := r.diags.Errorf("without", at, "there is nothing called %q here to leave out", name)
			var names []string
			if t.Like != nil {
				for _, c := range t.Like.Children {
					names = append(names, c.Name)
				}
			}
			suggest(d, name, names, "without leaves out a thing that like, mirrors or covers brought along")
		}
	}
	for name := range t.Left {
		if m := t.members[name]; m.thing != nil && m.thing.CoverOf != nil {
			t.uncovered = append(t.uncovered, name)
		}
		delete(t.members, name)
	}
	kept := t.Children[:0]
	for _, c := range t.Children {
		if _, left := t.Left[c.Name]; !left {
			kept = append(kept, c)
		}
	}
	t.Children = kept
	t.state = done
}

// clauseThing finds the thing that a clause names and sees that it is expanded.
func (r *resolver) clauseThing(t *Thing, c ast.Clause, kinds []kind.ID) *Thing {
	n, ok := c.Target.(*ast.Name)
	if !ok {
		return nil
	}
	sym, problem := t.scope.outer.Lookup(n)
	if problem == nil && sym.Thing == t && t.scope.outer.outer != nil {
		// Nothing is like itself, so its own name means a thing further out.
		if further, none := t.scope.outer.outer.Lookup(n); none == nil {
			sym = further
		}
	}
	if problem != nil {
		r.diags = append(r.diags, problem)
		return nil
	}
	if sym.Broken {
		return nil
	}
	if sym.Thing == nil || sym.Dim != dim.None || !slices.Contains(kinds, sym.Thing.Kind.ID) {
		r.diags.Errorf("clause-target", n.Span(), "%s is not a %s", n.Dotted(), spell.Or(kind.Words(kinds...))).
			WithHelp("write the name of a %s after %s", spell.Or(kind.Words(kinds...)), c.Word.Name)
		return nil
	}
	target := sym.Thing
	// Things within things that are being expanded are ready once their own
	// clauses have been followed; anything else underway closes a circle.
	whole := target
	for top := target; top != nil; top = top.Parent {
		if top.state == underway && (top == target || !within(t, top)) {
			r.diags.Errorf("like-cycle", n.Span(), "%s would be %s itself", t.Path(), likeness(c.Word.Name)).
				Note(top.At, "%s is declared here", top.Path()).
				WithHelp("give one of the things in this circle lines of its own")
			return nil
		}
		if top.state == underway {
			break
		}
		whole = top
	}
	r.expand(whole)
	return target
}

// within reports whether a thing stands somewhere in another.
func within(t, outer *Thing) bool {
	for t = t.Parent; t != nil; t = t.Parent {
		if t == outer {
			return true
		}
	}
	return false
}

func likeness(clause string) string {
	if clause == "mirrors" {
		return "a mirror of"
	}
	return clause
}

// inherit brings along what a like or mirrors clause names.
func (r *resolver) inherit(t *Thing, c ast.Clause) {
	kinds := t.Kind.Like
	if c.Word.Name == "mirrors" {
		kinds = []kind.ID{t.Kind.ID} // a style has no sides
	}
	src := r.clauseThing(t, c, kinds)
	if src == nil {
		return
	}
	t.Like = src
	r.merge(t, src, src, &rebase{from: []*Thing{src}, to: []*Thing{t}, done: map[*Scope]*Scope{}})
	if c.Word.Name == "mirrors" {
		t.Mirrored = !src.Mirrored
	} else {
		t.Mirrored = src.Mirrored
	}
}

// merge puts the lines and things of src before those of t, as far as t does
// not replace them. origin is the thing that the clause names.
func (r *resolver) merge(t, src, origin *Thing, rb *rebase) {
	own := map[string]bool{}
	for _, l := range t.Lines {
		if key := lineKey(l.Stmt); key != "" {
			own[key] = true
		}
	}
	var lines []*Line
	for _, l := range src.Lines {
		if key := lineKey(l.Stmt); key != "" && own[key] {
			continue
		}
		from := l.From
		if from == nil {
			from = src
		}
		lines = append(lines, &Line{Stmt: l.Stmt, Scope: rb.scope(l.Scope), From: from})
	}
	t.Lines = append(lines, t.Lines...)

	if len(t.Marks) == 0 {
		for _, m := range src.Marks {
			t.Marks = append(t.Marks, &Mark{Stmt: m.Stmt, Scope: rb.scope(m.Scope)})
		}
	}
	var lets []*Let
	for _, l := range src.Lets {
		if _, ok := t.members[l.Name]; ok {
			continue
		}
		n := &Let{Name: l.Name, Stmt: l.Stmt, Scope: rb.scope(l.Scope), Owner: t, File: l.File}
		t.members[l.Name] = member{let: n, at: l.Stmt.Name.At}
		lets = append(lets, n)
	}
	t.Lets = append(lets, t.Lets...)

	when := make([]Condition, 0, len(src.When)+len(t.When))
	for _, c := range src.When {
		when = append(when, Condition{c.Expr, rb.scope(c.Scope)})
	}
	// A thing's own condition replaces an inherited one.
	if len(t.When) == 0 {
		t.When = when
	}
	if t.Edge == word.NoEdge {
		t.Edge, t.BadEdge = src.Edge, t.BadEdge || src.BadEdge
	}
	if t.Covers == nil {
		t.Covers = src.Covers
	}
	if t.CoverOf == nil {
		t.CoverOf = src.CoverOf
	}
	t.uncovered = append(t.uncovered, src.uncovered...)
	r.mergeChildren(t, src, origin, rb)
}

func (r *resolver) mergeChildren(t, src, origin *Thing, rb *rebase) {
	var children []*Thing
	placed := map[string]bool{}
	for _, sc := range src.Children {
		m, exists := t.members[sc.Name]
		c := m.thing
		switch {
		case exists && (c == nil || c.Kind != sc.Kind):
			r.diags.Errorf("taken-name", m.at, "%s is a %s in %s, so it can't be something else here", sc.Name, sc.Kind.Name, origin.Path()).
				Note(sc.At, "it is declared there").
				WithHelp("give it another name, or leave the other out with `without %s`", sc.Name)
			continue
		case !exists:
			c = &Thing{Kind: sc.Kind, Name: sc.Name, Decl: nil, At: sc.At, File: sc.File, Parent: t,
				members: map[string]member{}, depth: t.depth + 1}
			c.scope = &Scope{home: c, thing: c, outer: t.scope, file: t.scope.file}
			t.members[c.Name] = member{thing: c, at: sc.At}
		}
		r.merge(c, sc, origin, rb.with(sc, c))
		if c.Decl == nil {
			c.state = done
		}
		children = append(children, c)
		placed[c.Name] = true
	}
	for _, c := range t.Children {
		if !placed[c.Name] {
			children = append(children, c)
		}
	}
	t.Children = children
}

// cover gives a panel a row for each row of the notebook that it covers.
func (r *resolver) cover(t, book *Thing) {
	var rows []*Thing
	for _, br := range book.Children {
		if br.Kind.ID != kind.Row {
			continue
		}
		m, exists := t.members[br.Name]
		c := m.thing
		switch {
		case !exists && slices.Contains(t.uncovered, br.Name):
			continue
		case !exists:
			c = &Thing{Kind: br.Kind, Name: br.Name, At: br.At, File: t.File, Parent: t,
				members: map[string]member{}, state: done, depth: t.depth + 1, When: br.When}
			c.scope = &Scope{home: c, thing: c, outer: t.scope, file: t.scope.file}
			t.members[c.Name] = member{thing: c, at: br.At}
			rows = append(rows, c)
		case c == nil || c.Kind != br.Kind:
			r.diags.Errorf("taken-name", m.at, "%s is a row of the notebook %s, so it can't be something else here", br.Name, book.Path()).
				Note(br.At, "the row is declared here").WithHelp("give this another name")
			continue
		}
		if c.Edge == word.NoEdge {
			c.Edge = br.Edge
		} else if c.Edge != br.Edge {
			r.diags.Errorf("other-edge", c.At, "%s runs along the %s, but the row of the notebook that it lies on runs along the %s", c.Path(), c.Edge, br.Edge).
				Note(br.At, "the notebook's row").WithHelp("leave out `on %s`, or give this row another name", c.Edge)
		}
		c.CoverOf = br
	}
	t.Children = append(rows, t.Children...)
}

// lineKey is the single name that a line states, "" if it isn't of the kind
// that an own line replaces.
func lineKey(s ast.Stmt) string {
	var left ast.Expr
	switch s := s.(type) {
	case *ast.Relation:
		if len(s.Rest) != 1 || s.Rest[0].Op != ast.Eq {
			return ""
		}
		left = s.First
	case *ast.Prefer:
		left = s.Left
	default:
		return ""
	}
	switch left := left.(type) {
	case *ast.Name:
		if n := left.Dotted(); len(left.Parts) == 1 || n == "hole.along" || n == "hole.across" {
			return n
		}
	case *ast.Indexed:
		return left.Word.Name + " " + left.Index.Name
	}
	return ""
}

// A rebase maps the scopes of inherited lines: from[i] becomes to[i].
type rebase struct {
	from, to []*Thing
	done     map[*Scope]*Scope
}

func (rb *rebase) with(from, to *Thing) *rebase {
	n := len(rb.from)
	return &rebase{append(rb.from[:n:n], from), append(rb.to[:n:n], to), map[*Scope]*Scope{}}
}

func (rb *rebase) scope(s *Scope) *Scope {
	if s == nil || s.thing == nil {
		return s
	}
	if n, ok := rb.done[s]; ok {
		return n
	}
	n := s
	for i, from := range rb.from {
		if s.thing == from {
			n = &Scope{home: s.home, thing: rb.to[i], outer: rb.scope(s.outer), file: s.file}
			break
		}
	}
	rb.done[s] = n
	return n
}
