package job

import (
	"fmt"
	"path/filepath"
	"slices"

	"foredge/cmd/internal/cutplan"
	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/design"
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

// gather takes one design of the job through all stages, for each of its orders.
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
	g := gathering{run: r, prepared: prepared, name: name, at: m.At, told: map[string]bool{}}
	once := func(found diag.List) diag.List { return driver.Once(tree, found) }
	r.diags().Add(once(diags))
	rows := 1
	if prepared.Orders != nil {
		rows = len(prepared.Orders.Rows)
	}
	before := len(r.lots)
	for row := range rows {
		if r.ctx.Err() != nil {
			return
		}
		g.row(row, m.Copies, once)
	}
	r.result.Origin.Panels = append(r.result.Origin.Panels, spell.Name(name))
	if len(r.lots) == before && !r.diags().HasErrors() {
		r.diags().Errorf("job-nothing", m.At, "there is no panel in %q, so there is nothing of it to make", m.Path).
			WithHelp("name the file that declares the panels")
	}
}

// A gathering takes the orders of one design.
type gathering struct {
	*run
	prepared *eval.Prepared
	name     string
	at       source.Span
	told     map[string]bool // what was told of an order before
}

// row takes one order, or the design if it has none, as far as its parts.
func (g *gathering) row(row, copies int, once func(diag.List) diag.List) {
	l := lot{Lot: cutplan.Lot{Design: g.name}, copies: copies}
	var its *orders.Row
	if t := g.prepared.Orders; t != nil {
		its = &t.Rows[row]
		l.Order, l.Say, l.copies = its.Number, t.Label(row), copies*t.Copies(row)
	}
	model, diags := g.prepared.Build(row)
	diags = diags[len(g.prepared.Diagnostics()):] // told once, for all
	solution, more := model.SolveWithin(g.ctx)
	diags.Add(more)
	if !solution.Sound {
		g.tell(once(diags), its)
		return
	}
	solved := solution.Design()
	g.stocks.before(solved)
	wanted, more := g.session.Drawer().Draw(solved)
	diags.Add(more)
	kerfed, more := wanted.Kerfed()
	diags.Add(more)
	faces, more := g.session.Drawer().Inside(solved)
	diags.Add(more)
	l.kerfed, l.faces, l.shop = kerfed, faces, solved.Laser.Shop
	g.tell(once(diags), its)
	if diags.HasErrors() || len(kerfed.Parts) == 0 {
		return
	}
	g.stocks.add(g.diags(), solved, kerfed, g.name, g.at)
	g.stocks.take(kerfed, g.name, g.at)
	if !solved.Laser.Quiet.Has("caution") {
		g.caution = true
		for _, h := range advise.Hazards(solved) {
			if !slices.Contains(g.hazards, h) {
				g.hazards = append(g.hazards, h)
			}
		}
	}
	g.lots = append(g.lots, l)
}

// tell tells what was found, of several orders each thing once.
func (g *gathering) tell(found diag.List, of *orders.Row) {
	for _, d := range found {
		key := fmt.Sprint(d.Severity, d.Code, d.Span.File.Name(), d.Span.Start, d.Message)
		if g.told[key] {
			continue
		}
		g.told[key] = true
		if of != nil && d.Severity == diag.Error && d.Span.File != of.At.File {
			d.Note(of.At, "this is the first order of which it is so")
		}
		g.result.Diagnostics = append(g.result.Diagnostics, d)
	}
}
