package eval

import (
	"fmt"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// resolveLine is a line seen from the property that it states.
type resolveLine struct {
	stmt  *ast.Relation
	scope *resolve.Scope
	from  *resolve.Thing
}

func (l *resolveLine) line() *resolve.Line {
	return &resolve.Line{Stmt: l.stmt, Scope: l.scope, From: l.from}
}

// panel adds what ties a panel to the notebook that it covers and to the stock
// that it is cut from:
//
//	height = the notebook's + over-head + over-tail
//	width = the notebook's + over-spine + over-foredge
//	thick = the stock's
func (b *builder) panel(it *item) {
	b.need(it, "width", "height")
	v := func(name string) relation.Expr { return relation.V(it.vars[name]) }
	path := it.thing.Path()
	b.panelStock(it)
	if it.thing.Covers == nil {
		return
	}
	book := b.item(it.thing.Covers)
	if book.out {
		return
	}
	for _, d := range []struct{ size, near, far string }{{"height", "head", "tail"}, {"width", "spine", "foredge"}} {
		b.sys.Relations = append(b.sys.Relations, relation.Relation{
			Left: v(d.size), Right: relation.Add(relation.V(book.vars[d.size]), v("over-"+d.near), v("over-"+d.far)),
			Role: relation.Fact, At: book.thing.At, Facts: b.linesOf(book, d.size),
			Text: fmt.Sprintf("%s.%s = %s.%s + %s.over-%s + %s.over-%s", path, d.size, book.thing.Path(), d.size, path, d.near, path, d.far)})
	}
	b.byDefault(easePhase, relation.Default{Left: v("ease"), Right: relation.C(0),
		Vars: []relation.VarID{it.vars["ease"]}, At: it.thing.At, Text: path + ".ease = 0"})
	// A panel whose height is settled, but not where it sits, reaches past head
	// and tail alike; extra width goes to the foredge.
	sum := relation.Add(v("over-head"), v("over-tail"))
	b.byDefault(overhangPhase, relation.Default{Left: v("over-head"), Right: v("over-tail"), Given: &sum,
		Vars: []relation.VarID{it.vars["over-head"], it.vars["over-tail"]}, At: it.thing.At,
		Text: fmt.Sprintf("%s.over-head = %s.over-tail (extra height is shared)", path, path)})
	for _, n := range []string{"over-head", "over-tail", "over-spine", "over-foredge"} {
		b.byDefault(overhangPhase, relation.Default{Left: v(n), Right: relation.C(0),
			Vars: []relation.VarID{it.vars[n]}, At: it.thing.At, Text: path + "." + n + " = 0"})
	}
}

// linesOf lists a notebook's lines that speak of one of its dimensions.
func (b *builder) linesOf(it *item, dim string) []source.Span {
	var at []source.Span
	for _, l := range it.thing.Lines {
		speaks := false
		ast.Walk(l.Stmt, func(n ast.Node) bool {
			if name, ok := n.(*ast.Name); ok && name.Dotted() == dim {
				speaks = true
			}
			return true
		})
		if speaks {
			at = append(at, l.Stmt.Span())
		}
	}
	return at
}

// panelStock finds what a panel is cut from: the stock that it names, or the
// only one that its file can see.
func (b *builder) panelStock(it *item) {
	t := b.stockOf(it)
	if t == nil {
		return
	}
	it.stock = b.item(t)
	if it.stock.out {
		it.stock = nil
		return
	}
	stated := false
	for _, l := range t.Lines {
		if r, ok := l.Stmt.(*ast.Relation); ok {
			if n, ok := r.First.(*ast.Name); ok && n.Dotted() == "thick" {
				stated = true
			}
		}
	}
	if !stated {
		return
	}
	b.sys.Relations = append(b.sys.Relations, relation.Relation{
		Left: relation.V(it.vars["thick"]), Right: relation.V(it.stock.vars["thick"]), Role: relation.Fact,
		At: t.At, Facts: b.linesOf(it.stock, "thick"),
		Text: fmt.Sprintf("%s.thick = %s.thick", it.thing.Path(), t.Path())})
}

func (b *builder) stockOf(it *item) *resolve.Thing {
	p, named := it.props["stock"]
	if !named {
		if all := it.thing.File.Visible(stockKind()); len(all) == 1 && !it.thing.File.Shelf {
			return all[0]
		}
		return nil
	}
	return b.namedStock("stock", p)
}

// namedStock finds the stock that a property names, nil for what it reports.
func (b *builder) namedStock(key string, p prop) *resolve.Thing {
	n, ok := p.value.(*ast.Name)
	if !ok {
		b.diags.Errorf("stock", p.at(), "%s must be the name of a stock", key).
			WithHelp("declare one, as in stock birch { size = 600 by 300; thick = 3 }, and name it here")
		return nil
	}
	sym, problem := p.scope.Lookup(n)
	if problem != nil {
		b.diags = append(b.diags, problem)
		return nil
	}
	if sym.Broken {
		return nil
	}
	if sym.Thing == nil || sym.Dim != "" || sym.Thing.Kind.Name != "stock" {
		b.diags.Errorf("stock", p.at(), "%s is no stock", n.Dotted()).
			WithHelp("declare one, as in stock birch { size = 600 by 300; thick = 3 }, and name it here")
		return nil
	}
	return sym.Thing
}

// box adds what holds of a region, a cutout or a lattice:
//
//	head + height + tail = the panel's height
//	spine + width + foredge = the panel's width
func (b *builder) box(it *item) {
	v := func(name string) relation.Expr { return relation.V(it.vars[name]) }
	path, outer := it.thing.Path(), it.parent
	b.need(it, "width", "height", "head", "spine")
	for _, d := range []struct{ near, size, far string }{{"head", "height", "tail"}, {"spine", "width", "foredge"}} {
		b.own(it, relation.Add(v(d.near), v(d.size), v(d.far)), relation.V(outer.vars[d.size]),
			fmt.Sprintf("%s.%s + %s.%s + %s.%s = %s.%s", path, d.near, path, d.size, path, d.far, outer.thing.Path(), d.size))
		if d.near == "head" && it.thing.Kind.Name == "lattice" {
			b.latticeRunsThrough(it)
			continue
		}
		b.byDefault(boxPhase, relation.Default{Left: v(d.near), Right: v(d.far),
			Vars: []relation.VarID{it.vars[d.near], it.vars[d.far]}, At: it.thing.At,
			Text: fmt.Sprintf("%s.%s = %s.%s (centred)", path, d.near, path, d.far)})
	}
	if it.thing.Kind.Name != "cutout" {
		return
	}
	if p, ok := it.props["shape"]; ok {
		b.opening(it, p, "width", "height")
	}
}

func (b *builder) scoreLine(it *item) {
	b.need(it, "at")
	if _, ok := it.props["from"]; !ok {
		b.diags.Errorf("edge", it.thing.At, "nothing says from which edge %s is measured", it.thing.Path()).
			WithHelp("write from = spine, or another edge, into its braces")
	}
}

// lay finds the panels and gaps that a spread puts side by side.
func (b *builder) lay(it *item) {
	p, ok := it.props["lay"]
	if !ok {
		return
	}
	values, _, _ := unwrap(p.value)
	for _, e := range values {
		n, ok := e.(*ast.Name)
		if !ok {
			b.diags.Errorf("lay", e.Span(), "lay lists the names of panels and gaps").
				WithHelp("as in lay = back, joint, spine-strip, joint, front")
			return
		}
		sym, problem := p.scope.Lookup(n)
		if problem != nil {
			b.diags = append(b.diags, problem)
			return
		}
		if sym.Broken {
			return
		}
		if sym.Thing == nil || sym.Dim != "" || sym.Thing.Kind.Name != "panel" && sym.Thing.Kind.Name != "gap" {
			b.diags.Errorf("lay", e.Span(), "%s is no panel and no gap", n.Dotted()).
				WithHelp("a spread lays panels and gaps side by side, from left to right as seen from outside")
			return
		}
		part := b.item(sym.Thing)
		if part.out {
			b.diags.Errorf("left-out", e.Span(), "%s isn't there: its `when` doesn't hold", n.Dotted())
			return
		}
		if part.thing.Kind.Name == "panel" {
			if part.spread != nil {
				b.diags.Errorf("lay", e.Span(), "%s is laid twice: a panel can be drawn only once", n.Dotted()).
					WithHelp("declare a second panel like it, as in panel other like %s", n.Dotted())
				return
			}
			part.spread = it
		}
		it.lay = append(it.lay, part)
		it.layAt = append(it.layAt, e.Span())
	}
}

// spread adds that a spread is as wide as what it lays and as high as its
// panels.
func (b *builder) spread(it *item) {
	b.lay(it)
	if len(it.lay) == 0 {
		if _, ok := it.props["lay"]; !ok {
			b.diags.Errorf("lay", it.thing.At, "nothing says what %s lays side by side", it.thing.Path()).
				WithHelp("as in lay = back, joint, spine-strip, joint, front")
		}
		return
	}
	it.sheets = map[string]*item{}
	for _, key := range []string{"covering-stock", "lining-stock"} {
		if p, ok := it.props[key]; ok {
			if t := b.namedStock(key, p); t != nil && !b.item(t).out {
				it.sheets[key] = b.item(t)
			}
		}
	}
	path := it.thing.Path()
	var sum []relation.Expr
	text := path + ".width = "
	high := false
	for i, part := range it.lay {
		sum = append(sum, relation.V(part.vars["width"]))
		if i > 0 {
			text += " + "
		}
		text += part.thing.Path() + ".width"
		if part.thing.Kind.Name == "panel" && !high {
			high = true
			b.own(it, relation.V(it.vars["height"]), relation.V(part.vars["height"]),
				fmt.Sprintf("%s.height = %s.height", path, part.thing.Path()))
		}
	}
	b.own(it, relation.V(it.vars["width"]), relation.Add(sum...), text)
	for _, l := range it.thing.Lines {
		for _, d := range []string{"turn-in", "mitre", "lining"} {
			if lineSpeaksOf(l, d) {
				b.need(it, d)
			}
		}
	}
}

func lineSpeaksOf(l *resolve.Line, dim string) bool {
	r, ok := l.Stmt.(*ast.Relation)
	if !ok {
		return false
	}
	n, ok := r.First.(*ast.Name)
	return ok && n.Dotted() == dim
}
