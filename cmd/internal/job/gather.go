package job

import (
	"fmt"
	"path/filepath"
	"slices"

	"foredge/cmd/internal/cutplan"
	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/orders"
	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/layout"
	"foredge/layout/advise"
)

// A lot is a design, or an order of one, that lies on the sheets so many times.
type lot struct {
	cutplan.Lot
	copies int
	kerfed *layout.Drawing
	faces  []layout.Face
	shop   design.Shop
}

// label begins the names of the parts of a copy. A point parts what is no name of a part,
// and no name of a design, number of an order or of a copy has one.
func (l *lot) label(copy int) string {
	name := spell.Name(l.Design)
	if l.Order != "" {
		name += "." + spell.Name(l.Order)
	}
	if copy > 0 {
		name += fmt.Sprintf(".%d", copy+1)
	}
	return name
}

// gather solves one design of the job, for each of its orders.
func (r *run) gather(i int) {
	m := r.job.Makes[i]
	file, err := r.reader.Use(r.file, m.Path)
	if err != nil {
		r.diags().Fail("job-file", m.At, err, "name a .fore file by its path from this one, inside the folder of the job")
		return
	}
	name := driver.Name(filepath.Base(m.Path))
	if name == "" || spell.Name(name) == "" {
		r.diags().Errorf("job-name", m.At, "%q has a name without a letter or a digit, so its parts can't be called by it", m.Path).WithHelp("rename the file")
		return
	}
	for k := range i {
		if other := r.job.Makes[k]; lookalike.Key(spell.Name(driver.Name(filepath.Base(other.Path)))) == lookalike.Key(spell.Name(name)) {
			r.diags().Errorf("job-name", m.At, "the parts of %q would be called as those of %q", m.Path, other.Path).Note(other.At, "that is here").
				WithHelp("rename one of the two files, so that nobody takes a part for the other's")
			return
		}
	}
	tree, diags := parse.File(file)
	prepared := eval.Prepare(tree, r.reader, nil)
	diags.Add(prepared.Diagnostics())
	if diags.HasErrors() {
		r.diags().Add(diags)
		return
	}
	g := &gathering{run: r, prepared: prepared, name: name, path: m.Path, at: m.At, told: map[string]*alike{}, once: func(found diag.List) diag.List { return driver.Once(tree, found) }}
	r.gatherings = append(r.gatherings, g)
	r.diags().Add(g.once(diags))
	rows := 1
	if prepared.Orders != nil {
		rows = len(prepared.Orders.Rows)
	}
	for row := range rows {
		if r.ctx.Err() != nil {
			return
		}
		g.row(row, m.Copies)
	}
	r.result.Origin.Panels = append(r.result.Origin.Panels, spell.Name(name))
}

// draw draws what was gathered.
func (r *run) draw() {
	var all []*design.Design
	for _, g := range r.gatherings {
		for _, o := range g.solved {
			all = append(all, o.design)
		}
	}
	oneName(all, r.called)
	stocks := stocksOf(all)
	r.grained = together(r.own, all)
	for _, g := range r.gatherings {
		before := len(r.lots)
		for i := range g.solved {
			if r.ctx.Err() != nil {
				return
			}
			g.draw(&g.solved[i], stocks[0])
			stocks = stocks[1:]
		}
		if len(r.lots) == before && !r.diags().HasErrors() {
			r.diags().Errorf("job-nothing", g.at, "there is no panel in %q, so there is nothing of it to make", g.path).
				WithHelp("name the file that declares the panels")
		}
	}
}

// stocksOf are the stocks of designs as these say them.
func stocksOf(designs []*design.Design) [][]*design.Stock {
	all := make([][]*design.Stock, len(designs))
	for i, d := range designs {
		for _, k := range d.Stocks() {
			its := *k
			all[i] = append(all[i], &its)
		}
	}
	return all
}

// A gathering takes the orders of one design.
type gathering struct {
	*run
	prepared *eval.Prepared
	name     string
	path     string // as the job names it
	at       source.Span
	once     func(diag.List) diag.List
	solved   []solved
	told     map[string]*alike // what was told of an order before
}

// A solved is an order of a design, or the design if it has none, that is to be drawn.
type solved struct {
	lot    lot
	design *design.Design
	diags  diag.List
	of     *orders.Row // nil if there are no orders
}

// row solves one order, or the design if it has none.
func (g *gathering) row(row, copies int) {
	o := solved{lot: lot{Lot: cutplan.Lot{Design: g.name}, copies: copies}}
	if t := g.prepared.Orders; t != nil {
		o.of = &t.Rows[row]
		o.lot.Order, o.lot.Say, o.lot.copies = o.of.Number, t.Label(row), copies*t.Copies(row)
	}
	model, diags := g.prepared.Build(row)
	o.diags = diags[len(g.prepared.Diagnostics()):] // told once, for all
	solution, more := model.SolveWithin(g.ctx)
	o.diags.Add(more)
	if !solution.Sound {
		g.tell(g.once(o.diags), o.of)
		return
	}
	o.design = solution.Design()
	g.solved = append(g.solved, o)
}

// draw draws an order as far as its parts; stocks are those of its design, as that says them.
func (g *gathering) draw(o *solved, stocks []*design.Stock) {
	solved, diags, l := o.design, o.diags, o.lot
	o.design = nil // large jobs need the memory
	wanted, more := g.session.Drawer().Draw(solved)
	g.stocks.sized(more, wanted, g.grained)
	diags.Add(more)
	kerfed, more := wanted.Kerfed()
	diags.Add(more)
	faces, more := g.session.Drawer().Inside(solved)
	diags.Add(more)
	diags.Add(layout.InsideColours(solved, wanted, faces))
	l.kerfed, l.faces, l.shop = kerfed, faces, solved.Laser.Shop
	g.tell(g.once(diags), o.of)
	if diags.HasErrors() || len(kerfed.Parts) == 0 {
		return
	}
	g.stocks.add(g.diags(), &solved.Laser, stocks, kerfed, g.name, g.at)
	g.stocks.take(kerfed, faces, g.name, g.at)
	if !g.laser.Present() {
		g.laser = maybe.Is(solved.Laser)
	}
	if !solved.Laser.Quiet.Has("caution") && !g.stocks.own.Laser.Quiet.Has("caution") {
		g.caution = true
		for _, h := range advise.Hazards(solved) {
			if !slices.Contains(g.hazards, h) {
				g.hazards = append(g.hazards, h)
			}
		}
	}
	g.lots = append(g.lots, l)
}

// mostAlike is of how many orders is told what is wrong with them at one place, in the same words but for
// what is noted beside it.
const mostAlike = 20

// An alike is what was told of orders in the same words.
type alike struct {
	noted map[string]bool  // what was noted beside it
	last  *diag.Diagnostic // that was told last
	of    *orders.Row      // of which it was told first
	more  int              // how many others weren't told
}

// tell tells what was found, of several orders each thing once, and what is wrong as often as the values
// that are noted beside it are others.
func (g *gathering) tell(found diag.List, of *orders.Row) {
	for _, d := range found {
		key, noted := fmt.Sprint(d.Severity, d.Code, d.Span.File.Name(), d.Span.Start, d.Message), ""
		if d.Severity == diag.Error {
			for _, n := range d.Notes {
				noted += fmt.Sprintln(n.Span.Start, n.Message)
			}
			noted += d.Help
		}
		its := g.told[key]
		if its == nil {
			its = &alike{noted: map[string]bool{}, of: of}
			g.told[key] = its
		}
		if its.noted[noted] {
			continue
		}
		its.noted[noted] = true
		n := len(its.noted)
		if n > mostAlike {
			its.tellMore()
			continue
		}
		if n == 2 { // where they differ each says whose it is
			its.last.Message = ofOrder(its.of, its.last.Message)
		}
		if n > 1 {
			d.Message = ofOrder(of, d.Message)
		}
		if of != nil && d.Severity == diag.Error && d.Span.File != of.At.File {
			d.Note(of.At, "this is the first order of which it is so")
		}
		its.last = d
		g.result.Diagnostics = append(g.result.Diagnostics, d)
	}
}

func ofOrder(row *orders.Row, message string) string {
	if row == nil {
		return message
	}
	return fmt.Sprintf("order %s: %s", row.Number, message)
}

// tellMore counts one that isn't told with what was told last.
func (a *alike) tellMore() {
	if a.more++; a.more > 1 {
		a.last.Notes = a.last.Notes[:len(a.last.Notes)-1]
	}
	times := "once"
	if a.more > 1 {
		times = fmt.Sprintf("%d times", a.more)
	}
	a.last.Note(source.Span{}, "it is so %s more, with other values", times)
}
