package expr

import (
	"foredge/eval/orders"
	"foredge/eval/relation"
	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// column is the value of a column in the order that is being built.
func (c *Compiler) column(name string, e *ast.Name) (Value, bool) {
	switch {
	case c.Declared == nil:
		c.Diags.Errorf("no-table", e.Span(), "nothing says where the orders are").
			WithHelp("name their table at the top of the file: orders \"orders.csv\" { %s = text }", name)
		return Value{}, false
	case c.Orders == nil || c.Order == nil || !c.Order.OK():
		return Value{}, false // reported
	}
	i := c.Orders.Column(name)
	if i < 0 && name == orders.TagColumn {
		return Value{Kind: unit.Text, At: e.Span(), Text: c.Order.Number, Base: c.Declared.File.Source}, true
	}
	if i < 0 {
		var names []string
		for _, col := range c.Orders.Columns {
			names = append(names, col.Name)
		}
		d := c.Diags.Errorf("unknown-name", e.Parts[1].At, "the orders have no column %q", name).Note(c.Declared.At, "they are declared here")
		if near := spell.Nearest(name, names); near != "" {
			d.Meant(name, near)
		} else {
			d.WithHelp("add it to the columns there, as in %s = text", name)
		}
		return Value{}, false
	}
	col, cell := c.Orders.Columns[i], c.Order.Cells[i]
	v := Value{Kind: col.Kind, At: e.Span()}
	switch col.Kind {
	case unit.Text:
		v.Text, v.Base = cell.Text, c.Declared.File.Source
		return v, true
	case unit.Length:
		v.Power = 1
	}
	v.Expr = relation.C(cell.Number)
	return v, true
}
