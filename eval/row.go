package eval

import (
	"fmt"
	"strconv"

	"foredge/eval/kind"
	"foredge/eval/relation"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// MaxHoles is how many holes a row may have.
const MaxHoles = 10000

// startRow gives a row its dimensions. One that lists its gaps has a
// dimension for each of them and neither pitch nor web.
func (b *builder) startRow(it *item) {
	it.gaps = b.countGaps(it)
	for _, d := range it.thing.Kind.Dims {
		if it.gaps > 0 && (d.Name == "pitch" || d.Name == "web") || b.lazyDim(it, d.Name) {
			continue
		}
		b.addDim(it, d.Name, d)
	}
	for i := 1; i <= it.gaps; i++ {
		name := fmt.Sprintf("gap.%d", i)
		b.addDim(it, name, kind.Dim{Name: name, Kind: unit.Length})
	}
}

// countGaps is how many gaps the row lists, by `gaps` or one by one, or the row
// that it lies on; 0 for a row whose holes are evenly spaced.
func (b *builder) countGaps(it *item) int {
	n := 0
	if p, ok := it.props["gaps"]; ok {
		values, _, _ := unwrap(p.value)
		n = len(values)
	} else {
		n = b.singleGaps(it)
	}
	if n == 0 && it.thing.CoverOf != nil {
		return b.item(it.thing.CoverOf).gaps
	}
	if n >= MaxHoles {
		b.diags.Errorf("too-many", it.thing.At, "a row has at most %d holes", MaxHoles)
		return 0
	}
	return n
}

// singleGaps is how many gaps a row has that states them one by one: one less
// than its count, or the highest that it names.
func (b *builder) singleGaps(it *item) int {
	highest, count := 0, 0
	for _, l := range it.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 {
			continue
		}
		switch left := r.First.(type) {
		case *ast.Indexed:
			if n, err := strconv.Atoi(left.Index.Name); err == nil && left.Word.Name == "gap" {
				highest = max(highest, n)
			}
		case *ast.Name:
			if n, ok := r.Rest[0].Value.(*ast.Number); ok && left.Dotted() == "count" && r.Rest[0].Op == ast.Eq {
				count = int(n.Value)
			}
		}
	}
	if highest == 0 {
		return 0
	}
	return max(highest, count-1)
}

// edgeLength is the dimension along which a row runs, with the word for it.
func edgeLength(edge string) string {
	if edge == "head" || edge == "tail" {
		return "width"
	}
	return "height"
}

// startEdge is the edge from which a row on the given edge is counted.
func startEdge(edge string) (start, end string) {
	if edge == "head" || edge == "tail" {
		return "spine", "foredge"
	}
	return "head", "tail"
}

// row adds what holds in every row:
//
//	pitch = hole.along + web
//	run = (count - 1) * pitch, or the sum of the listed gaps
//	first + hole.along + run + last = the length of the edge
func (b *builder) row(it *item) {
	v := func(name string) relation.Expr { return relation.V(it.vars[name]) }
	path := it.thing.Path()
	outer := it.parent
	b.need(it, "count", "run", "first", "inset", "hole.along", "hole.across")
	if outer.thing.Kind.Name == "notebook" {
		for n := range it.vars {
			b.sys.Vars[it.vars[n]].Needed = false
		}
	}
	if it.gaps > 0 {
		sum := make([]relation.Expr, it.gaps)
		for i := range sum {
			sum[i] = v(fmt.Sprintf("gap.%d", i+1))
		}
		b.own(it, v("run"), relation.Add(sum...), path+".run = the sum of its gaps")
		b.own(it, v("count"), relation.C(float64(it.gaps+1)), fmt.Sprintf("%s.count = %d, one more than its gaps", path, it.gaps+1))
	} else {
		b.own(it, v("pitch"), relation.Add(v("hole.along"), v("web")),
			fmt.Sprintf("%s.pitch = %s.hole.along + %s.web", path, path, path))
		b.own(it, v("run"), relation.Mul(relation.Less(v("count"), relation.C(1)), v("pitch")),
			fmt.Sprintf("%s.run = (%s.count - 1) * %s.pitch", path, path, path))
	}
	if it.thing.BadEdge {
		return
	}
	if it.thing.Edge == "" {
		b.diags.Errorf("edge", it.thing.At, "nothing says along which edge %s runs", path).
			WithHelp("write `on spine`, on head, on tail or on foredge behind its name")
		return
	}
	length := edgeLength(it.thing.Edge)
	b.own(it, relation.Add(v("first"), v("hole.along"), v("run"), v("last")), relation.V(outer.vars[length]),
		fmt.Sprintf("%s.first + %s.hole.along + %s.run + %s.last = %s.%s", path, path, path, path, outer.thing.Path(), length))
	b.hole(it)
	b.gapList(it)
	b.rowBinding(it)
	if outer.thing.Kind.Name != "panel" {
		return
	}
	if it.thing.CoverOf != nil {
		b.coverRow(it)
		return
	}
	b.byDefault(rowPhase, relation.Default{Left: v("first"), Right: v("last"),
		Vars: []relation.VarID{it.vars["first"], it.vars["last"]}, At: it.thing.At,
		Text: fmt.Sprintf("%s.first = %s.last (a row is centred)", path, path)})
}

// hole compiles `hole = ...`. On a notebook its sizes are readings.
func (b *builder) hole(it *item) {
	p, ok := it.props["hole"]
	if !ok {
		return
	}
	b.opening(it, p, "hole.along", "hole.across")
}

// opening compiles the shape of a hole or a cutout into two dimensions.
func (b *builder) opening(it *item, p prop, along, across string) {
	e, within, exact := p.value, ast.Expr(nil), false
	if st, ok := e.(*ast.Stated); ok {
		within, exact, e = st.Within, st.Exact, st.X
	}
	sh, ok := e.(*ast.Shape)
	if !ok {
		if _, bad := e.(*ast.BadExpr); !bad {
			b.diags.Errorf("shape", e.Span(), "%s is no form of an opening", short(e.Span())).
				WithHelp("write rect ALONG by ACROSS, round DIAMETER or slot ALONG by ACROSS")
		}
		return
	}
	line := &resolveLine{stmt: p.line, scope: p.scope, from: p.from}
	switch sh.Word.Name {
	case "round":
		b.size(it, line, along, sh.A, within, exact, p)
		id, ok := it.vars[across]
		if ok {
			b.own(it, relation.V(id), relation.V(it.vars[along]),
				fmt.Sprintf("%s.%s = %s.%s (the hole is round)", it.thing.Path(), across, it.thing.Path(), along))
		}
	case "rect", "slot":
		b.size(it, line, along, sh.A, within, exact, p)
		b.size(it, line, across, sh.B, within, exact, p)
		if sh.Radius != nil {
			if x, ok := b.expr(sh.Radius, p.scope, unit.Length, "radius"); ok {
				it.exprs["radius"] = x
				b.needExpr(x)
			}
		}
	default:
		b.diags.Errorf("shape", sh.Word.At, "%s is a form of corners, not of an opening", sh.Word.Name).
			WithHelp("write rect ALONG by ACROSS, round DIAMETER or slot ALONG by ACROSS")
	}
}

// size states one size of an opening: a reading in a notebook, else a must.
func (b *builder) size(it *item, l *resolveLine, dim string, e, within ast.Expr, exact bool, p prop) {
	if e == nil {
		return
	}
	left := value{kind: unit.Length, power: 1, expr: relation.V(it.vars[dim]), at: p.line.First.Span()}
	line := l.line()
	if it.bench > 0 && onlyNumbers(e) && !exact && !ofPattern(p.from) {
		x, ok := b.expr(e, l.scope, unit.Length, dim)
		if !ok {
			return
		}
		read, known := constant(x)
		if !known || read < 0 {
			b.diags.Errorf("negative", e.Span(), "%s must be a length above 0", dim)
			return
		}
		t, ok := b.tool(it, line, []ast.Expr{e}, within, unit.Length)
		if !ok {
			return
		}
		if isRound(p) {
			if t.flat, ok = b.promised(it, "jaw-flat"); !ok {
				return
			}
		}
		b.addReading(it, left, []float64{read}, t, e.Span(), dim)
		return
	}
	x, ok := b.expr(e, l.scope, unit.Length, it.thing.Path()+"."+dim)
	if !ok {
		return
	}
	if c, known := constant(x); known && c <= 0 {
		b.diags.Errorf("negative", e.Span(), "an opening of %s can't be cut", unit.FormatLength(c, l.scope.File().Unit)).
			WithHelp("both sizes of an opening must be above 0")
		return
	}
	rel := relation.Relation{Sign: relation.EQ, Left: left.expr, Right: x, Role: relation.Stated, Bench: it.bench,
		At: p.line.Span(), Text: it.thing.Path() + "." + dim + " = " + short(e.Span())}
	b.origin(&rel, line)
	b.sys.Relations = append(b.sys.Relations, rel)
}

// isRound reports whether an opening is stated as round.
func isRound(p prop) bool {
	e := p.value
	if st, ok := e.(*ast.Stated); ok {
		e = st.X
	}
	sh, ok := e.(*ast.Shape)
	return ok && sh.Word.Name == "round"
}

// gapList compiles `gaps = 19, 19, 70, 19, 19`.
func (b *builder) gapList(it *item) {
	p, ok := it.props["gaps"]
	if !ok || it.gaps == 0 {
		return
	}
	line := (&resolveLine{stmt: p.line, scope: p.scope, from: p.from}).line()
	values, within, exact := unwrap(p.value)
	for i, e := range values {
		name := fmt.Sprintf("gap.%d", i+1)
		left := value{kind: unit.Length, power: 1, expr: relation.V(it.vars[name]), at: e.Span()}
		if b.ownGap(it, i+1) {
			continue
		}
		x, ok := b.expr(e, p.scope, unit.Length, it.thing.Path()+"."+name)
		if !ok {
			continue
		}
		if read, known := constant(x); it.bench > 0 && onlyNumbers(e) && !exact && known && !ofPattern(p.from) {
			if t, ok := b.tool(it, line, []ast.Expr{e}, within, unit.Length); ok {
				b.addReading(it, left, []float64{read}, t, e.Span(), name)
			}
			continue
		}
		rel := relation.Relation{Sign: relation.EQ, Left: left.expr, Right: x, Role: relation.Stated, Bench: it.bench,
			At: p.line.Span(), Text: it.thing.Path() + "." + name + " = " + short(e.Span())}
		b.origin(&rel, line)
		b.sys.Relations = append(b.sys.Relations, rel)
	}
}

// ownGap reports whether an own line states the gap that an inherited list
// gives, and so replaces it.
func (b *builder) ownGap(it *item, n int) bool {
	p := it.props["gaps"]
	for _, l := range it.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 || r.Rest[0].Op != ast.Eq || l.From == p.from {
			continue
		}
		if g, ok := r.First.(*ast.Indexed); ok && g.Word.Name == "gap" && g.Index.Name == fmt.Sprint(n) && l.From == nil {
			return true
		}
	}
	return false
}

// coverRow lays a panel's row on the notebook's: the same centres, the holes
// opened by ease.
func (b *builder) coverRow(it *item) {
	book := b.item(it.thing.CoverOf)
	if book.out {
		return
	}
	panel := it.parent
	v := func(name string) relation.Expr { return relation.V(it.vars[name]) }
	n := func(name string) relation.Expr { return relation.V(book.vars[name]) }
	over := func(edge string) relation.Expr { return relation.V(panel.vars["over-"+edge]) }
	path, bpath, ppath := it.thing.Path(), book.thing.Path(), panel.thing.Path()
	facts := b.benchLines(book)
	fact := func(left, right relation.Expr, text string) {
		b.sys.Relations = append(b.sys.Relations, relation.Relation{Sign: relation.EQ, Left: left, Right: right,
			Role: relation.Fact, At: book.thing.At, Text: text, Facts: facts})
	}
	fact(v("count"), n("count"), fmt.Sprintf("%s.count = %s.count", path, bpath))
	if it.gaps > 0 && it.gaps == book.gaps {
		for i := 1; i <= it.gaps; i++ {
			g := fmt.Sprintf("gap.%d", i)
			fact(v(g), n(g), fmt.Sprintf("%s.%s = %s.%s", path, g, bpath, g))
		}
	} else if it.gaps == 0 && book.gaps == 0 {
		fact(v("pitch"), n("pitch"), fmt.Sprintf("%s.pitch = %s.pitch", path, bpath))
	}
	if _, own := it.props["hole"]; !own {
		for _, d := range []string{"hole.along", "hole.across"} {
			fact(v(d), relation.Add(n(d), v("ease")), fmt.Sprintf("%s.%s = %s.%s + %s.ease", path, d, bpath, d, path))
		}
	}
	half := func(e relation.Expr) relation.Expr { return relation.Mul(relation.C(0.5), e) }
	start, _ := startEdge(it.thing.Edge)
	fact(relation.Add(v("first"), half(v("hole.along"))),
		relation.Add(n("first"), half(n("hole.along")), over(start)),
		fmt.Sprintf("%s.first + half a hole = %s.first + half a hole + %s.over-%s", path, bpath, ppath, start))
	fact(relation.Add(v("inset"), half(v("hole.across"))),
		relation.Add(n("inset"), half(n("hole.across")), over(it.thing.Edge)),
		fmt.Sprintf("%s.inset + half a hole = %s.inset + half a hole + %s.over-%s", path, bpath, ppath, it.thing.Edge))
	b.byDefault(easePhase, relation.Default{Left: v("ease"), Right: relation.V(panel.vars["ease"]),
		Vars: []relation.VarID{it.vars["ease"]}, At: it.thing.At, Text: fmt.Sprintf("%s.ease = %s.ease", path, ppath)})
}

// benchLines lists the lines of a notebook, or of one of its rows, that say
// something of it: what a fact stands for.
func (b *builder) benchLines(it *item) []source.Span {
	var at []source.Span
	for _, l := range it.thing.Lines {
		at = append(at, l.Stmt.Span())
	}
	return at
}
