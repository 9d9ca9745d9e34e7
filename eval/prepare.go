package eval

import (
	"foredge/eval/columns"
	"foredge/eval/compile"
	"foredge/eval/expr"
	"foredge/eval/mention"
	"foredge/eval/model"
	"foredge/eval/orders"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// Files brings in what a design names besides itself.
type Files = resolve.Files

// A Model is a compiled design, ready to be solved.
type Model struct{ *model.Design }

// Build turns a parsed design and what it uses into a model. The model is
// usable even when there are errors: the broken lines are then left out. Of a
// design with orders it is that of the first one. It has the dimensions named in
// ask too, as far as there can be such, where no line speaks of them.
func Build(file *ast.File, files Files, ask ...string) (*Model, diag.List) {
	return Prepare(file, files, nil).First(ask...)
}

// First is [Build] of a design that is prepared.
func (p *Prepared) First(ask ...string) (*Model, diag.List) {
	p.ask = ask
	m, diags := p.Build(0)
	diags.Add(p.first())
	return m, diags
}

// Mentions says what each name in the text of the design stands for, whichever of the
// things that share a name is there. It is gathered each time.
func (p *Prepared) Mentions() *mention.Index {
	return mention.Of(p.info, p.info.Worlds(p.files)...)
}

// A Prepared is a design whose names are resolved and whose orders are read,
// ready to be built for one order after another. It is not changed by that:
// several goroutines may build from it at once, if its [Files] may be asked by
// several.
type Prepared struct {
	// Orders is the table, nil if the design names none or it can't be read.
	Orders *orders.Table

	info   *resolve.Info
	files  Files
	diags  diag.List // of names and of the table as a whole
	places []written // where columns of the orders may be spoken of
	ask    []string  // dimensions that somebody asks for
}

// An OrdersFile is a table that takes the place of the one that a design names.
type OrdersFile = columns.File

// Prepare resolves a parsed design and reads its orders, from instead if that
// is not nil. What is wrong comes with what [Prepared.Build] reports.
func Prepare(file *ast.File, files Files, instead *OrdersFile) *Prepared {
	p := &Prepared{files: files}
	p.info, p.diags = resolve.Resolve(file, files)
	if o := p.info.Orders; o != nil {
		table, diags := columns.Read(o, p.info.ColumnsUsed(), files, instead)
		p.Orders = table
		p.places = writtenIn(p.info)
		p.diags.Add(diags)
		if !p.info.Broken && !p.diags.HasErrors() {
			p.diags.Add(columns.Idle(table, p.info.ColumnsUsed()))
			p.diags.Add(columns.Unlike(table, p.info.TextsAsked()))
		}
	}
	return p
}

// HasOrders reports whether the design names a table of orders.
func (p *Prepared) HasOrders() bool { return p.info.Orders != nil }

// A Job is a list of designs whose parts lie on sheets together, a Make one of these.
type (
	Job  = resolve.Job
	Make = resolve.Make
)

// Jobs are those that the design's own file states. What is wrong in one leaves it out
// in part, with an error.
func (p *Prepared) Jobs() []Job { return p.info.Jobs }

// File is the design's own file.
func (p *Prepared) File() *source.File { return p.info.Main.Source }

// Diagnostics are about names and the table as a whole.
func (p *Prepared) Diagnostics() diag.List { return append(diag.List{}, p.diags...) }

// Build makes the model for one order, counted from 0; for a design without
// orders, or whose orders can't be read, row is ignored. What is wrong with the
// row itself is among the diagnostics.
func (p *Prepared) Build(row int) (*Model, diag.List) {
	in := compile.Input{Info: p.info, Files: p.files, Orders: p.Orders, Diags: p.Diagnostics(), Ask: p.ask}
	if p.Orders != nil {
		in.Order = &p.Orders.Rows[row]
		in.Diags.Add(in.Order.Problems)
	}
	if p.info.Varies {
		info, diags := p.info.For(p.files, in.Diags.HasErrors(), func(info *resolve.Info, diags *diag.List) resolve.Judge {
			c := &expr.Compiler{Diags: diags, Dims: expr.Unsolved{}, Declared: info.Orders, Orders: in.Orders, Order: in.Order}
			return c.Now
		})
		in.Info = info
		in.Diags.Add(diags)
	}
	d, diags := compile.Compile(in)
	return &Model{d}, diags
}

// first notes that only the first of several orders is shown.
func (p *Prepared) first() diag.List {
	var l diag.List
	if p.Orders != nil && len(p.Orders.Rows) > 1 {
		l.Infof("first-order", p.info.Orders.Path.Span(), "this shows the first of %d orders, %s in line %d", len(p.Orders.Rows), p.Orders.Rows[0].Number, p.Orders.Rows[0].Line).
			WithHelp("foredge batch makes them all")
	}
	return l
}
