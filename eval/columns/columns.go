package columns

import (
	"path"
	"slices"
	"strconv"

	"foredge/eval/orders"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// A File is a table that takes the place of the one that a design names.
type File struct {
	Name string // what messages call it
	Data []byte
}

// Read reads the table that a design declares, from instead if that is not nil. Used
// are the columns of which the design speaks. It gives nil for one that can't be read.
func Read(o *resolve.Orders, used map[string]bool, files resolve.Files, instead *File) (*orders.Table, diag.List) {
	var diags diag.List
	opts, good := options(o, &diags)
	if opts.Counts = counts(opts.Columns, used, &diags); !good || diags.HasErrors() {
		return nil, diags
	}
	name, data := "", []byte(nil)
	if instead != nil {
		name, data = instead.Name, instead.Data
	} else {
		var err error
		name = path.Join(path.Dir(o.Path.Span().File.Name()), o.Path.Value)
		if data, err = files.Read(o.Path.Span().File, o.Path.Value); err != nil {
			diags.Fail("file", o.Path.Span(), err, "name a table by its path from this file, inside the design's folder")
			return nil, diags
		}
	}
	table, more := orders.Read(name, data, opts)
	diags.Add(more)
	return table, diags
}

// counts finds the column that says how often an order is made, where no count is called
// copies: a count that is named by a usual word for that, before one whose word could mean
// other things too and of which the design speaks nowhere else. It is "" for none; two that
// are as good are an error.
func counts(columns []orders.Column, used map[string]bool, diags *diag.List) string {
	var sure, maybe []orders.Column
	for _, c := range columns {
		switch {
		case c.Kind != unit.Count:
		case c.Name == orders.CopiesColumn:
			return ""
		case orders.SurelyCopies(c.Name):
			sure = append(sure, c)
		case orders.MeansCopies(c.Name) && !used[c.Name]:
			maybe = append(maybe, c)
		}
	}
	which := sure
	if len(sure) == 0 {
		which = maybe
	}
	switch len(which) {
	case 0:
		return ""
	case 1:
		return which[0].Name
	}
	diags.Errorf("two-columns", which[1].At, "both %s and %s may say how often an order is made", which[0].Name, which[1].Name).
		Note(which[0].At, "%s is declared here", which[0].Name).
		WithHelp("call the one that says it copies, as in copies = count from %q; if a table has one or the other, let one column be from both headings", which[0].Name)
	return ""
}

// Idle tells of columns that a design declares and no line of it uses. A text may be meant
// for the tickets and the packing list, on which all declared columns stand; a number is
// hardly declared for these.
func Idle(t *orders.Table, used map[string]bool) diag.List {
	var diags diag.List
	for name := range used {
		if t.Column(name) < 0 && name != orders.TagColumn {
			return nil // it is told that there is none, and may be that which nothing uses
		}
	}
	label := t.LabelColumn()
	for i, c := range t.Columns {
		if used[c.Name] || i == label || c.Name == orders.NumberColumn || (c.Name == orders.CopiesColumn || c.Name == t.Counts) && c.Kind == unit.Count {
			continue
		}
		copies := t.Column(orders.CopiesColumn) < 0 && t.Counts == "" && orders.MeansCopies(c.Name) || c.Name == orders.CopiesColumn
		tell := diags.Warnf
		if c.Kind == unit.Text && !copies {
			tell = diags.Infof
		}
		d := tell("idle-column", c.At, "no line of the design uses the column %s of the orders, so it only stands on the tickets and the packing list", c.Name).
			WithHelp("to letter it, or to have something depend on it, speak of it as order.%s", c.Name)
		if copies {
			d.WithHelp("if it says how often an order is made, let it hold a count, as in copies = count default 1")
		}
	}
	return diags
}

// options are how the table is to be read; false if that is stated wrongly.
func options(o *resolve.Orders, diags *diag.List) (orders.Options, bool) {
	opts := orders.Options{At: o.Path.Span(), Unit: o.File.Unit, Comma: o.Comma, Clean: o.Clean}
	good := !o.Broken
	if o.Encoding != nil {
		opts.Encoding = o.Encoding.Value
		if !orders.KnownEncoding(opts.Encoding) {
			diags.Errorf("unknown-encoding", o.Encoding.Span(), "there is no encoding called %q", opts.Encoding).
				WithHelp(`usual ones are "utf-8", "windows-1252", "iso-8859-2", "windows-1251", "macintosh" and "utf-16le"`)
			good = false
		}
	}
	for _, c := range o.Columns {
		col, ok := column(c, o.File.Unit, diags)
		opts.Columns = append(opts.Columns, col)
		good = good && ok
	}
	return opts, good
}

// kinds are what a column may hold.
func kinds() []unit.Kind {
	return []unit.Kind{unit.Text, unit.Count, unit.Length, unit.Angle, unit.Ratio}
}

// kindOf finds what a column holds by its word.
func kindOf(word string) (k unit.Kind, words []string, ok bool) {
	for _, known := range kinds() {
		words = append(words, known.String())
		if known.String() == word {
			k, ok = known, true
		}
	}
	return k, words, ok
}

// column reads `name = text default ""`.
func column(c resolve.OrderColumn, bare unit.Unit, diags *diag.List) (orders.Column, bool) {
	out := orders.Column{Name: c.Name.Name, At: c.Name.At}
	var from, listed bool
	if out.From, from = texts(c.Type.From, "a heading of the table", `name = text from "Text (line 1)"`, diags); !from {
		return out, false
	}
	if c.Type.Values != nil {
		if out.Values, listed = texts(c.Type.Values, "what a column may hold", `motif = one of "fox", "owl"`, diags); !listed || !distinct(c.Type.Values, out.Values, diags) {
			return out, false
		}
		out.Kind = unit.Text
		return withDefault(out, c, bare, diags)
	}
	k, words, ok := kindOf(c.Type.Type.Name)
	if !ok {
		d := diags.Errorf("column-kind", c.Type.Type.At, "a column can't hold %q", c.Type.Type.Name)
		if out.Name == "decimal" {
			d.WithHelp("for the sign before decimals write decimal = comma or decimal = point; a column holds %s", spell.Or(words))
		} else if near := spell.Nearest(c.Type.Type.Name, words); near != "" {
			d.Meant(c.Type.Type.Name, near)
		} else {
			d.WithHelp("it holds %s", spell.Or(words))
		}
		return out, false
	}
	if out.Name == orders.NumberColumn && k != unit.Text && k != unit.Count {
		// Names of files have none of its decimals: 12.2 and 12.3 would be one order.
		diags.Errorf("column-kind", c.Type.Type.At, "the orders' own numbers are texts or counts, not %ss", k).
			WithHelp(`write number = text; for what isn't the order's number take another name, as in size = %s from "number"`, k)
		return out, false
	}
	out.Kind = k
	return withDefault(out, c, bare, diags)
}

// texts reads a list of texts in quotes.
func texts(list []ast.Expr, what, example string, diags *diag.List) (out []string, ok bool) {
	for _, e := range list {
		text, is := e.(*ast.String)
		if !is {
			if _, bad := e.(*ast.BadExpr); !bad {
				diags.Errorf("orders-columns", e.Span(), "%s stands in quotes", what).WithHelp("write it as in %s", example)
			}
			return nil, false
		}
		out = append(out, text.Value)
	}
	return out, true
}

// distinct makes sure that no two values of a list are one but for capitals and blanks.
func distinct(list []ast.Expr, values []string, diags *diag.List) bool {
	for i, v := range values {
		for k := range i {
			if orders.Alike(v, values[k]) {
				diags.Errorf("twice", list[i].Span(), "this value stands in the list twice, as capitals and blanks don't count").
					Note(list[k].Span(), "the first is here").WithHelp("take one of them out")
				return false
			}
		}
	}
	return true
}

// withDefault reads the default of a column.
func withDefault(out orders.Column, c resolve.OrderColumn, bare unit.Unit, diags *diag.List) (orders.Column, bool) {
	if c.Type.Default == nil {
		return out, true
	}
	var ok bool
	if out.Default, ok = standard(out.Kind, c.Type.Default, bare); !ok {
		if _, bad := c.Type.Default.(*ast.BadExpr); !bad {
			kind, example := out.Kind.String(), usual(out.Kind, bare)
			if len(out.Values) > 0 {
				kind, example = "one of ...", strconv.Quote(out.Values[0])
			}
			diags.Errorf("kind-mismatch", c.Type.Default.Span(), "the column %s holds %s, so its default can't be %s", out.Name, out.Kind.WithArticle(), c.Type.Default.Span().Short()).
				WithHelp("write it as in %s = %s default %s", out.Name, kind, example)
		}
		return out, false
	}
	if out.Values == nil {
		return out, true
	}
	i := slices.IndexFunc(out.Values, func(v string) bool { return orders.Alike(v, out.Default.Text) })
	if i < 0 {
		diags.Errorf("not-listed", c.Type.Default.Span(), "the default is none of what %s may be", out.Name).WithHelp("add it to the list, or take another")
		return out, false
	}
	out.Default.Text = out.Values[i]
	return out, true
}

// usual is how a default of a kind is written, a length in the unit of the file.
func usual(k unit.Kind, bare unit.Unit) string {
	switch k {
	case unit.Text:
		return `""`
	case unit.Count:
		return "1"
	case unit.Angle:
		return "30 deg"
	case unit.Ratio:
		return "50 %"
	default:
		return unit.Example(10, bare)
	}
}

// standard reads the default of a column that holds values of a kind.
func standard(k unit.Kind, e ast.Expr, bare unit.Unit) (*orders.Cell, bool) {
	switch v := e.(type) {
	case *ast.String:
		return &orders.Cell{Text: v.Value, At: v.Span()}, k == unit.Text
	case *ast.Number:
		u := unit.Unit{Kind: k, Size: 1}
		if v.Unit != "" {
			u, _ = unit.Lookup(v.Unit)
		} else if k == unit.Length {
			u = bare
		}
		whole := k != unit.Count || v.Value == float64(int(v.Value)) && v.Value >= 0
		return &orders.Cell{Number: v.Value * u.Size, At: v.Span()}, k != unit.Text && u.Kind == k && whole
	}
	return nil, false
}
