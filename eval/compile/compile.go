package compile

import (
	"strings"

	"foredge/eval/dim"
	"foredge/eval/expr"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/orders"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// An Input is what is compiled.
type Input struct {
	Info  *resolve.Info
	Files resolve.Files
	// Orders is the table of orders and Order the one that is built; nil if there
	// is none.
	Orders *orders.Table
	Order  *orders.Row
	// Ask names dimensions that the design is to have even if no line speaks of
	// them: those of a field's members. Other names are passed over.
	Ask []string
	// Diags are what is wrong so far. Where that includes errors, what seems to be
	// missing is not reported.
	Diags diag.List
}

// The ranks of the defaults.
const (
	easePhase = iota // of panels
	rowEasePhase
	radiusPhase // of lattices, on which sizes may hang, and what a coil climbs
	overhangPhase
	foredgePhase // what overhangs leave of a panel's width
	rowPhase
	boxPhase
	overlapPhase // of a case in quarter or half
	spinePhase
	cornerPhase
	mitrePhase // of a case that is turned in
)

// A compiler carries what compiling one design gathers.
type compiler struct {
	*model.Design
	*expr.Compiler
	info   *resolve.Info
	files  resolve.Files
	drafts map[*resolve.Thing]*draft
	lets   map[*resolve.Let]named // those looked into
	// present are the drafts of the things that take part, as they were met.
	present []*draft
	// placed are the defaults that place a thing in its panel, owner and wishOwner
	// the thing in which each relation and wish stands, as far as it was noted.
	placed           []placing
	owner, wishOwner []*draft
	// eased are the rows whose holes are those of a notebook, holding the defaults
	// that hold unless a line speaks of what they are about.
	eased   []easedRow
	holding []holding
	seen    map[sight]*sighted
	// once are the things that were asked what they state twice.
	once map[*resolve.Thing]bool
	// sheet is the stock whose thickness a material's lines speak of.
	sheet *draft
	// trying is the style that is compiled by itself, or nil.
	trying *resolve.Thing
	// absent are the things that aren't there, as they were met, but for what stands
	// in them; apart is nil unless it is they that are compiled.
	absent []*resolve.Thing
	apart  *apartFrom
	// unpromised are, by notebook or stock, its readings of which nothing says how
	// accurate they are.
	unpromised map[*resolve.Thing][]unpromised
	// ofPatterns is what is wrong in patterns' holes and gaps, told where no row tells it.
	ofPatterns diag.List
	// asked are the conditions that were looked into.
	asked map[ast.Expr]bool
}

// A draft is a thing that is being compiled, beside what the text says of it.
type draft struct {
	*model.Thing // of node
	node         model.Node
	thing        *resolve.Thing
	parent       *draft
	props        map[string]property
	absent       bool   // a `when` that doesn't hold: the thing isn't there
	undecided    bool   // while its `when` is asked
	binding      *draft // what goes through a row's holes, or nil
	// lengths are those of a binding that its own equations give; see lengthsOf.
	lengths map[relation.VarID]float64
}

// A property is a line that is no relation: corners, material, lay. For parts that
// were stated more than once the last line counts, as own lines come last.
type property struct {
	value ast.Expr
	line  *ast.Relation
	scope *resolve.Scope
	from  *resolve.Thing
	of    *resolve.Line // the line as it was resolved; nil in the braces of a mark
}

// lacks reports whether a nearer line states a part of the property.
func (p property) lacks(part dim.Name) bool { return p.of != nil && p.of.Lacks(part.String()) }

func (p property) at() source.Span { return p.value.Span() }

// asLine is the property as the line that states it.
func (p property) asLine() *resolve.Line {
	return &resolve.Line{Stmt: p.line, Scope: p.scope, From: p.from}
}

// Compile gives the model of a design, and all diagnostics so far. The model is
// usable even when there are errors: the broken lines are then left out.
func Compile(in Input) (*model.Design, diag.List) {
	diags := in.Diags
	c := newCompiler(in, &diags)
	main := in.Info.Main
	c.Name, c.At = baseName(main.Source.Name()), source.Span{File: main.Source}
	c.compile()
	for _, name := range in.Ask {
		c.ask(name)
	}
	c.Broken = in.Info.Broken || diags.HasErrors()
	return c.Design, diags
}

// newCompiler is for a design, or for what is compiled apart from it, whose advice has
// sizes in the units of the same files.
func newCompiler(in Input, diags *diag.List) *compiler {
	units := map[*source.File]unit.Unit{}
	for _, f := range in.Info.All {
		units[f.Source] = f.Unit
	}
	c := &compiler{Design: model.New(units), info: in.Info, files: in.Files,
		drafts: map[*resolve.Thing]*draft{}, lets: map[*resolve.Let]named{}, asked: map[ast.Expr]bool{}, unpromised: map[*resolve.Thing][]unpromised{}, seen: map[sight]*sighted{}, once: map[*resolve.Thing]bool{}}
	c.Compiler = &expr.Compiler{Diags: diags, Dims: c, Declared: in.Info.Orders, Orders: in.Orders, Order: in.Order}
	c.Unit = in.Info.Main.Unit
	return c
}

// baseName is a file's name without its folder and ending.
func baseName(path string) string {
	if i := strings.LastIndexAny(path, `/\`); i >= 0 {
		path = path[i+1:]
	}
	return strings.TrimSuffix(path, ".fore")
}

func (c *compiler) compile() {
	dims, lines := sizes(c.info.Main.Things)
	c.Reserve(dims, dims+lines)
	c.Shared = true
	for _, t := range c.info.Main.Things {
		if !t.Kind.Template && t.Kind.ID != kind.Style {
			c.draft(t)
		}
		c.Shared = c.Shared && t.Kind.ID != kind.Panel && t.Kind.ID != kind.Case
	}
	for _, l := range c.info.Main.Lines {
		c.line(nil, l)
	}
	for _, l := range c.info.Main.Lets {
		c.letDim(l)
	}
	c.machine()
	c.sameStocks()
	c.usedLines()
	c.easeHoles()
	c.afterLines()
	c.tell(c.ofPatterns, nil)
	c.idleStyles()
	c.lookThrough()
	c.idleNames()
	c.letsLack()
	c.idleLets()
	c.unlikeTexts()
	c.shadowedLets()
	c.linesTwice()
	c.leftAlong()
	c.idleGaps()
	c.idleNotebooks()
	c.tellUnpromised()
	c.holdDefaults()
	c.giveWay()
}

// sizes is about how many dimensions things have with all that is in them, and
// how many lines.
func sizes(things []*resolve.Thing) (dims, lines int) {
	for _, t := range things {
		d, l := sizes(t.Children)
		dims += len(t.Kind.Dims) + d
		lines += len(t.Lines) + l
	}
	return dims, lines
}

// afterLines adds what holds of panels, lattices, fields, cases and stocks and depends on what
// is stated of them, and so must come after all lines.
func (c *compiler) afterLines() {
	var lines lineIndex
	index := func() lineIndex {
		if lines.spoken == nil {
			lines = c.indexLines()
		}
		return lines
	}
	for _, d := range c.present {
		switch n := d.node.(type) {
		case *model.Lattice:
			if n.Panel != nil {
				c.latticeOf(d, n, index())
			}
		case *model.Field:
			if n.Panel != nil {
				c.field(d, n, index())
			}
		case *model.Stitch:
			c.stitch(d, n, index)
		case *model.Case:
			c.needPieces(d, index())
			c.noTabs(n)
		case *model.Panel:
			c.bareRows(d, n)
		case *model.Stock:
			c.likeness(d, n)
			c.asThickAsSame(d)
			if _, said := d.props["material"]; !said {
				c.byItsName(d, n)
			}
		}
	}
}

// draft makes a thing take part, with all that is in it: its dimensions, its
// kind's own relations, then its lines.
func (c *compiler) draft(t *resolve.Thing) *draft {
	if d, ok := c.drafts[t]; ok {
		return d
	}
	if t.Parent != nil {
		// A thing takes part as a part of the whole that it stands in.
		c.draft(t.Parent)
		if d, ok := c.drafts[t]; ok {
			return d
		}
	}
	d := &draft{thing: t, parent: c.drafts[t.Parent], props: map[string]property{}}
	c.drafts[t] = d
	if d.parent != nil {
		d.absent = d.parent.absent
	}
	c.node(d)
	if c.apart != nil {
		defer c.listen(t)()
		for _, when := range t.When {
			c.Now(when) // for what in it means nothing
		}
	} else if c.isAbsent(d) {
		return d
	}
	c.present = append(c.present, d)
	c.Things = append(c.Things, d.node)
	c.gatherProps(d)
	if t.Kind.Bench && (t.Kind.ID != kind.Stock || c.measuredStock(d)) {
		c.System.Benches = append(c.System.Benches, relation.Bench{Name: d.Path, At: t.At})
		d.Bench = len(c.System.Benches)
	}
	c.dimensions(d)
	if c.apart != nil && !c.apart.has(t) {
		return d // it is there only for others to speak of
	}
	for _, child := range t.Children {
		c.hold(d, c.draft(child))
	}
	first := c.tally()
	c.relations(d)
	for _, l := range t.Lets {
		c.Known(l.Stmt.Value, l.Scope) // it is worked out where it is needed: it may rest on what isn't there
	}
	for _, l := range t.Lines {
		c.line(d, l)
	}
	c.owns(d, first)
	switch n := d.node.(type) {
	case *model.Region:
		c.marks(d, n)
	case *model.Tabs:
		c.marks(d, &n.Region)
		ownTexts(d, n)
		c.checkTabs(d, n)
	}
	return d
}

// isAbsent asks the conditions of a thing, whether it or what it stands in isn't
// there.
func (c *compiler) isAbsent(d *draft) bool {
	outer := d.absent
	d.undecided = true
	for _, when := range d.thing.When {
		c.asked[when.Expr] = true
		if holds, known := c.Now(when); known && !holds {
			d.absent = true
		}
	}
	d.undecided = false
	if d.absent && !outer && !d.thing.File.Shelf {
		c.absent = append(c.absent, d.thing)
		c.statedOutside(d.thing, d.thing)
	}
	return d.absent
}

// node gives a draft the thing of the model that it becomes, and that thing what
// it stands in.
func (c *compiler) node(d *draft) {
	t := d.thing
	thing := model.Thing{Kind: t.Kind.ID, Name: t.Name, Path: t.Name, At: t.At, Unit: t.File.Unit, Built: t.File == c.info.Main}
	var panel *model.Panel
	var field *model.Field
	if d.parent != nil {
		thing.Path = d.parent.Path + "." + t.Name
		thing.Bench = d.parent.Bench
		thing.Unit = d.parent.Unit // though what it is like may be another file's
		switch outer := d.parent.node.(type) {
		case *model.Panel:
			panel = outer
		case *model.Field:
			panel, field = outer.Panel, outer
		}
	}
	box := model.Box{Thing: thing, Panel: panel, Field: field}
	switch t.Kind.ID {
	case kind.Notebook:
		d.node = &model.Notebook{Thing: thing}
	case kind.Panel, kind.Style:
		d.node = &model.Panel{Thing: thing, Mirrored: t.Mirrored}
	case kind.Row:
		row := &model.Row{Thing: thing, Panel: panel, Edge: t.Edge, Declared: t.Decl != nil}
		if book, ok := d.parent.node.(*model.Notebook); ok {
			row.Book = book
		}
		d.node = row
	case kind.Region:
		d.node = &model.Region{Box: box}
	case kind.Cutout:
		d.node = &model.Cutout{Box: box}
	case kind.Tabs:
		d.node = &model.Tabs{Region: model.Region{Box: box}, Edge: t.Edge}
	case kind.Stitch:
		d.node = &model.Stitch{Thing: thing, Panel: panel}
	case kind.Lattice:
		d.node = &model.Lattice{Box: box}
	case kind.Field:
		d.node = &model.Field{Box: box}
	case kind.Line:
		d.node = &model.Line{Thing: thing}
	case kind.Gap:
		d.node = &model.Gap{Thing: thing}
	case kind.Pattern:
		d.node = &model.Pattern{Thing: thing}
	case kind.Case:
		d.node = &model.Case{Thing: thing}
	case kind.Stock:
		d.node = &model.Stock{Thing: thing}
	case kind.Material:
		d.node = &model.Material{Thing: thing}
	case kind.Laser:
		d.node = &model.Laser{Thing: thing}
	case kind.Binding:
		b := &model.Binding{Thing: thing}
		if d.parent != nil {
			b.Row, _ = d.parent.node.(*model.Row)
		}
		d.node = b
	}
	d.Thing = d.node.Base()
}

// hold puts a thing into what it stands in.
func (c *compiler) hold(outer, d *draft) {
	if d.absent {
		return
	}
	switch o := outer.node.(type) {
	case *model.Panel:
		o.Parts = append(o.Parts, d.node)
	case *model.Field:
		o.Each = append(o.Each, d.node)
	case *model.Notebook:
		if row, ok := d.node.(*model.Row); ok {
			o.Rows = append(o.Rows, row)
		}
	}
}

// dimensions gives a draft its dimensions, before what stands in it is compiled.
func (c *compiler) dimensions(d *draft) {
	switch d.Kind {
	case kind.Row, kind.Pattern:
		c.rowDimensions(d)
	default:
		for _, n := range d.thing.Kind.Dims {
			if !c.onDemand(d, n) {
				c.addDim(d, n)
			}
		}
	}
}

// onDemand reports whether a thing has no use for a dimension unless a line
// mentions it: the least radius of a lattice, how far the members of a field are
// apart, the thickness of a wire, the pair of a loop. What it lacks it
// never has, nor what a field repeats a place of its own.
func (c *compiler) onDemand(d *draft, n dim.Name) bool {
	if !d.thing.Has(n) {
		return true
	}
	switch d.Kind {
	case kind.Row:
		return n == dim.Wire
	case kind.Lattice:
		return n == dim.Radius
	case kind.Field:
		return n == dim.GapAcross || n == dim.GapDown || n == dim.PitchAcross || n == dim.PitchDown
	case kind.Cutout, kind.Region:
		// Where it lies is the field's to say.
		return d.parent != nil && d.parent.Kind == kind.Field && n != dim.Width && n != dim.Height
	case kind.Material:
		return true
	case kind.Binding:
		return n == dim.Pair
	}
	return false
}

// relations adds what holds of every thing of the draft's kind, once what stands
// in it has its dimensions.
func (c *compiler) relations(d *draft) {
	c.reachesOut(d)
	if d.thing.Kind.Template && d.parent == nil {
		// It stands on no panel: what it states itself is all there is.
		if cutout, ok := d.node.(*model.Cutout); ok {
			c.cutout(d, cutout)
		}
		return
	}
	switch n := d.node.(type) {
	case *model.Panel:
		c.panel(d, n)
	case *model.Row:
		c.row(d, n)
	case *model.Pattern:
		c.pattern(d)
	case *model.Region:
		c.box(d, &n.Box)
	case *model.Cutout:
		c.box(d, &n.Box)
		c.cutout(d, n)
	case *model.Field:
		c.box(d, &n.Box)
	case *model.Lattice:
		c.box(d, &n.Box)
	case *model.Line:
		c.lineAcross(d)
	case *model.Gap:
		c.need(d, dim.Width)
	case *model.Case:
		c.caseOf(d, n)
	case *model.Binding:
		c.binding(d, n)
	}
}

// addDim gives a draft a dimension.
func (c *compiler) addDim(d *draft, n dim.Name) relation.VarID {
	id := c.Add(c.newVar(d, n, n.String()), d.node)
	d.SetDim(n, id)
	return id
}

// addGap gives a row the next of its gaps.
func (c *compiler) addGap(d *draft) {
	d.Gaps = append(d.Gaps, c.Add(c.newVar(d, dim.Gap, model.GapName(len(d.Gaps)+1)), d.node))
}

func (c *compiler) newVar(d *draft, n dim.Name, name string) relation.Var {
	return relation.Var{Name: d.Path + "." + name, Kind: n.Kind(), Signed: n.Signed(), Whole: n.Kind() == unit.Count,
		Bench: d.Bench, At: d.At}
}

// need marks dimensions on which the drawing depends.
func (c *compiler) need(d *draft, names ...dim.Name) {
	for _, n := range names {
		if id, ok := d.Dim(n); ok {
			c.System.Vars[id].Needed = true
		}
	}
}

// needExpr marks the dimensions of which an expression speaks.
func (c *compiler) needExpr(e relation.Expr) {
	if e.Op == relation.Ref {
		c.System.Vars[e.Var].Needed = true
	}
	for _, a := range e.Args {
		c.needExpr(a)
	}
}

// own adds a relation that a kind always carries. why may be empty.
func (c *compiler) own(d *draft, left, right relation.Expr, why string) {
	c.System.Relations = append(c.System.Relations, relation.Relation{Sign: relation.EQ, Left: left, Right: right,
		Role: relation.Own, Bench: d.Bench, At: d.At, Why: why})
}

// ownLeast adds a limit of the kind itself: left is at least right.
func (c *compiler) ownLeast(d *draft, left, right relation.Expr, why string) {
	c.System.Relations = append(c.System.Relations, relation.Relation{Sign: relation.GE, Left: left, Right: right,
		Role: relation.Own, Bench: d.Bench, At: d.At, Why: why})
}

// byDefault adds a line that holds if nothing stated decides otherwise.
func (c *compiler) byDefault(rank int, d relation.Default) {
	d.Rank = rank
	c.System.Defaults = append(c.System.Defaults, d)
}

// letDim makes a named number appear among the dimensions under its own name.
func (c *compiler) letDim(l *resolve.Let) {
	v, ok := c.Let(l, l.Stmt.Name.At)
	if !ok || v.Kind == unit.Text || v.Kind == unit.Truth || v.Kind == unit.Form || v.Kind == unit.Length && v.Power != 1 {
		return
	}
	id := c.Add(relation.Var{Name: l.Path(), Kind: v.Kind, Signed: true, At: l.Stmt.Name.At}, nil)
	role := relation.Own
	if _, known := v.Expr.Constant(); known {
		role = relation.Stated
	}
	c.System.Relations = append(c.System.Relations, relation.Relation{Sign: relation.EQ, Left: relation.V(id), Right: v.Expr,
		Role: role, At: l.Stmt.Span(), Words: l.Path() + " = " + v.At.Text()})
}
