package eval

import (
	"foredge/eval/kind"
	"foredge/eval/orders"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// Files brings in what a design names besides itself.
type Files = resolve.Files

// A Model is a design as dimensions and relations, ready to be solved.
type Model struct {
	System *relation.System
	info   *resolve.Info
	items  []*item // the things that take part, in the order in which they were met
	byPath map[string]*item
	// dims finds a dimension by the name it has from the top.
	dims   map[string]relation.VarID
	owners []*item // of each dimension; nil for a named value
	checks []check
	laser  *item
	// broken says that errors were found, so that solving may tell less.
	broken bool
	files  Files
}

// An item is a thing that takes part in the design, with its dimensions.
type item struct {
	thing  *resolve.Thing
	parent *item
	vars   map[string]relation.VarID
	props  map[string]prop
	// exprs are the values of properties that speak of dimensions: a corner's
	// radius, the distance that a region keeps clear.
	exprs    map[string]relation.Expr
	marks    []mark
	bench    int
	gaps     int // how many gaps a row lists; 0 for an even row
	stock    *item
	material *item // what a stock is made of, if the file knows it
	// onShelf is what the shelf says of a stock's material that the file doesn't
	// know.
	onShelf shelfMaterial
	sheets  map[string]*item // what a spread's covering and lining are cut from
	spread  *item            // the spread in which a panel is drawn
	binding *item            // what goes through a row's holes
	lay     []*item
	layAt   []source.Span
	out     bool // a `when` that doesn't hold: the thing isn't there
}

// A prop is a line that is no relation: corners, material, lay. For parts that
// were stated more than once the last line counts, as own lines come last.
type prop struct {
	value ast.Expr
	line  *ast.Relation
	scope *resolve.Scope
	from  *resolve.Thing
}

func (p prop) at() source.Span { return p.value.Span() }

// The phases of the defaults, in the order in which they are tried.
const (
	easePhase = iota
	overhangPhase
	rowPhase
	boxPhase
	phases
)

type builder struct {
	*Model
	sys      *relation.System
	diags    diag.List
	lets     map[*resolve.Let]*letState
	byThing  map[*resolve.Thing]*item
	defaults [phases][]relation.Default
	// sheet is the stock whose thickness a material's lines speak of.
	sheet *item
	// table is that of the orders and order the one that is built; nil if there is
	// none.
	table *orders.Table
	order *orders.Row
}

// Build turns a parsed design and what it uses into a model. The model is
// usable even when there are errors: the broken lines are then left out. Of a
// design with orders it is that of the first one.
func Build(file *ast.File, files Files) (*Model, diag.List) {
	p := Prepare(file, files, nil)
	m, diags := p.Build(0)
	diags.Add(p.first())
	return m, diags
}

func (p *Prepared) builder(diags diag.List) *builder {
	m := &Model{System: &relation.System{}, info: p.info, byPath: map[string]*item{},
		dims: map[string]relation.VarID{}, files: p.files}
	return &builder{Model: m, sys: m.System, diags: diags, table: p.Orders,
		lets: map[*resolve.Let]*letState{}, byThing: map[*resolve.Thing]*item{}}
}

func (b *builder) build() {
	m, info := b.Model, b.info
	for _, t := range info.Main.Things {
		if !t.Kind.Template {
			b.item(t)
		}
	}
	for _, l := range info.Main.Lines {
		b.line(nil, l)
	}
	for _, l := range info.Main.Lets {
		b.letDim(l)
	}
	b.machine()
	for _, f := range info.All[1:] {
		b.usedLines(f)
	}
	b.lattices()
	for _, d := range b.defaults {
		m.System.Defaults = append(m.System.Defaults, d...)
	}
	m.broken = info.Broken || b.diags.HasErrors()
}

// item makes a thing take part, with all that is in it: its dimensions, its
// kind's own relations, then its lines.
func (b *builder) item(t *resolve.Thing) *item {
	if it, ok := b.byThing[t]; ok {
		return it
	}
	if t.Parent != nil {
		// A thing takes part as a part of the whole that it stands in.
		b.item(t.Parent)
		if it, ok := b.byThing[t]; ok {
			return it
		}
	}
	it := &item{thing: t, vars: map[string]relation.VarID{}, props: map[string]prop{}, exprs: map[string]relation.Expr{}}
	b.byThing[t] = it
	if t.Parent != nil {
		it.parent = b.byThing[t.Parent]
		it.bench = it.parent.bench
		it.out = it.parent.out
	}
	for _, c := range t.When {
		if ok, known := b.now(c); known && !ok {
			it.out = true
		}
	}
	if it.out {
		return it
	}
	b.items = append(b.items, it)
	b.byPath[t.Path()] = it
	b.gatherProps(it)
	if t.Kind.Bench && (t.Kind.Name != "stock" || b.measuredStock(it)) {
		b.sys.Benches = append(b.sys.Benches, relation.Bench{Name: t.Path(), At: t.At})
		it.bench = len(b.sys.Benches)
	}
	b.start(it)
	for _, c := range t.Children {
		b.item(c)
	}
	b.finish(it)
	for _, l := range t.Lines {
		b.line(it, l)
	}
	b.mark(it)
	return it
}

// gatherProps finds the lines that state properties of the thing's kind.
func (b *builder) gatherProps(it *item) {
	for _, l := range it.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 {
			continue
		}
		key := propKey(it.thing.Kind, r.First)
		if key == "" {
			continue
		}
		if old, twice := it.props[key]; twice && old.from == l.From {
			b.diags.Errorf("twice", r.Span(), "%s states its %s twice", it.thing.Path(), key).
				Note(old.line.Span(), "the first is here").WithHelp("take one of the two lines out")
			continue
		}
		it.props[key] = prop{value: r.Rest[0].Value, line: r, scope: l.Scope, from: l.From}
	}
}

// propKey is the property that a line's left side states, "" if it is none.
func propKey(k *kind.Kind, left ast.Expr) string {
	switch left := left.(type) {
	case *ast.Name:
		if len(left.Parts) == 1 && k.Has(left.Parts[0].Name) && left.Parts[0].Name != "gap" && left.Parts[0].Name != "corner" {
			return left.Parts[0].Name
		}
	case *ast.Indexed:
		if left.Word.Name == "corner" && k.Has("corner") {
			return "corner " + left.Index.Name
		}
	}
	return ""
}

// start gives an item its dimensions and what its children need of it.
func (b *builder) start(it *item) {
	switch it.thing.Kind.Name {
	case "row", "pattern":
		b.startRow(it)
	default:
		b.addDims(it)
	}
}

// finish adds the relations that the item's kind carries, once its children
// have their dimensions.
func (b *builder) finish(it *item) {
	if it.thing.Kind.Template && it.parent == nil {
		// It stands on no panel: what it states itself is all there is.
		if p, ok := it.props["shape"]; ok {
			b.opening(it, p, "width", "height")
		}
		return
	}
	switch it.thing.Kind.Name {
	case "panel":
		b.panel(it)
	case "row":
		b.row(it)
	case "region", "cutout", "lattice":
		b.box(it)
	case "line":
		b.scoreLine(it)
	case "gap":
		b.need(it, "width")
	case "spread":
		b.spread(it)
	case "binding":
		b.bindingOwn(it)
	}
}

// addDims gives an item every dimension of its kind but those that only come
// into being when they are spoken of.
func (b *builder) addDims(it *item) {
	for _, d := range it.thing.Kind.Dims {
		if !b.lazyDim(it, d.Name) {
			b.addDim(it, d.Name, d)
		}
	}
}

// lazyDim says of which dimensions a thing has no use unless a line speaks of
// them: overhangs and ease where nothing is covered, the least radius of a
// lattice, the thickness of a wire, what only a loop or a coil has.
func (b *builder) lazyDim(it *item, name string) bool {
	switch it.thing.Kind.Name {
	case "panel":
		return it.thing.Covers == nil && (name == "ease" || len(name) > 5 && name[:5] == "over-")
	case "row":
		return name == "ease" && it.thing.CoverOf == nil || name == "wire"
	case "lattice":
		return name == "radius"
	case "material":
		return true
	case "binding":
		return name == "pair" || name == "pitch"
	}
	return false
}

func (b *builder) addDim(it *item, name string, d kind.Dim) relation.VarID {
	id := relation.VarID(len(b.sys.Vars))
	full := it.thing.Path() + "." + name
	b.sys.Vars = append(b.sys.Vars, relation.Var{Name: full, Kind: d.Kind, Signed: d.Signed,
		Whole: d.Kind == unit.Count, Bench: it.bench, At: it.thing.At})
	b.owners = append(b.owners, it)
	it.vars[name] = id
	b.dims[full] = id
	return id
}

// need marks dimensions on which the drawing depends.
func (b *builder) need(it *item, names ...string) {
	for _, n := range names {
		if id, ok := it.vars[n]; ok {
			b.sys.Vars[id].Needed = true
		}
	}
}

// dim finds the dimension that a name stands for and makes its thing take
// part. It reports a thing that is not there.
func (b *builder) dim(t *resolve.Thing, name string, at source.Span) (relation.VarID, bool) {
	it := b.item(t)
	if it.out {
		b.diags.Errorf("left-out", at, "%s isn't there: its `when` doesn't hold", t.Path()).
			Note(t.At, "it is declared here").WithHelp("leave this line out, or put it under the same `when`")
		return 0, false
	}
	if id, ok := it.vars[name]; ok {
		return id, true
	}
	d, ok := t.Kind.Dim(name)
	switch {
	case ok && t.Kind.Name == "material" && b.sheet != nil:
		return b.sheet.vars["thick"], true
	case ok && t.Kind.Name == "material":
		b.diags.Errorf("unknown-name", at, "a material has no thickness of its own: %s is that of the sheet made of it", name).
			WithHelp("speak of the stock's thick")
	case ok && (name == "ease" || name == "radius"):
		return b.addDim(it, name, d), true
	case ok && t.Kind.Name == "binding":
		return b.bindingDim(it, d, at)
	case ok && name == "wire":
		if it.parent.thing.Kind.Name == "notebook" {
			return b.addDim(it, name, d), true
		}
		b.diags.Errorf("wire", at, "%s is cut, and only a row of a notebook has a wire", t.Path()).
			WithHelp("state the wire's thickness in the notebook's row, where it was measured")
	case ok && t.Kind.Name == "panel":
		b.diags.Errorf("no-overhang", at, "%s covers nothing, so there is nothing that it could reach past", t.Path()).
			WithHelp("say `covers` and the notebook's name behind the panel's name, or state its size")
	case it.gaps > 0 && (name == "pitch" || name == "web"):
		b.diags.Errorf("unequal-row", at, "%s lists its gaps, so it has no one %s", t.Path(), name).
			WithHelp("speak of a single gap, as in %s.gap.1", t.Path())
	case len(name) > 4 && name[:4] == "gap.":
		if it.gaps == 0 {
			b.diags.Errorf("unequal-row", at, "%s lists no gaps: its holes are evenly spaced", t.Path()).
				WithHelp("list them, as in gaps = 19, 19, 70, 19, 19, or speak of its pitch")
		} else {
			b.diags.Errorf("unequal-row", at, "%s has %d gaps; there is no gap %s", t.Path(), it.gaps, name[4:])
		}
	default:
		b.diags.Errorf("unknown-name", at, "the %s %s has no %s", t.Kind.Name, t.Path(), name)
	}
	return 0, false
}

// own adds a relation that a kind always carries.
func (b *builder) own(it *item, left, right relation.Expr, text string) {
	b.sys.Relations = append(b.sys.Relations, relation.Relation{Sign: relation.EQ, Left: left, Right: right,
		Role: relation.Own, Bench: it.bench, At: it.thing.At, Text: text})
}

// byDefault adds a line that holds if nothing stated decides otherwise.
func (b *builder) byDefault(phase int, d relation.Default) {
	b.defaults[phase] = append(b.defaults[phase], d)
}

// usedLines adds the lines at the top of a used file that speak only of things
// that take part in this design.
func (b *builder) usedLines(f *resolve.File) {
	for _, l := range f.Lines {
		if b.concerns(l) {
			b.line(nil, l)
		}
	}
}

// concerns reports whether a line speaks of a thing, and only of things that
// take part.
func (b *builder) concerns(l *resolve.Line) bool {
	any, all := false, true
	ast.Walk(l.Stmt, func(n ast.Node) bool {
		if name, ok := n.(*ast.Name); ok {
			if sym, problem := l.Scope.Lookup(name); problem == nil && sym.Thing != nil {
				any = true
				if it := b.byThing[sym.Thing]; it == nil || it.out {
					all = false
				}
			}
		}
		return true
	})
	return any && all
}

// letDim makes a named number appear among the dimensions under its own name.
func (b *builder) letDim(l *resolve.Let) {
	v, ok := b.let(l, l.Stmt.Name.At)
	if !ok || v.kind == unit.Text || v.kind == unit.Truth {
		return
	}
	if v.kind == unit.Length && v.power != 1 {
		return
	}
	id := relation.VarID(len(b.sys.Vars))
	b.sys.Vars = append(b.sys.Vars, relation.Var{Name: l.Path(), Kind: v.kind, Signed: true, At: l.Stmt.Name.At})
	b.owners = append(b.owners, nil)
	b.dims[l.Path()] = id
	role := relation.Own
	if _, known := constant(v.expr); known {
		role = relation.Stated
	}
	b.sys.Relations = append(b.sys.Relations, relation.Relation{Sign: relation.EQ, Left: relation.V(id), Right: v.expr,
		Role: role, At: l.Stmt.Span(), Text: l.Path() + " = " + l.Stmt.Value.Span().Text()})
}
