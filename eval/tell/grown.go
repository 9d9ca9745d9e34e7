package tell

import (
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// grown tells of boards that came out otherwise than is wished of them because of
// what stands on them: a wish about the size of a board that covers leaves it open,
// but only for what lines say of the board itself. A limit says that it may be
// larger or smaller.
func (t *teller) grown() {
	boards := t.openBoards()
	if len(boards) == 0 {
		return
	}
	free := t.Without(func(r *relation.Relation) bool {
		return r.Role == relation.Own && slices.ContainsFunc(boards, func(b board) bool { return t.ties(r, b) })
	})
	told := map[source.Span]bool{} // a mirrored panel repeats the lines that it inherited
	for _, b := range boards {
		b.size = free.Of(b.panel.Base(), b.along)
		if off := t.Of(b.panel.Base(), b.along) - b.size; math.Abs(off) > 1e-4 {
			t.grownBy(free, b, off, told)
		}
	}
}

// openBoards are the panels that cover a notebook, along each size that only wishes
// are about.
func (t *teller) openBoards() []board {
	var boards []board
	for _, n := range t.Things {
		p, ok := n.(*model.Panel)
		if !ok || p.Covers == nil {
			continue
		}
		for _, names := range [][]dim.Name{{dim.Width, dim.OverSpine, dim.OverForedge}, {dim.Height, dim.OverHead, dim.OverTail}} {
			is := func(v relation.VarID) bool {
				return slices.ContainsFunc(names, func(n dim.Name) bool { return p.Is(v, n) })
			}
			wished := slices.ContainsFunc(t.System.Wishes, func(w relation.Wish) bool { return isAbout(w.Left, w.Right, is) })
			limited := slices.ContainsFunc(t.System.Relations, func(r relation.Relation) bool {
				return r.Sign != relation.EQ && r.Role == relation.Stated && isAbout(r.Left, r.Right, is)
			})
			if wished && !limited {
				boards = append(boards, board{panel: p, along: names[0]})
			}
		}
	}
	return boards
}

// isAbout reports whether a line is about one of some dimensions: by the name alone
// on its left, else by that on its right, else by any in it.
func isAbout(left, right relation.Expr, is func(relation.VarID) bool) bool {
	switch {
	case left.Op == relation.Ref:
		return is(left.Var)
	case right.Op == relation.Ref:
		return is(right.Var)
	}
	return left.Mentions(is) || right.Mentions(is)
}

// ties reports whether a relation ties what stands on a board to its size, other
// than the row of its notebook.
func (t *teller) ties(r *relation.Relation, b board) bool {
	size, _ := b.panel.Dim(b.along)
	sized, part := false, false
	for _, v := range r.Vars() {
		sized = sized || v == size
		if n := t.partOn(b.panel, t.Owners[v]); n != nil {
			row, ok := n.(*model.Row)
			part = !ok || row.Covers == nil
		}
	}
	return sized && part
}

// grownBy tells of one board, which is off by a length in mm; free is the design in
// which what stands on it is not tied to its size, told what was told already.
func (t *teller) grownBy(free *solution.Solution, b board, off float64, told map[source.Span]bool) {
	var found part
	reach := 0.0
	for _, n := range t.Things {
		if t.partOn(b.panel, n) != n || n == nil {
			continue
		}
		if p, ok := partOf(free, n, b.along); ok && p.takes()-b.size > math.Max(reach, nothing) {
			found, reach = p, p.takes()-b.size
		}
	}
	length := func(v float64) string { return t.Format(math.Abs(v), unit.Length, b.panel.At) }
	var d *diag.Diagnostic
	line := t.lastLineOf(found, b)
	at := b.panel.At
	if line != nil {
		at = line.At
	}
	if told[at] {
		return
	}
	told[at] = true
	switch edge := found.past(); {
	case line == nil:
		how := "larger"
		if off < 0 {
			how = "smaller"
		}
		d = t.diags.Errorf("past-edge", at, "what stands on %s makes it %s %s: its own lines leave it %s", b.panel.Path, length(off), how, length(b.size))
	case edge != word.NoEdge:
		d = t.diags.Errorf("past-edge", at, "%s %s reaches %s past the %s of %s", found.of.Kind, found.of.Path, length(reach), edge, t.sizeWords(b, at))
	default:
		d = t.diags.Errorf("past-edge", at, "%s %s takes %s, %s more than %s", found.of.Kind, found.of.Path, length(found.takes()), length(reach), t.sizeWords(b, at))
	}
	d.WithHelp("make it smaller, or move it; if %s is to have another size, state its %s", b.panel.Path, b.along)
}

// partOf is what lines make of a part along one of its panel's sizes, in a design
// in which it isn't tied to that.
func partOf(s *solution.Solution, n model.Node, size dim.Name) (part, bool) {
	p := part{of: n.Base(), start: word.Spine, end: word.Foredge}
	if size == dim.Height {
		p.start, p.end = word.Head, word.Tail
	}
	stated := func(n dim.Name) float64 {
		if id, ok := p.of.Dim(n); ok && s.Numbers.From[id] != solve.ByDefault {
			return s.Value(id)
		}
		return math.NaN()
	}
	if row, ok := n.(*model.Row); ok {
		p.near, p.size, p.far = stated(dim.First), s.Of(p.of, dim.Run)+s.Of(p.of, dim.HoleAlong), stated(dim.Last)
		return p, row.Covers == nil && dim.Length(row.Edge) == size
	}
	p.near, p.size, p.far = stated(dim.From(p.start)), s.Of(p.of, size), stated(dim.From(p.end))
	return p, true
}

// lastLineOf is the last line about how long a part is along a board or, if it is
// measured from one edge, where it lies.
func (t *teller) lastLineOf(p part, b board) *relation.Relation {
	if p.of == nil {
		return nil
	}
	names := []dim.Name{b.along, dim.Run, dim.HoleAlong, dim.Count, dim.Pitch}
	if p.past() != word.NoEdge {
		names = append(names, dim.From(p.start), dim.From(p.end), dim.First, dim.Last)
	}
	for i := range slices.Backward(t.System.Relations) {
		r := &t.System.Relations[i]
		if r.Role == relation.Stated && slices.ContainsFunc(r.Vars(), func(v relation.VarID) bool {
			return slices.ContainsFunc(names, func(n dim.Name) bool { return p.of.Is(v, n) })
		}) {
			return r
		}
	}
	return nil
}
