package eval

import (
	"path"

	"foredge/eval/orders"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// orderKinds are the words for what a column holds.
func orderKinds() []string { return []string{"text", "count", "length", "angle", "ratio"} }

func orderKind(word string) (unit.Kind, bool) {
	k, ok := map[string]unit.Kind{"text": unit.Text, "count": unit.Count, "length": unit.Length, "angle": unit.Angle, "ratio": unit.Ratio}[word]
	return k, ok
}

func (p *Prepared) readOrders(o *resolve.Orders, instead *OrdersFile) {
	opts := orders.Options{At: o.Path.Span(), Unit: o.File.Unit}
	good := !o.Broken
	if o.Encoding != nil {
		opts.Encoding = o.Encoding.Value
		if !orders.KnownEncoding(opts.Encoding) {
			p.diags.Errorf("encoding", o.Encoding.Span(), "there is no encoding called %q", opts.Encoding).
				WithHelp(`usual ones are "utf-8", "windows-1252", "iso-8859-2", "windows-1251", "macintosh" and "utf-16le"`)
			good = false
		}
	}
	for _, c := range o.Columns {
		col, ok := p.column(c, o.File.Unit)
		opts.Columns = append(opts.Columns, col)
		good = good && ok
	}
	if !good {
		return
	}
	name, data := "", []byte(nil)
	if instead != nil {
		name, data = instead.Name, instead.Data
	} else {
		var err error
		name = path.Join(path.Dir(o.Path.Span().File.Name()), o.Path.Value)
		if data, err = p.files.Read(o.Path.Span().File, o.Path.Value); err != nil {
			p.diags.Fail("file", o.Path.Span(), err, "name a table by its path from this file, inside the design's folder")
			return
		}
	}
	table, diags := orders.Read(name, data, opts)
	p.Orders = table
	p.diags.Add(diags)
}

// column reads `name = text default ""`.
func (p *Prepared) column(c resolve.OrderColumn, bare unit.Unit) (orders.Column, bool) {
	out := orders.Column{Name: c.Name.Name, At: c.Name.At}
	k, ok := orderKind(c.Type.Type.Name)
	if !ok {
		d := p.diags.Errorf("column", c.Type.Type.At, "a column can't hold %q", c.Type.Type.Name)
		if near := spell.Nearest(c.Type.Type.Name, orderKinds()); near != "" {
			d.WithHelp("did you mean %s?", near)
		} else {
			d.WithHelp("it holds %s", spell.Or(orderKinds()))
		}
		return out, false
	}
	out.Kind = k
	fail := func(e ast.Expr) {
		p.diags.Errorf("kind-mismatch", e.Span(), "the column %s holds %s, and its default must be one", out.Name, k.WithArticle()).
			WithHelp("write it as in %s = text default \"\", or copies = count default 1", out.Name)
	}
	switch v := c.Type.Default.(type) {
	case nil:
	case *ast.String:
		if k != unit.Text {
			fail(v)
			return out, false
		}
		out.Default = &orders.Cell{Text: v.Value, At: v.Span()}
	case *ast.Number:
		u := unit.Unit{Kind: k, Size: 1}
		if v.Unit != "" {
			u, _ = unit.Lookup(v.Unit)
		} else if k == unit.Length {
			u = bare
		}
		if k == unit.Text || u.Kind != k || k == unit.Count && (v.Value != float64(int(v.Value)) || v.Value < 0) {
			fail(v)
			return out, false
		}
		out.Default = &orders.Cell{Number: v.Value * u.Size, At: v.Span()}
	case *ast.BadExpr:
		return out, false
	default:
		fail(v)
		return out, false
	}
	return out, true
}
