package resolve

import (
	"maps"
	"slices"
	"strings"

	"foredge/lang/ast"
	"foredge/lang/source"
)

// Orders is the table of customers' orders that a design names.
type Orders struct {
	Path     *ast.String
	At       source.Span // where it is declared
	File     *File       // in which it is declared
	Columns  []OrderColumn
	Encoding *ast.String // nil where not stated
	// Comma says that a comma stands before the decimals of the table's numbers.
	Comma bool
	// Clean says that texts are to be cleaned of what customers didn't write.
	Clean          bool
	decimal, clean *ast.Column // what says so, nil where not stated
	// Broken says that part of its declaration was reported as wrong.
	Broken bool
}

// An OrderColumn is one column of the table.
type OrderColumn struct {
	Name ast.Ident
	Type *ast.Column
}

// orders notes the table of orders that a file declares. A design has one.
func (r *resolver) orders(d *ast.Decl, f *File) {
	f.noOrders = true // until all is well
	at := d.Kind.At
	if d.Title == nil {
		r.diags.Errorf("orders-file", d.Span(), "nothing says which file the orders are in").
			WithHelp(`name it in quotes, as in orders "orders.csv" { name = text }`)
		return
	}
	at = at.To(d.Title.Span())
	for _, c := range d.Clauses {
		r.diags.Errorf("clause", c.Span(), "orders can't have `%s`", c.Word.Name).WithHelp("only the file's name may come before its brace")
	}
	if r.info.Orders != nil {
		r.diags.Errorf("two-tables", at, "a design has one table of orders").Note(r.info.Orders.At, "the first is here").
			WithHelp("take one of them out")
		return
	}
	o := &Orders{Path: d.Title, At: at, File: f, Broken: len(d.Clauses) > 0}
	r.info.Orders = o
	if d.Body == nil || len(d.Body.Stmts) == 0 {
		r.diags.Errorf("orders-columns", at, "nothing says which columns the orders have").
			WithHelp(`list them in braces, as in orders "orders.csv" { name = text; copies = count default 1 }`)
		o.Broken = true
		return
	}
	for _, s := range d.Body.Stmts {
		r.orderColumn(o, s)
	}
	f.noOrders = o.Broken
}

// orderColumn reads `name = text default ""`, or `encoding = "windows-1252"`.
func (r *resolver) orderColumn(o *Orders, s ast.Stmt) {
	fail := func() {
		o.Broken = true
		if _, bad := s.(*ast.BadStmt); bad {
			return
		}
		r.diags.Errorf("orders-columns", s.Span(), "this line doesn't describe a column of the orders").
			WithHelp("a line here names a column and what it holds, as in name = text, or copies = count default 1")
	}
	rel, ok := s.(*ast.Relation)
	if !ok || len(rel.Rest) != 1 || rel.Rest[0].Op != ast.Eq {
		fail()
		return
	}
	name, ok := rel.First.(*ast.Name)
	if !ok || len(name.Parts) != 1 {
		fail()
		return
	}
	switch v := rel.Rest[0].Value.(type) {
	case *ast.String:
		if name.Dotted() != "encoding" || o.Encoding != nil {
			fail()
			return
		}
		o.Encoding = v
	case *ast.Column:
		if name.Dotted() == "decimal" && r.decimalMark(o, rel, v) || name.Dotted() == "clean" && r.cleaning(o, rel, v) {
			return
		}
		for _, c := range o.Columns {
			if c.Name.Name == name.Dotted() {
				r.diags.Errorf("twice", name.Span(), "there are two columns called %q", name.Dotted()).Note(c.Name.At, "the first is here").
					WithHelp("take one of them out")
				o.Broken = true
				return
			}
		}
		o.Columns = append(o.Columns, OrderColumn{name.Parts[0], v})
	default:
		fail()
	}
}

// decimalMark reads `decimal = comma`. A column may have that name too: false
// then.
func (r *resolver) decimalMark(o *Orders, rel *ast.Relation, v *ast.Column) bool {
	word := v.Type.Name
	if word != "comma" && word != "point" {
		return false
	}
	r.once(o, "decimal", rel, v, o.decimal)
	o.Comma, o.decimal = word == "comma", v
	return true
}

// cleaning reads `clean = yes`. A column may have that name too: false then.
func (r *resolver) cleaning(o *Orders, rel *ast.Relation, v *ast.Column) bool {
	word := v.Type.Name
	if word != "yes" && word != "no" {
		return false
	}
	r.once(o, "clean", rel, v, o.clean)
	o.Clean, o.clean = word == "yes", v
	return true
}

// once reports what is said twice of all the table, or as if of a column.
func (r *resolver) once(o *Orders, name string, rel *ast.Relation, v, before *ast.Column) {
	switch {
	case before != nil:
		r.diags.Errorf("stated-twice", rel.Span(), "%s is stated twice", name).Note(before.Span(), "the first is here").
			WithHelp("take one of them out")
		o.Broken = true
	case v.Default != nil:
		r.diags.Errorf("orders-columns", v.Default.Span(), "%s = %s has no default", name, v.Type.Name).WithHelp("take the default out")
		o.Broken = true
	case v.From != nil:
		r.diags.Errorf("orders-columns", v.Span(), "%s = %s is no column, so it has no heading", name, v.Type.Name).WithHelp("take the heading out")
		o.Broken = true
	}
}

// ColumnsUsed are the columns of the orders of which the design's files speak, in
// what takes part or not.
func (i *Info) ColumnsUsed() map[string]bool {
	used := map[string]bool{}
	i.walkAll(func(n ast.Node) bool {
		if column, is := columnOf(n); is {
			used[column] = true
		}
		return true
	})
	return used
}

// TextsAsked are the texts with which the design's files compare each column of the orders, in
// what takes part or not.
func (i *Info) TextsAsked() map[string][]*ast.String {
	asked := map[string][]*ast.String{}
	i.walkAll(func(n ast.Node) bool {
		if b, ok := n.(*ast.Binary); ok && (b.Op == ast.Eq || b.Op == ast.Ne) {
			for _, sides := range [2][2]ast.Expr{{b.L, b.R}, {b.R, b.L}} {
				column, is := columnOf(sides[0])
				if text, isText := sides[1].(*ast.String); is && isText {
					asked[column] = append(asked[column], text)
				}
			}
		}
		return true
	})
	return asked
}

// columnOf is the column of the orders that a name speaks of.
func columnOf(n ast.Node) (column string, is bool) {
	name, ok := n.(*ast.Name)
	if !ok || len(name.Parts) < 2 || name.Parts[0].Name != "order" {
		return "", false
	}
	return name.Parts[1].Name, true
}

// walkAll visits all that stands in the design's files, its own first.
func (i *Info) walkAll(visit func(ast.Node) bool) {
	trees := []*ast.File{i.tree}
	for _, f := range slices.SortedFunc(maps.Keys(i.trees), func(a, b *source.File) int { return strings.Compare(a.Name(), b.Name()) }) {
		trees = append(trees, i.trees[f])
	}
	for _, tree := range trees {
		for _, s := range tree.Stmts {
			ast.Walk(s, visit)
		}
	}
}
