package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/expr"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// rowDimensions gives a row its dimensions. One that lists its gaps has a
// dimension for each of them and neither pitch nor web.
func (c *compiler) rowDimensions(d *draft) {
	gaps := c.countGaps(d)
	for _, n := range d.thing.Kind.Dims {
		if gaps > 0 && (n == dim.Pitch || n == dim.Web) || c.onDemand(d, n) {
			continue
		}
		c.addDim(d, n)
	}
	for range gaps {
		c.addGap(d)
	}
}

// countGaps is how many gaps the row lists, by `gaps` or one by one, or the row
// that it lies on; 0 for a row whose holes are evenly spaced.
func (c *compiler) countGaps(d *draft) int {
	n := 0
	if p, ok := d.props["gaps"]; ok {
		values, _, _ := unwrap(p.value)
		n = len(values)
	} else {
		n = c.singleGaps(d)
		if book := c.covered(d); book != nil {
			n = max(n, len(book.Gaps)) // those not stated here
		}
	}
	if n >= model.MaxHoles {
		c.Diags.Errorf("too-many", d.At, "a row has at most %d holes", model.MaxHoles).WithHelp("divide it into several rows")
		return 0
	}
	return n
}

// singleGaps is how many gaps a row has of which lines speak one by one: one less
// than its count, or the highest that they name.
func (c *compiler) singleGaps(d *draft) int {
	highest := d.thing.Gaps()
	if highest == 0 {
		return 0
	}
	if v, known := c.statedAs(d, dim.Count, unit.Count); known && v <= model.MaxHoles {
		return max(highest, int(v)-1)
	}
	return highest
}

func isGap(left *ast.Indexed) bool { return left.Word.Name == dim.Gap.String() }

// row adds what holds in every row:
//
//	pitch = hole.along + web
//	run = (count - 1) * pitch, or the sum of the listed gaps
//	first + hole.along + run + last = the length of the edge
func (c *compiler) row(d *draft, row *model.Row) {
	row.GuideStock = c.sheetOf(d, "guide-stock")
	if row.Panel != nil {
		c.need(d, dim.Count, dim.Run, dim.First, dim.Inset, dim.HoleAlong, dim.HoleAcross)
	}
	count, run, along := d.V(dim.Count), d.V(dim.Run), d.V(dim.HoleAlong)
	if len(d.Gaps) > 0 {
		sum := make([]relation.Expr, len(d.Gaps))
		for i, id := range d.Gaps {
			sum[i] = relation.V(id)
		}
		if row.Panel != nil {
			c.needExpr(relation.Add(sum...))
		}
		c.own(d, run, relation.Add(sum...), "the sum of its gaps")
		c.own(d, count, relation.C(float64(len(d.Gaps)+1)), "one more than its gaps")
	} else if _, even := d.Dim(dim.Pitch); even { // else what is wrong with its gaps is told
		pitch := d.V(dim.Pitch)
		c.own(d, pitch, relation.Add(along, d.V(dim.Web)), "")
		c.own(d, run, relation.Mul(relation.Minus(count, relation.C(1)), pitch), "")
	}
	book := c.covered(d)
	if book != nil {
		row.Covers, _ = book.node.(*model.Row)
	}
	lies := c.edgeOf(d, row, book)
	if lies {
		c.own(d, relation.Add(d.V(dim.First), along, run, d.V(dim.Last)), d.parent.V(dim.Length(row.Edge)), "")
	}
	if p, ok := d.props["hole"]; ok {
		row.Hole = c.opening(d, p, dim.HoleAlong, dim.HoleAcross)
	}
	c.gapList(d)
	c.rowBinding(d, row)
	switch {
	case !lies || row.Panel == nil:
	case book != nil:
		c.coverRow(d, book, row)
	default:
		if _, has := d.Dim(dim.Ease); has { // the notebook's row isn't there
			c.holds(d, dim.Ease, dim.None, rowEasePhase)
		}
		c.place(d, dim.Length(row.Edge), rowPhase, relation.Default{Left: d.V(dim.First), Right: d.V(dim.Last),
			Given: dimsOf(d, dim.Inset, dim.HoleAlong, dim.HoleAcross), Vars: dimsOf(d, dim.First, dim.Last), Why: "a row is centred"})
	}
}

// edgeOf reports whether it is known along which edge a row runs, and tells why it isn't.
func (c *compiler) edgeOf(d *draft, row *model.Row, book *draft) bool {
	switch {
	case d.thing.BadEdge || row.Edge == word.NoEdge && d.parent.thing.Unsure:
		return false
	case row.Edge == word.NoEdge:
		c.Diags.Errorf("no-edge", d.At, "nothing says which edge %s runs along", d.Path).
			WithHelp("write `on spine`, on head, on tail or on foredge after its name")
		return false
	case book == nil || row.Edge == book.thing.Edge:
		return true
	case !book.thing.BadEdge:
		c.Diags.Errorf("other-edge", d.At, "%s runs along the %s, but the row of the notebook that it lies on runs along the %s", d.Path, row.Edge, book.thing.Edge).
			Note(book.At, "the notebook's row").WithHelp("leave out `on %s`, or give this row another name", row.Edge)
	}
	return false
}

// pattern makes the sizes of a pattern's hole, its gaps and, where no line is about it,
// its web known by their names. All else only its rows know, whose own lines replace some
// of it. What is wrong in its hole and gaps is kept until it is known what they tell of it.
func (c *compiler) pattern(d *draft) {
	diags := c.Diags
	c.Diags = &c.ofPatterns
	defer func() { c.Diags = diags }()
	if web, ok := d.Dim(dim.Web); ok && !slices.ContainsFunc(d.thing.Lines, speaksOfWeb) {
		c.System.Vars[web].Signed = true // too small a pitch is told of the rows
		c.own(d, d.V(dim.Web), relation.Minus(d.V(dim.Pitch), d.V(dim.HoleAlong)), "")
	}
	if p, ok := d.props["hole"]; ok {
		c.opening(d, p, dim.HoleAlong, dim.HoleAcross)
	}
	c.gapList(d)
}

// speaksOfWeb reports whether a line, but a check, is about a web.
func speaksOfWeb(l *resolve.Line) bool {
	switch s := l.Stmt.(type) {
	case *ast.Relation:
		return names(s.First, dim.Web) || slices.ContainsFunc(s.Rest, func(side ast.Side) bool { return names(side.Value, dim.Web) })
	case *ast.Prefer:
		return names(s.Left, dim.Web) || names(s.Right, dim.Web)
	}
	return false
}

// dimsOf are some dimensions of a thing, which it has.
func dimsOf(d *draft, names ...dim.Name) []relation.VarID {
	ids := make([]relation.VarID, len(names))
	for i, n := range names {
		ids[i], _ = d.Dim(n)
	}
	return ids
}

// gapList compiles `gaps = 19, 19, 70, 19, 19`.
func (c *compiler) gapList(d *draft) {
	p, ok := d.props["gaps"]
	if !ok || len(d.Gaps) == 0 {
		return
	}
	values, within, exact := unwrap(p.value)
	if within != nil && d.Bench == 0 {
		c.Value(p.value, p.scope) // says that it belongs to a reading
	}
	for i, e := range values {
		name := model.GapName(i + 1)
		if p.of.Lacks(name) {
			continue
		}
		left := expr.OfDimension(d.Gaps[i], unit.Length, e.Span())
		x, ok := c.As(e, p.scope, unit.Length, d.Path+"."+name)
		if !ok {
			continue
		}
		if read, known := x.Constant(); d.Bench > 0 && c.onlyNumbers(e, p.scope) && !exact && known && !ofPattern(p.from) {
			if tool, ok := c.tool(d, p.asLine(), []ast.Expr{e}, within, unit.Length); ok {
				c.addReading(d, left, []float64{read}, tool, e.Span(), name)
			}
			continue
		}
		c.stated(d, d.Gaps[i], x, p, e)
	}
}

// stated adds a size that a property states among others, as e.
func (c *compiler) stated(d *draft, id relation.VarID, right relation.Expr, p property, e ast.Expr) {
	rel := relation.Relation{Sign: relation.EQ, Left: relation.V(id), Right: right, Role: relation.Stated, Bench: d.Bench, At: p.line.Span(),
		Words: c.System.Vars[id].Name + " = " + e.Span().Short()}
	c.origin(&rel, p.asLine())
	if d.Bench > 0 && !c.staysOnBench(d, e.Span(), rel.Left, rel.Right) {
		return
	}
	c.System.Relations = append(c.System.Relations, rel)
}

// noGap reports `gap 3` or `corner ...` on the left of a line of a thing that has
// none; it is not asked of a panel's corners.
func (c *compiler) noGap(d *draft, left ast.Expr) bool {
	g, ok := left.(*ast.Indexed)
	if !ok || isGap(g) && d.thing.Kind.Indexed == dim.Gap.String() {
		return false
	}
	c.Diags.Errorf("unknown-name", left.Span(), "%s has no %s", d.thing.Kind.One(), g.Word.Name).
		WithHelp("corner belongs to a panel and gap to a row")
	return true
}

// covered is the notebook's row on which a panel's row lies; nil if that isn't there.
func (c *compiler) covered(d *draft) *draft {
	if d.thing.CoverOf == nil {
		return nil
	}
	if book := c.draft(d.thing.CoverOf); !book.absent {
		return book
	}
	return nil
}

// coverRow lays a panel's row on the notebook's: the same centres, the holes
// opened by ease.
func (c *compiler) coverRow(d, book *draft, row *model.Row) {
	panel := d.parent
	fact := func(left, right relation.Expr) {
		c.System.Relations = append(c.System.Relations, relation.Relation{Sign: relation.EQ, Left: left, Right: right,
			Role: relation.Fact, At: book.At})
	}
	same := func(n dim.Name) { fact(d.V(n), book.V(n)) }
	same(dim.Count)
	_, even := d.Dim(dim.Pitch)
	_, bookEven := book.Dim(dim.Pitch)
	switch {
	case len(d.Gaps) > 0 && len(d.Gaps) == len(book.Gaps):
		for i, id := range d.Gaps {
			fact(relation.V(id), relation.V(book.Gaps[i]))
		}
	case even && bookEven:
		same(dim.Pitch)
		same(dim.Run) // follows from the two before, but as a product
	case bookEven: // what it lists was measured as a pitch
		for _, id := range d.Gaps {
			fact(relation.V(id), book.V(dim.Pitch))
		}
	}
	if _, own := d.props["hole"]; !own {
		c.eased = append(c.eased, easedRow{d, book, row})
	}
	start, _ := row.Edge.Ends()
	middle := func(of *draft, near, size dim.Name) relation.Expr {
		return relation.Add(of.V(near), relation.Div(of.V(size), relation.C(2)))
	}
	centred := func(near, size dim.Name, edge word.Edge) {
		fact(middle(d, near, size), relation.Add(append(middle(book, near, size).Args, panel.V(dim.Over(edge)))...))
	}
	centred(dim.First, dim.HoleAlong, start)
	centred(dim.Inset, dim.HoleAcross, row.Edge)
	c.holds(d, dim.Ease, dim.None, rowEasePhase)
}

// An easedRow is a covering row that states no hole of its own.
type easedRow struct {
	d, book *draft
	row     *model.Row
}

// easeHoles gives the holes of covering rows the sizes of those measured, opened
// by the ease. A size that a line of the panel states is cut as stated: it opens
// nothing else. It comes after all lines.
func (c *compiler) easeHoles() {
	if len(c.eased) == 0 {
		return
	}
	stated := map[relation.VarID]bool{}
	for i := range c.System.Relations {
		r := &c.System.Relations[i]
		if r.Sign != relation.EQ || r.Role != relation.Stated || r.Bench != 0 {
			continue
		}
		if v, ok := r.Subject(); ok {
			stated[v] = true
		}
	}
	idle := map[relation.VarID]*unusedEase{}
	for _, e := range c.eased {
		first := c.tally()
		along, across := dimsOf(e.d, dim.HoleAlong)[0], dimsOf(e.d, dim.HoleAcross)[0]
		e.row.OwnSize = stated[along] || stated[across]
		tied := (stated[along] || stated[across]) && c.tie(e.d, e.row.Form(), dim.HoleAlong, dim.HoleAcross)
		if tied || stated[along] && stated[across] {
			if ease, has := e.d.Dim(dim.Ease); has && !c.easesNeck(e.d) {
				idle[ease] = &unusedEase{}
			}
			continue
		}
		easeAlong, easeAcross := e.row.Form().Ease()
		for _, size := range []struct {
			n      dim.Name
			id     relation.VarID
			factor float64
		}{{dim.HoleAlong, along, easeAlong}, {dim.HoleAcross, across, easeAcross}} {
			if stated[size.id] {
				continue
			}
			ease := e.d.V(dim.Ease)
			if size.factor != 1 {
				ease = relation.Mul(relation.C(size.factor), ease)
			}
			c.System.Relations = append(c.System.Relations, relation.Relation{Sign: relation.EQ, Left: relation.V(size.id),
				Right: relation.Add(e.book.V(size.n), ease), Role: relation.Fact, At: e.book.At})
		}
		c.owns(e.d, first)
	}
	c.opensNothing(idle)
}

// easesNeck reports whether a row has its neck from the notebook's, which its ease opens
// whatever size its holes are.
func (c *compiler) easesNeck(d *draft) bool {
	if d.thing.CoverOf == nil {
		return false
	}
	_, own := d.props["neck"]
	_, measured := c.draft(d.thing.CoverOf).props["neck"]
	return measured && !own
}

// An unusedEase is that of a row both sizes of whose holes are stated.
type unusedEase struct {
	about []source.Span // lines about it
	taken bool          // another line takes it up
}

// opensNothing warns of lines about such eases that no other line takes up.
func (c *compiler) opensNothing(idle map[relation.VarID]*unusedEase) {
	if len(idle) == 0 {
		return
	}
	opens := map[source.Span]bool{} // lines that are about the ease of another board's row too
	look := func(subject relation.VarID, has bool, at source.Span, sides relation.Relation) {
		if has && idle[subject] == nil {
			opens[at] = true
		}
		for _, v := range sides.Vars() {
			switch e := idle[v]; {
			case e == nil:
			case has && subject == v:
				e.about = append(e.about, at)
			default:
				e.taken = true
			}
		}
	}
	for i := range c.System.Relations {
		if r := &c.System.Relations[i]; r.Role == relation.Stated {
			subject, has := r.Subject()
			look(subject, has, r.At, *r)
		}
	}
	for i := range c.System.Wishes {
		w := &c.System.Wishes[i]
		subject, has := w.Subject()
		look(subject, has, w.At, relation.Relation{Left: w.Left, Right: w.Right})
	}
	for _, row := range c.eased {
		ease, _ := row.d.Dim(dim.Ease)
		e := idle[ease]
		if e == nil || e.taken {
			continue
		}
		for _, at := range slices.Compact(e.about) { // a chain has several relations
			if opens[at] {
				continue
			}
			c.Diags.Warnf("idle-ease", at, "this ease does nothing: the size of the holes of %s is stated", row.d.thing.Path()).
				WithHelp("%s", statedIsCut)
		}
	}
}
