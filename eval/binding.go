package eval

import (
	"fmt"
	"math"

	"foredge/eval/kind"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/wire"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

func bindingForms() []string { return []string{"loop", "coil", "ring"} }

// bindingForm is what a binding says that it is, else what it must be by what
// it states: only a coil has a pitch, only a loop a pair of wires.
func (b *builder) bindingForm(it *item) string {
	if p, ok := it.props["form"]; ok {
		if w, ok := propWord(p); ok {
			return w
		}
	}
	form := "ring"
	for _, l := range it.thing.Lines {
		switch {
		case lineSpeaksOf(l, "pitch"):
			return "coil"
		case lineSpeaksOf(l, "pair"):
			form = "loop"
		}
	}
	return form
}

// bindingOwn adds what holds of every binding:
//
//	outside = ring + 2 * wire
func (b *builder) bindingOwn(it *item) {
	v := func(name string) relation.Expr { return relation.V(it.vars[name]) }
	path := it.thing.Path()
	b.own(it, v("outside"), relation.Add(v("ring"), relation.Mul(relation.C(2), v("wire"))),
		fmt.Sprintf("%s.outside = %s.ring + 2 * %s.wire", path, path, path))
}

// bindingDim gives a binding a dimension that only some forms have.
func (b *builder) bindingDim(it *item, d kind.Dim, at source.Span) (relation.VarID, bool) {
	form := b.bindingForm(it)
	switch {
	case d.Name == "pair" && form == "loop", d.Name == "pitch" && form == "coil":
		return b.addDim(it, d.Name, d), true
	case d.Name == "pair":
		b.diags.Errorf("binding", at, "a %s goes through each hole with one wire, so %s has no pair", form, it.thing.Path()).
			WithHelp("pair is how far both wires of a twin loop reach along the edge: write form = loop, or leave it out")
	default:
		b.diags.Errorf("binding", at, "a %s doesn't climb, so %s has no pitch", form, it.thing.Path()).
			WithHelp("the distance of the holes is the row's pitch; for a coil write form = coil")
	}
	return 0, false
}

// rowBinding finds what goes through a row's holes: the binding that the row
// names, one in its braces, the only one in its notebook, or that of the
// notebook's row on which it lies. Of a notebook's row it is the wire, and a coil
// that states its pitch has that of the row.
func (b *builder) rowBinding(it *item) {
	x := b.findBinding(it)
	if x == nil {
		return
	}
	it.binding = x
	path, bpath := it.thing.Path(), x.thing.Path()
	if pitch, ok := x.vars["pitch"]; ok && x.bench == it.bench && it.thing.CoverOf == nil && it.gaps == 0 {
		b.own(it, relation.V(it.vars["pitch"]), relation.V(pitch), fmt.Sprintf("%s.pitch = %s.pitch", path, bpath))
	}
	if it.parent.thing.Kind.Name != "notebook" {
		return
	}
	id, ok := it.vars["wire"]
	if !ok {
		d, _ := it.thing.Kind.Dim("wire")
		id = b.addDim(it, "wire", d)
	}
	text := fmt.Sprintf("%s.wire = %s.wire", path, bpath)
	if x.bench == it.bench {
		b.own(it, relation.V(id), relation.V(x.vars["wire"]), text)
		return
	}
	// A notebook is solved by itself, so what a binding outside it states comes in
	// as a number.
	if e, known := b.stated(x, "wire"); known {
		b.own(it, relation.V(id), e, text)
	}
}

// stated is the number that a thing's line gives for one of its dimensions.
func (b *builder) stated(it *item, dim string) (relation.Expr, bool) {
	for _, l := range it.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 || r.Rest[0].Op != ast.Eq || !lineSpeaksOf(l, dim) {
			continue
		}
		told := len(b.diags)
		e, ok := b.expr(r.Rest[0].Value, l.Scope, unit.Length, dim)
		b.diags = b.diags[:told] // the line itself tells what is wrong with it
		if _, known := constant(e); ok && known {
			return e, true
		}
	}
	return relation.Expr{}, false
}

// findBinding finds a row's binding; nil if it has none.
func (b *builder) findBinding(it *item) *item {
	if p, ok := it.props["binding"]; ok {
		return b.namedBinding(p)
	}
	if x := b.onlyBinding(it.thing); x != nil {
		return x
	}
	if x := b.onlyBinding(it.parent.thing); x != nil {
		return x
	}
	if it.thing.CoverOf != nil {
		return b.item(it.thing.CoverOf).binding
	}
	return nil
}

// onlyBinding is the one binding that stands in a thing; nil if there is none
// or more than one.
func (b *builder) onlyBinding(t *resolve.Thing) *item {
	var found *item
	for _, c := range t.Children {
		if c.Kind.Name != "binding" {
			continue
		}
		x := b.item(c)
		if x.out {
			continue
		}
		if found != nil {
			return nil
		}
		found = x
	}
	return found
}

func (b *builder) namedBinding(p prop) *item {
	const help = "declare one, as in binding loop { ring = 9.5; wire = 0.9 }, and name it here"
	n, ok := p.value.(*ast.Name)
	if !ok {
		if _, bad := p.value.(*ast.BadExpr); !bad {
			b.diags.Errorf("binding", p.at(), "binding must be the name of a binding").WithHelp(help)
		}
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
	if sym.Thing == nil || sym.Dim != "" || sym.Thing.Kind.Name != "binding" {
		b.diags.Errorf("binding", p.at(), "%s is no binding", n.Dotted()).WithHelp(help)
		return nil
	}
	x := b.item(sym.Thing)
	if x.out {
		b.diags.Errorf("left-out", p.at(), "%s isn't there: its `when` doesn't hold", n.Dotted()).
			Note(x.thing.At, "it is declared here").WithHelp("leave this line out, or put the row under the same `when`")
		return nil
	}
	return x
}

// A Bound is a panel's row with the wire that goes through it. Lengths are in
// mm.
type Bound struct {
	Name    string // front.wire
	Panel   string
	Binding string // the binding's name from the top
	Form    string // loop, coil or ring
	// At is the panel, HoleAt the line that gives the holes or else the row or the
	// panel, RingAt the binding.
	At, HoleAt, RingAt source.Span
	Unit               unit.Unit
	// Missing says why there is no answer, in words that follow "because"; empty
	// if Case is complete.
	Missing string
	// LeavesKnown says that the thickness of what lies between the boards is
	// stated; where it isn't, they are taken to lie on one another.
	LeavesKnown bool
	Covers      bool // the row lies on one of a notebook, along its spine
	Case        wire.Case
}

// Bound lists the rows of this design's panels that have a binding, in the
// design's order. Of a design with errors it tells what could be worked out.
func (s *Solution) Bound() []Bound {
	var out []Bound
	for _, it := range s.items {
		if it.binding != nil && it.thing.Kind.Name == "row" && it.parent.thing.Kind.Name == "panel" && it.thing.File == s.info.Main {
			out = append(out, s.bound(it))
		}
	}
	return out
}

func (s *Solution) bound(it *item) Bound {
	panel, x := it.parent, it.binding
	b := &builder{Model: s.Model}
	c := Bound{Name: it.thing.Path(), Panel: panel.thing.Path(), Binding: x.thing.Path(), Form: b.bindingForm(x),
		At: panel.thing.At, HoleAt: panel.thing.At, RingAt: x.thing.At, Unit: it.thing.File.Unit}
	if it.thing.Decl != nil {
		c.HoleAt = it.thing.At
	}
	if p, ok := it.props["hole"]; ok && p.from == nil {
		c.HoleAt = p.line.Span()
	}
	w := wire.Wire{Inside: s.of(x, "ring"), Thick: s.of(x, "wire")}
	switch c.Form {
	case "loop":
		// Two wires side by side are the least that a twin loop can be.
		if w.Over = s.of(x, "pair"); math.IsNaN(w.Over) {
			w.Over = 2 * w.Thick
		}
	case "coil":
		if w.Pitch = s.of(x, "pitch"); math.IsNaN(w.Pitch) {
			w.Pitch = s.of(it, "pitch")
		}
	}
	book := wire.Book{Board: s.of(panel, "thick"), Boards: s.boards(x), Leaves: 0, Reach: 0}
	inset := s.of(it, "inset")
	if book.Boards > 1 {
		book.Reach = inset
	}
	if row := s.coveredRow(it); row != nil {
		c.Covers = it.thing.Edge == "spine"
		book.Reach = math.Max(book.Reach, s.of(row, "inset"))
		if thick := s.of(row.parent, "thick"); !math.IsNaN(thick) {
			book.Leaves, c.LeavesKnown = thick, true
		}
	}
	hole := s.hole(it)
	c.Case = wire.Case{Wire: w, Book: book, Hole: hole, Inset: inset}
	switch {
	case !(w.Inside > 0):
		c.Missing = "the inside diameter (ring) of " + c.Binding + " isn't stated"
	case !(w.Thick > 0):
		c.Missing = "the thickness of the wire of " + c.Binding + " isn't stated"
	case math.IsNaN(w.Pitch):
		c.Missing = "the pitch of " + c.Binding + " isn't stated"
	case !(book.Board > 0):
		c.Missing = "nothing says how thick " + c.Panel + " is"
	case math.IsNaN(inset + book.Reach + hole.Along + hole.Across):
		c.Missing = "its holes could not be worked out"
	}
	return c
}

// coveredRow is the notebook's row on which a panel's row lies, nil if it lies on
// none or that isn't there.
func (s *Solution) coveredRow(it *item) *item {
	if it.thing.CoverOf == nil {
		return nil
	}
	return s.byPath[it.thing.CoverOf.Path()]
}

// boards is how many boards of this design are on a wire, at most a pair.
func (s *Solution) boards(x *item) int {
	n := 0
	for _, it := range s.items {
		if it.binding != x || it.thing.Kind.Name != "row" || it.parent.thing.Kind.Name != "panel" {
			continue
		}
		if k := s.number(it.parent, "copies"); k > 1 {
			n++
		}
		n++
	}
	return min(2, max(1, n))
}
