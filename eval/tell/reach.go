package tell

import (
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A part is what stands on a panel, along one of its sizes.
type part struct {
	of              *model.Thing
	near, size, far float64 // NaN where no line decides it; mm
	start, end      word.Edge
}

// A board is a panel that covers a notebook, along one of its sizes.
type board struct {
	panel *model.Panel
	along dim.Name // width or height
	size  float64  // what the notebook and the overhangs make of it, mm
}

// reaches tells of lines that leave no room for what stands on a board which is
// as large as its notebook and its overhangs make it. It gives false for a clash of
// other things.
func (t *teller) reaches(c solve.Clash) bool {
	b, ok := t.boardOf(c)
	if !ok {
		return false
	}
	line := t.lastOfPart(c, b.panel)
	if line == nil {
		return false
	}
	var p part
	reach := 0.0
	for _, n := range t.partsOf(c, b.panel) {
		q, ok := t.along(n, b.along)
		if !ok {
			return false
		}
		over := q.takes() - b.size
		if over > nothing && over > reach || over < -nothing && reach == 0 && !math.IsNaN(q.near+q.far) {
			p, reach = q, over
		}
	}
	if reach == 0 {
		return t.fitsNot(c, b, line)
	}
	t.reachesPast(c, b, p, reach, line)
	return true
}

// nothing is by how little a length is no other one, in mm.
const nothing = 1e-6

// takes is how much of the board's size a part takes, with its distances as far
// as lines decide them; NaN where its own size is open.
func (p *part) takes() float64 {
	sum := p.size
	for _, distance := range []float64{p.near, p.far} {
		if !math.IsNaN(distance) {
			sum += distance
		}
	}
	return sum
}

// past is the edge past which a part reaches, if its place is measured from the
// other one alone.
func (p *part) past() word.Edge {
	switch {
	case math.IsNaN(p.near) == math.IsNaN(p.far):
		return word.NoEdge
	case math.IsNaN(p.far):
		return p.end
	}
	return p.start
}

func (t *teller) reachesPast(c solve.Clash, b board, p part, reach float64, line *relation.Relation) {
	length := func(v float64) string { return t.Format(math.Abs(v), unit.Length, line.At) }
	what, size := p.of.Kind.String()+" "+p.of.Path, t.sizeWords(b, line.At)
	var d *diag.Diagnostic
	edge := p.past()
	switch {
	case edge != word.NoEdge:
		d = t.diags.Errorf("past-edge", line.At, "%s reaches %s past the %s of %s", what, length(reach), edge, size)
	case math.IsNaN(p.near):
		d = t.diags.Errorf("past-edge", line.At, "%s takes %s, %s more than %s", what, length(p.takes()), length(reach), size)
	default:
		d = t.diags.Errorf("past-edge", line.At, "%s and its distances take %s, %s %s than %s", what, length(p.takes()), length(reach),
			map[bool]string{true: "more", false: "less"}[reach > 0], size)
	}
	t.noteOthers(d, c, line)
	if edge == word.NoEdge {
		edge = p.end
	}
	mend := "make it smaller, or move it"
	if reach < 0 {
		mend = "take one of its lines out, or change it"
	}
	over := dim.Over(edge)
	d.WithHelp("%s; if %s is to have another size, say how far it reaches past %s, as in %s = %s", mend, b.panel.Path, b.panel.Covers.Path,
		over, t.Format(t.overhang(c, b.panel, over)+reach, unit.Length, line.At))
}

// fitsNot tells the same of lines that bound where a part lies, by the last of
// them.
func (t *teller) fitsNot(c solve.Clash, b board, line *relation.Relation) bool {
	if !finite(c.Miss) {
		return false
	}
	d := t.diags.Errorf("past-edge", line.At, "this doesn't fit on %s: it is %s too far", t.sizeWords(b, line.At), t.Format(math.Abs(c.Miss), t.KindOf(line.Left), line.At))
	t.noteOthers(d, c, line)
	d.WithHelp("change one of these lines")
	if over := t.heldOverhang(c); over != "" {
		d.WithHelp("change one of these lines; if %s is to have another size, say how far it reaches past %s, as by %s",
			b.panel.Path, b.panel.Covers.Path, over)
	}
	return true
}

// heldOverhang is the last overhang that a clash takes for 0, as nothing is said
// of it; "" if there is none.
func (t *teller) heldOverhang(c solve.Clash) string {
	for _, i := range slices.Backward(c.Relations) {
		r := &t.System.Relations[i]
		if r.Role == relation.Held && t.kindOfOwner(r.Left) == kind.Panel && !t.isEase(r.Left) {
			return t.System.Vars[r.Left.Var].Name
		}
	}
	return ""
}

// sizeWords names a board with its size: front, which is 105 mm wide.
func (t *teller) sizeWords(b board, at source.Span) string {
	way := "wide"
	if b.along == dim.Height {
		way = "high"
	}
	return b.panel.Path + ", which is " + t.Format(b.size, unit.Length, at) + " " + way
}

// noteOthers points out what else a clash rests on.
func (t *teller) noteOthers(d *diag.Diagnostic, c solve.Clash, line *relation.Relation) {
	for _, n := range t.clashNotes(c, line) {
		if !n.held {
			d.Note(n.at, "%s", n.words)
		}
	}
}

// boardOf finds the board whose size a clash speaks of, as the notebook and what
// holds make it.
func (t *teller) boardOf(c solve.Clash) (board, bool) {
	for _, i := range c.Facts {
		r := &t.System.Relations[i]
		if !t.isSize(r) {
			continue
		}
		b := board{along: dim.Width, size: t.Eval(r.Right.Args[0])}
		b.panel = t.Owners[r.Left.Var].(*model.Panel)
		if b.panel.Is(r.Left.Var, dim.Height) {
			b.along = dim.Height
		}
		for _, over := range r.Right.Args[1:] {
			n, _ := t.nameIn(b.panel, over.Var)
			b.size += t.overhang(c, b.panel, n)
		}
		return b, !math.IsNaN(b.size)
	}
	return board{}, false
}

// isSize reports whether a relation gives a panel that covers a notebook its size.
func (t *teller) isSize(r *relation.Relation) bool {
	if r.Role != relation.Fact || r.Left.Op != relation.Ref {
		return false
	}
	p, ok := t.Owners[r.Left.Var].(*model.Panel)
	return ok && p.Covers != nil && (p.Is(r.Left.Var, dim.Width) || p.Is(r.Left.Var, dim.Height))
}

func (t *teller) nameIn(p *model.Panel, id relation.VarID) (dim.Name, bool) {
	for _, n := range []dim.Name{dim.OverHead, dim.OverTail, dim.OverSpine, dim.OverForedge} {
		if p.Is(id, n) {
			return n, true
		}
	}
	return dim.None, false
}

// overhang is one of a panel's overhangs, as a clash has it.
func (t *teller) overhang(c solve.Clash, p *model.Panel, n dim.Name) float64 {
	id, _ := p.Dim(n)
	for _, i := range c.Relations {
		if r := &t.System.Relations[i]; r.Sign == relation.EQ && r.Left.Op == relation.Ref && r.Left.Var == id {
			if v := t.Eval(r.Right); !math.IsNaN(v) {
				return v
			}
		}
	}
	return t.Value(id)
}

// partsOf lists what stands on a panel and is spoken of by the lines of a clash.
func (t *teller) partsOf(c solve.Clash, p *model.Panel) []model.Node {
	var out []model.Node
	for _, i := range c.Relations {
		r := &t.System.Relations[i]
		if r.Role == relation.Fact || r.Role == relation.Held {
			continue
		}
		for _, v := range r.Vars() {
			if n := t.partOn(p, t.Owners[v]); n != nil && !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}

// partOn is a thing as a part of a panel, what a field repeats as the field; nil if
// it is none.
func (t *teller) partOn(p *model.Panel, n model.Node) model.Node {
	var box *model.Box
	switch n := n.(type) {
	case *model.Row:
		if n.Panel == p {
			return n
		}
		return nil
	case *model.Region:
		box = &n.Box
	case *model.Cutout:
		box = &n.Box
	case *model.Field:
		box = &n.Box
	case *model.Lattice:
		box = &n.Box
	}
	switch {
	case box == nil || box.Panel != p:
		return nil
	case box.Field != nil:
		return box.Field
	}
	return n
}

// lastOfPart is the last line of a clash that speaks of what stands on a panel.
func (t *teller) lastOfPart(c solve.Clash, p *model.Panel) *relation.Relation {
	for _, i := range slices.Backward(c.Relations) {
		r := &t.System.Relations[i]
		if r.Role != relation.Fact && r.Role != relation.Held &&
			slices.ContainsFunc(r.Vars(), func(v relation.VarID) bool { return t.partOn(p, t.Owners[v]) != nil }) {
			return r
		}
	}
	return nil
}

// along is what lines make of a part along one of its panel's sizes, whatever
// size that has. False for what doesn't lie along it, or lies on a measured row.
func (t *teller) along(n model.Node, size dim.Name) (part, bool) {
	if t.loose == nil {
		t.loose = t.Without(t.isSize)
	}
	p := part{of: n.Base(), start: word.Spine, end: word.Foredge}
	if size == dim.Height {
		p.start, p.end = word.Head, word.Tail
	}
	of := func(n dim.Name) float64 { return t.loose.Of(p.of, n) }
	switch n := n.(type) {
	case *model.Row:
		p.near, p.size, p.far = of(dim.First), of(dim.Run)+of(dim.HoleAlong), of(dim.Last)
		return p, n.Covers == nil && dim.Length(n.Edge) == size
	case *model.Region, *model.Cutout, *model.Field, *model.Lattice:
		p.near, p.size, p.far = of(dim.From(p.start)), of(size), of(dim.From(p.end))
		return p, true
	}
	return p, false
}

// asMeasured tells of lines that would move or change holes which lie where they
// were measured. It gives false for a clash of other things.
func (t *teller) asMeasured(c solve.Clash) bool {
	line := &t.System.Relations[c.Relations[len(c.Relations)-1]]
	if line.Role == relation.Fact || line.Role == relation.Held || math.IsNaN(c.Miss) || math.IsNaN(c.Asked) {
		return false
	}
	row := t.measuredRow(c)
	if row == nil || line.Left.Op == relation.Ref && t.standsElsewhere(row, t.Owners[line.Left.Var]) {
		return false
	}
	if c = t.settled(c, line, math.Inf(1)); math.IsInf(c.Asked, 0) {
		return false
	}
	if t.stopsShort(c, row, line) {
		return true
	}
	k := t.KindOf(line.Left)
	if v := t.withoutClashes().Eval(line.Left); !math.IsNaN(v) && !t.isEase(line.Left) {
		// What is so without the line is what a maker looks for, not how far holes could be
		// shrunk to make room for it. An ease can be more than it is by itself.
		if miss := math.Abs(c.Asked - v); miss > math.Abs(c.Miss) {
			c.Low, c.High, c.Miss = v, v, miss
		}
	}
	how, help := "are cut", "if they are to be cut otherwise, state the ease or the hole of "+row.Path
	if t.isEase(line.Left) {
		help = "if they are to be cut otherwise, state the hole of " + row.Path
	}
	if over := t.heldOverhang(c); over != "" {
		how, help = "lie", "if "+row.Panel.Path+" is to lie otherwise on "+row.Panel.Covers.Path+", state "+over
	}
	d := t.diags.Errorf("as-measured", line.At, "the holes of %s %s as %s was measured, which leaves %s; this line asks for %s%s: %s too far",
		row.Path, how, row.Covers.Path, t.leaves(c, t.leftOf(line), k, line.At), bound(line.Sign), t.formatted(c, c.Asked, k, line.At),
		t.formatted(c, math.Abs(c.Miss), k, line.At))
	d.Note(row.Covers.At, "%s was measured here", row.Covers.Path)
	t.noteOthers(d, c, line)
	d.WithHelp("change this line, or measure again; %s", help)
	return true
}

// settled is a clash both sides of whose last line move, and which so asks for no one
// value, with the values that the sides have without the lines that clash: where they
// have some, and the line misses by no more than it is known to, or than most.
func (t *teller) settled(c solve.Clash, line *relation.Relation, most float64) solve.Clash {
	if !math.IsInf(c.Asked, 0) {
		return c
	}
	free := t.withoutClashes()
	left, right := free.Eval(line.Left), free.Eval(line.Right)
	if miss := math.Abs(left - right); miss > nothing && miss <= math.Max(math.Abs(c.Miss)+nothing, most) {
		c.Low, c.High, c.Asked, c.Miss = left, left, right, miss
	}
	return c
}

// stopsShort tells of a board that would end before the holes which its row has from a
// notebook.
func (t *teller) stopsShort(c solve.Clash, row *model.Row, line *relation.Relation) bool {
	if line.Left.Op != relation.Ref {
		return false
	}
	start, end := row.Edge.Ends()
	for _, e := range []struct {
		edge word.Edge
		near dim.Name
	}{{row.Edge, dim.Inset}, {start, dim.First}, {end, dim.Last}} {
		near := t.Of(&row.Covers.Thing, e.near)
		if !row.Panel.Is(line.Left.Var, dim.Over(e.edge)) || !(c.Asked < -near) {
			continue
		}
		length := func(v float64) string { return t.Format(v, unit.Length, line.At) }
		t.diags.Errorf("as-measured", line.At, "the holes of %s lie %s from the %s of %s, so %s can't stop short of it by %s", row.Path, length(near), e.edge,
			row.Panel.Covers.Path, row.Panel.Path, length(-c.Asked)).
			Note(row.Covers.At, "%s was measured here", row.Covers.Path).
			WithHelp("let it stop short by less than %s, or measure again", length(near))
		return true
	}
	return false
}

// standsElsewhere reports whether a thing is another part of the panel than the row.
func (t *teller) standsElsewhere(row *model.Row, n model.Node) bool {
	switch n := n.(type) {
	case *model.Row:
		return n != row
	case *model.Region, *model.Cutout, *model.Line, *model.Lattice, *model.Field:
		return true
	}
	return false
}

// withoutClashes is the design without the lines that clash with others.
func (t *teller) withoutClashes() *solution.Solution {
	if t.unclashed == nil {
		last := map[source.Span]bool{}
		for _, c := range t.Numbers.Clashes {
			if len(c.Relations) > 0 {
				last[t.System.Relations[c.Relations[len(c.Relations)-1]].At] = true
			}
		}
		t.unclashed = t.Without(func(r *relation.Relation) bool { return last[r.At] && r.Role == relation.Stated })
	}
	return t.unclashed
}

// measuredRow is the row whose holes a clash takes as they were measured, beside
// a default that holds; nil if there is none.
func (t *teller) measuredRow(c solve.Clash) (row *model.Row) {
	held := false
	for _, i := range slices.Concat(c.Relations, c.Facts) {
		r := &t.System.Relations[i]
		held = held || r.Role == relation.Held
		if r.Role != relation.Fact {
			continue
		}
		for _, v := range r.Vars() {
			if n, ok := t.Owners[v].(*model.Row); ok && n.Covers != nil {
				row = n
			}
		}
	}
	if !held {
		return nil
	}
	return row
}

// kindOfOwner is the kind of the thing whose dimension an expression is.
func (t *teller) kindOfOwner(e relation.Expr) kind.ID {
	if e.Op == relation.Ref && t.Owners[e.Var] != nil {
		return t.Owners[e.Var].Base().Kind
	}
	return kind.None
}

func (t *teller) isEase(e relation.Expr) bool {
	return e.Op == relation.Ref && t.Owners[e.Var] != nil && t.Owners[e.Var].Base().Is(e.Var, dim.Ease)
}
