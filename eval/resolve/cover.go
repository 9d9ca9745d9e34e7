package resolve

import (
	"slices"

	"foredge/eval/kind"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// uncover notes that a panel leaves out a row of the notebook that it covers.
func (t *Thing) uncover(name string) {
	if t.uncovered == nil {
		t.uncovered = map[string]bool{}
	}
	t.uncovered[name] = true
}

// row is a row of a notebook by its name, nil if there is none.
func (t *Thing) row(name string) *Thing {
	if c := t.members[name].thing; c != nil && c.Kind.ID == kind.Row {
		return c
	}
	return nil
}

// leaveOther leaves out a row that has its edge only from the notebook that what a panel is like
// covers, where the panel covers another one.
func (t *Thing) leaveOther(row *Thing) {
	book := row.Parent.Covers
	if book == nil || t.Covers == book || book.row(row.Name) == nil || row.Parent.uncovered[row.Name] || t.Covers.row(row.Name) != nil || row.edged() {
		return
	}
	if _, left := t.Left[row.Name]; left {
		return
	}
	if t.Left == nil {
		t.Left = map[string]source.Span{}
	}
	t.Left[row.Name] = t.At
}

// edged reports whether the row, or what it takes over, states an edge of its own.
func (t *Thing) edged() bool {
	if t.Edge != word.NoEdge && !t.laid {
		return true
	}
	if t.likes() {
		for _, c := range t.Decl.Clauses {
			n, named := c.Target.(*ast.Name)
			if !named || c.Word.Name != "like" {
				continue
			}
			if sym, problem := t.inClause(n, t.Kind.Like...); problem != nil || sym.Thing == nil || sym.Thing.Kind == t.Kind {
				return true // a pattern has none
			}
		}
	}
	return slices.ContainsFunc(t.sources, func(s inheritance) bool { return s.src.edged() })
}

// bringRows gives a panel a row for each row of the notebook that it covers.
func (r *resolver) bringRows(t, book *Thing) {
	var rows []*Thing
	for _, br := range book.Children {
		if br.Kind.ID != kind.Row || t.uncovered[br.Name] {
			continue
		}
		m, exists := t.members[br.Name]
		if exists && m.thing != nil && m.thing.Kind == br.Kind {
			m.thing.dropTwins(br)
			if twins := twinsOf(t.ownOf(br.Name), br); twins != nil {
				m.thing.twins = twins
			}
		}
		if exists {
			if !m.broken && (m.thing == nil || m.thing.Kind != br.Kind) {
				r.diags.Errorf("taken-name", m.at, "%s is a row of the notebook %s, so it can't be something else here", br.Name, book.Path()).
					Note(br.At, "the row is declared here").WithHelp("give this another name")
			}
			continue
		}
		if _, left := t.Left[br.Name]; left {
			continue
		}
		if !r.spend(1) {
			break
		}
		c := &Thing{Kind: br.Kind, Name: br.Name, At: br.At, File: t.File, Parent: t,
			members: map[string]member{}, depth: t.depth + 1, When: br.When, follows: true, twins: br.twins}
		c.scope = &Scope{home: c, thing: c, outer: t.scope, file: t.scope.file}
		t.members[c.Name] = member{thing: c, at: br.At}
		rows = append(rows, c)
	}
	t.Children = append(rows, t.Children...)
}

// layOn lays a panel's row on that of the notebook which the panel covers.
func (r *resolver) layOn(t *Thing) {
	if t.Kind.ID != kind.Row || t.Parent.Covers == nil {
		return
	}
	br := t.Parent.Covers.row(t.Name)
	if br == nil || t.Parent.uncovered[t.Name] || !r.open(br) {
		return
	}
	if t.Edge == word.NoEdge || t.laid {
		t.Edge, t.BadEdge, t.laid = br.Edge, t.BadEdge || br.BadEdge, true
		if len(t.When) == 0 || t.follows { // one that says its own edge may stand by itself
			t.When, t.follows = br.When, true
		}
	}
	t.CoverOf = br
}
