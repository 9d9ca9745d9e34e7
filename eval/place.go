package eval

import (
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// Place is where in the table of orders the reason for a diagnostic stands: the
// cell of the one column on which what is written at a span rests, by way of
// named values too, else the whole row.
func (p *Prepared) Place(row int, at source.Span) source.Span {
	r := &p.Orders.Rows[row]
	if at.File == r.At.File {
		return at
	}
	columns := columnsOf{names: map[string]bool{}, seen: map[*resolve.Let]bool{}}
	for _, w := range p.places {
		if span := w.node.Span(); span.File == at.File && span.Start < at.End && at.Start < span.End {
			columns.add(w.node, w.scope, at)
		}
	}
	place, found := r.At, 0
	for name := range columns.names {
		if i := p.Orders.Column(name); i >= 0 && r.Cells != nil {
			place = r.Cells[i].At
			found++
		}
	}
	if found != 1 || place.File != r.At.File {
		return r.At
	}
	return place
}

// A written is a line, a mark, a condition or a let with the scope in which its
// names are read.
type written struct {
	node  ast.Node
	scope *resolve.Scope
}

// writtenIn lists all that is written in a design and may speak of orders.
func writtenIn(info *resolve.Info) []written {
	var all []written
	lines := func(lines []*resolve.Line, lets []*resolve.Let) {
		for _, l := range lines {
			all = append(all, written{l.Stmt, l.Scope})
		}
		for _, l := range lets {
			all = append(all, written{l.Stmt, l.Scope})
		}
	}
	var things func(list []*resolve.Thing)
	things = func(list []*resolve.Thing) {
		for _, t := range list {
			lines(t.Lines, t.Lets)
			for _, m := range t.Marks {
				all = append(all, written{m.Stmt, m.Scope})
			}
			for _, w := range t.When {
				all = append(all, written{w.Expr, w.Scope})
			}
			things(t.Children)
		}
	}
	for _, f := range info.All {
		if !f.Shelf {
			lines(f.Lines, f.Lets)
			things(f.Things)
		}
	}
	return all
}

// columnsOf gathers the columns of the orders on which names rest.
type columnsOf struct {
	names map[string]bool
	seen  map[*resolve.Let]bool
}

// add takes the names that stand below a node, of those only what lies within a
// span.
func (c *columnsOf) add(n ast.Node, s *resolve.Scope, within source.Span) {
	ast.Walk(n, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if at := n.Span(); !ok || at.Start < within.Start || at.End > within.End {
			return !ok
		}
		sym, problem := s.Lookup(name)
		switch {
		case problem != nil:
		case sym.Order != "":
			c.names[sym.Order] = true
		case sym.Let != nil && !c.seen[sym.Let]:
			c.seen[sym.Let] = true
			value := sym.Let.Stmt.Value
			c.add(value, sym.Let.Scope, value.Span())
		}
		return false
	})
}
