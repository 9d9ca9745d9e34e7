package mention

import (
	"cmp"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// A Mention is a place in a text that names something.
type Mention struct {
	At source.Span
	resolve.Symbol
	// Declares says that what is named gets its name here.
	Declares bool
}

// Dimension is the name of the dimension from the top, as a solution has it:
// front.wire.pitch. It is empty for what is no dimension.
func (m Mention) Dimension() string {
	switch {
	case m.Thing == nil || m.Dim == dim.None:
		return ""
	case m.Gap != "":
		return m.Thing.Path() + "." + m.Dim.String() + "." + m.Gap
	}
	path := m.Thing.Path()
	if m.Cell != (resolve.Cell{}) {
		path += "." + m.Cell.Across + "." + m.Cell.Down
	}
	return path + "." + m.Dim.String()
}

// Declaration is where what is named gets its name, zero if that is nowhere in a text.
func (m Mention) Declaration() source.Span {
	switch {
	case m.Let != nil:
		return m.Let.Stmt.Name.At
	case m.Thing != nil && m.Thing.Decl != nil && m.Thing.Decl.Name.Name != "":
		return m.Thing.Decl.Name.At
	case m.Thing != nil:
		return m.Thing.At
	}
	return source.Span{}
}

// An Index holds all mentions of a design and of the files that it uses.
type Index struct {
	info *resolve.Info
	all  map[*source.File][]Mention // in order
}

// Of gathers the mentions of a design.
func Of(info *resolve.Info) *Index {
	x := &Index{info: info, all: map[*source.File][]Mention{}}
	for _, f := range info.All {
		x.lets(f.Lets)
		x.lines(f.Lines)
		for _, t := range f.Things {
			x.thing(t)
		}
	}
	for _, t := range info.Idle {
		x.thing(t)
	}
	x.columns()
	for f, list := range x.all {
		slices.SortStableFunc(list, func(a, b Mention) int {
			return cmp.Or(cmp.Compare(a.At.Start, b.At.Start), cmp.Compare(b.At.End, a.At.End))
		})
		x.all[f] = slices.CompactFunc(list, func(a, b Mention) bool { return a.At == b.At })
	}
	return x
}

// At is the innermost mention at a byte offset of a file, its end included.
func (x *Index) At(f *source.File, offset int) (found Mention, ok bool) {
	for _, m := range x.all[f] {
		if m.At.Start > offset {
			break
		}
		if offset <= m.At.End && (!ok || m.At.End-m.At.Start <= found.At.End-found.At.Start) {
			found, ok = m, true
		}
	}
	return found, ok
}

// In lists the mentions of a file, in order.
func (x *Index) In(f *source.File) []Mention { return x.all[f] }

// All lists where the same is spoken of, by file and place: its declaration too.
// What a thing was given by likeness counts as its own.
func (x *Index) All(of Mention) []Mention {
	var out []Mention
	for _, f := range x.info.All {
		for _, m := range x.all[f.Source] {
			if same(m, of) {
				out = append(out, m)
			}
		}
	}
	return out
}

// same reports whether two mentions are about the same.
func same(a, b Mention) bool {
	switch {
	case a.Let != nil || b.Let != nil:
		return a.Let != nil && b.Let != nil && a.Let.Stmt == b.Let.Stmt
	case a.Order != "" || b.Order != "":
		return a.Order == b.Order
	case a.Dim != b.Dim || a.Gap != b.Gap || a.Cell != b.Cell:
		return false
	}
	return a.Thing == b.Thing || a.Thing != nil && b.Thing != nil && a.Dim == dim.None && declared(a.Thing) == declared(b.Thing)
}

// declared is where a thing is declared, or what it came along from is.
func declared(t *resolve.Thing) any {
	for from := t; from != nil; from = from.Model() {
		if from.Decl != nil {
			return from.Decl
		}
	}
	return t
}

func (x *Index) add(m Mention) {
	if m.At.File != nil && m.At.End > m.At.Start && !m.Broken {
		x.all[m.At.File] = append(x.all[m.At.File], m)
	}
}

// thing gathers what a thing's own text names.
func (x *Index) thing(t *resolve.Thing) {
	if t.Decl != nil {
		x.add(Mention{At: t.Decl.Name.At, Symbol: resolve.Symbol{Thing: t}, Declares: true})
		for _, c := range t.Decl.Clauses {
			x.clause(t, c)
		}
	}
	for _, w := range t.When {
		x.value(w.Expr, w.Scope)
	}
	for name, at := range t.Left {
		x.leftOut(t, name, at)
	}
	x.lets(t.Lets)
	x.lines(t.Lines)
	for _, m := range t.Marks {
		if !m.Scope.Inherited() {
			x.value(m.Stmt.Value, m.Scope)
			if m.Stmt.Body != nil {
				for _, s := range m.Stmt.Body.Stmts {
					x.stmt(s, m.Scope)
				}
			}
		}
	}
	for _, c := range t.Children {
		x.thing(c)
	}
}

// clause gathers what like, mirrors and covers name.
func (x *Index) clause(t *resolve.Thing, c ast.Clause) {
	name, ok := c.Target.(*ast.Name)
	if !ok {
		return
	}
	var to *resolve.Thing
	switch c.Word.Name {
	case "like", "mirrors":
		to = t.Like
	case "covers":
		to = t.Covers
	}
	for i := len(name.Parts) - 1; i >= 0 && to != nil; i, to = i-1, to.Parent {
		if to.Name != name.Parts[i].Name {
			return
		}
		x.add(Mention{At: name.Parts[i].At, Symbol: resolve.Symbol{Thing: to}})
	}
}

// leftOut adds what `without` names, of what the thing is like or covers.
func (x *Index) leftOut(t *resolve.Thing, name string, at source.Span) {
	i := strings.LastIndex(at.Text(), name)
	if i < 0 {
		return
	}
	at.Start += i
	at.End = at.Start + len(name)
	for _, from := range []*resolve.Thing{t.Model(), t.Covers} {
		if from == nil {
			continue
		}
		for _, c := range from.Children {
			if c.Name == name {
				x.add(Mention{At: at, Symbol: resolve.Symbol{Thing: c}})
				return
			}
		}
	}
}

func (x *Index) lets(lets []*resolve.Let) {
	for _, l := range lets {
		if l.Scope.Inherited() {
			continue
		}
		x.add(Mention{At: l.Stmt.Name.At, Symbol: resolve.Symbol{Let: l}, Declares: true})
		x.value(l.Stmt.Value, l.Scope)
	}
}

func (x *Index) lines(lines []*resolve.Line) {
	for _, l := range lines {
		if !l.Scope.Inherited() {
			x.stmt(l.Stmt, l.Scope)
		}
	}
}

// stmt gathers what a line names. What stands alone on its left is what it is about.
func (x *Index) stmt(s ast.Stmt, in *resolve.Scope) {
	first := func(e ast.Expr) {
		if n, ok := e.(*ast.Name); ok {
			if sym, problem := in.Subject(n); problem == nil {
				x.parts(n, sym, in)
				return
			}
		}
		x.value(e, in)
	}
	switch s := s.(type) {
	case *ast.Relation:
		first(s.First)
		for _, side := range s.Rest {
			x.value(side.Value, in)
		}
	case *ast.Prefer:
		first(s.Left)
		x.value(s.Right, in)
		x.value(s.Weight, in)
	case *ast.Check:
		x.value(s.Cond, in)
		x.value(s.Message, in)
	}
}

// value gathers what an expression names.
func (x *Index) value(e ast.Expr, in *resolve.Scope) {
	if e == nil {
		return
	}
	ast.Walk(e, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if ok {
			if sym, means := in.Means(name); means {
				x.parts(name, sym, in)
			}
		}
		return !ok
	})
}

// parts adds a mention of what a whole name stands for, at its last part, and of the
// things that its other parts name.
func (x *Index) parts(n *ast.Name, sym resolve.Symbol, in *resolve.Scope) {
	last := len(n.Parts) - 1
	from := last
	if words := sym.Dim.String(); sym.Dim != dim.None && last > 0 && (sym.Gap != "" || words == n.Parts[last-1].Name+"."+n.Parts[last].Name) {
		from = last - 1 // hole.along is one dimension
	}
	x.add(Mention{At: n.Parts[from].At.To(n.Parts[last].At), Symbol: sym})
	t := sym.Thing
	if sym.Dim == dim.None && t != nil {
		t = t.Parent
	}
	if sym.Cell != (resolve.Cell{}) {
		from = max(0, from-2)
	}
	for i := from - 1; i >= 0 && t != nil && t.Name == n.Parts[i].Name; i, t = i-1, t.Parent {
		x.add(Mention{At: n.Parts[i].At, Symbol: resolve.Symbol{Thing: t}})
	}
}

// columns adds those of the orders.
func (x *Index) columns() {
	if x.info.Orders == nil {
		return
	}
	for _, c := range x.info.Orders.Columns {
		x.add(Mention{At: c.Name.At, Symbol: resolve.Symbol{Order: c.Name.Name}, Declares: true})
	}
}

// Top is where lines at the top of the design's own file stand.
func (x *Index) Top() *resolve.Scope { return x.info.Main.Scope() }

// Things lists what a line at the top of the design's file may name: its own things,
// then those of the files it uses.
func (x *Index) Things() []*resolve.Thing {
	var out []*resolve.Thing
	for _, f := range x.info.All {
		out = append(out, f.Things...)
	}
	return out
}

// Columns are the names of the columns of the orders.
func (x *Index) Columns() []string {
	if x.info.Orders == nil {
		return nil
	}
	names := make([]string, len(x.info.Orders.Columns))
	for i, c := range x.info.Orders.Columns {
		names[i] = c.Name.Name
	}
	return names
}
