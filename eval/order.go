package eval

import (
	"path"
	"regexp"

	"foredge/eval/orders"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// A Prepared is a design whose names are resolved and whose orders are read,
// ready to be built for one order after another. It is not changed by that:
// several goroutines may build from it at once, if its [Files] may be asked by
// several.
type Prepared struct {
	// Orders is the table, nil if the design names none or it can't be read.
	Orders *orders.Table

	info  *resolve.Info
	files Files
	diags diag.List // of names and of the table as a whole
}

// An OrdersFile is a table that takes the place of the one that a design names.
type OrdersFile struct {
	Name string // what messages call it
	Data []byte
}

// Prepare resolves a parsed design and reads its orders, from instead if that
// is not nil. What is wrong comes with what [Prepared.Build] reports.
func Prepare(file *ast.File, files Files, instead *OrdersFile) *Prepared {
	p := &Prepared{files: files}
	p.info, p.diags = resolve.Resolve(file, files)
	if o := p.info.Orders; o != nil {
		p.readOrders(o, instead)
	}
	return p
}

// HasOrders reports whether the design names a table of orders.
func (p *Prepared) HasOrders() bool { return p.info.Orders != nil }

// File is the design's own file.
func (p *Prepared) File() *source.File { return p.info.Main.Source }

// Diagnostics are about names and the table as a whole.
func (p *Prepared) Diagnostics() diag.List { return append(diag.List{}, p.diags...) }

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
			d.WithHelp("it holds %s", either(orderKinds()))
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

// Build makes the model for one order, counted from 0; for a design without
// orders, or whose orders can't be read, row is not heeded. What is wrong with
// the row itself is among the diagnostics.
func (p *Prepared) Build(row int) (*Model, diag.List) {
	b := p.builder(p.Diagnostics())
	if p.Orders != nil {
		b.order = &p.Orders.Rows[row]
		b.diags.Add(b.order.Problems)
	}
	b.build()
	return b.Model, b.diags
}

// first notes that only the first of several orders is shown.
func (p *Prepared) first() diag.List {
	var l diag.List
	if p.Orders != nil && len(p.Orders.Rows) > 1 {
		l.Infof("first-order", p.info.Orders.Path.Span(), "this shows the first of %d orders, in line %d", len(p.Orders.Rows), p.Orders.Rows[0].Line).
			WithHelp("foredge batch makes them all")
	}
	return l
}

// orderValue is a column of the order that is being built.
func (b *builder) orderValue(name string, e *ast.Name) (value, bool) {
	o := b.info.Orders
	switch {
	case o == nil:
		b.diags.Errorf("orders", e.Span(), "nothing says where the orders are").
			WithHelp("name their table at the top of the file: orders \"orders.csv\" { %s = text }", name)
		return value{}, false
	case b.table == nil || b.order == nil || !b.order.OK():
		return value{}, false // reported
	}
	i := b.table.Column(name)
	if i < 0 {
		var names []string
		for _, c := range b.table.Columns {
			names = append(names, c.Name)
		}
		d := b.diags.Errorf("unknown-name", e.Parts[1].At, "the orders have no column %q", name).Note(o.At, "they are declared here")
		if near := spell.Nearest(name, names); near != "" {
			d.WithHelp("did you mean %s?", near)
		} else {
			d.WithHelp("add it to the columns there, as in %s = text", name)
		}
		return value{}, false
	}
	c, cell := b.table.Columns[i], b.order.Cells[i]
	v := value{kind: c.Kind, at: e.Span()}
	switch c.Kind {
	case unit.Text:
		v.text = cell.Text
		return v, true
	case unit.Length:
		v.power = 1
	}
	v.expr = relation.C(cell.Number)
	return v, true
}

var orderName = regexp.MustCompile(`\border\.([\pL\pN-]+)`)

// Place is where in the table of orders the reason for a diagnostic stands: the
// cell of the one column that the line at a span speaks of, else the whole row.
func (p *Prepared) Place(row int, at source.Span) source.Span {
	r := &p.Orders.Rows[row]
	place := r.At
	if at.File == r.At.File {
		return at
	}
	found := map[string]bool{}
	for _, m := range orderName.FindAllStringSubmatch(at.Text(), -1) {
		if i := p.Orders.Column(m[1]); i >= 0 && r.Cells != nil {
			found[m[1]] = true
			place = r.Cells[i].At
		}
	}
	if len(found) != 1 || place.File != r.At.File {
		return r.At
	}
	return place
}
