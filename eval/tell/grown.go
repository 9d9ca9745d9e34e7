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
// but only for what lines say of the board itself, and so does an equation with the
// size of another. A limit says that it may be larger or smaller.
func (t *teller) grown() {
	boards := t.openBoards()
	if len(boards) == 0 {
		return
	}
	sizes := map[relation.VarID]board{}
	for _, b := range boards {
		id, _ := b.panel.Dim(b.along)
		sizes[id] = b
	}
	free := t.Without(func(r *relation.Relation) bool { return r.Role == relation.Own && t.ties(r, sizes) })
	told := map[source.Span]bool{} // a mirrored panel repeats the lines that it inherited
	// Of boards that are as large as one another those come first on which something
	// stands that is to blame; the others only follow.
	for _, blamed := range []bool{true, false} {
		for _, b := range boards {
			b.size = free.Of(b.panel.Base(), b.along)
			if math.IsNaN(b.size) && b.panel.Covers != nil { // as by a quotient of overhangs, which aren't both 0
				b.size = free.Of(b.panel.Covers.Base(), b.along)
			}
			off := t.Of(b.panel.Base(), b.along) - b.size
			if math.Abs(off) > 1e-4 && len(told) < mostGrown && (blamed || len(told) == 0) {
				t.grownBy(free, b, off, blamed, told)
			}
		}
	}
}

// mostGrown is how many boards are told of, however many a file holds.
const mostGrown = 20

// openBoards are the panels that cover a notebook, along each size that only wishes
// are about, or equations of several sizes, its own or another board's; and those others that such an
// equation, or a wish of the kind, ties to one of them. They are none where nothing can have changed: without a wish all
// is as it is wished if no board reaches past its notebook, nor stops short of it.
func (t *teller) openBoards() []board {
	wished, limited := map[relation.VarID]bool{}, map[relation.VarID]bool{}
	var ties [][]relation.VarID // the sizes of boards that an equation or a wish ties
	tied := func(r *relation.Relation) {
		if sizes := t.tiedBoards(r); len(sizes) > 0 {
			ties = append(ties, sizes)
			for _, v := range sizes {
				wished[v] = true
			}
		}
	}
	for i := range t.System.Wishes {
		w := &t.System.Wishes[i]
		r := &relation.Relation{Left: w.Left, Right: w.Right, Turned: w.Turned}
		about(r, wished)
		if v, ok := r.Subject(); !ok || t.isBoardSize(v) && r.Left.Op == relation.Ref && r.Right.Op == relation.Ref {
			tied(r) // it is about both
		}
	}
	for i := range t.System.Relations {
		r := &t.System.Relations[i]
		if r.Role != relation.Stated {
			continue
		}
		if r.Sign != relation.EQ {
			about(r, limited)
			continue
		}
		tied(r)
		if vars := r.Vars(); len(vars) > 1 && !slices.ContainsFunc(vars, func(v relation.VarID) bool { return !t.isBoardSize(v) }) {
			for _, v := range vars {
				wished[v] = true // it leaves some of them open
			}
		}
	}
	if len(wished) == 0 {
		return nil
	}
	var boards []board
	var leaders []relation.VarID
	moved := len(t.System.Wishes) > 0
	for _, n := range t.Things {
		p, ok := n.(*model.Panel)
		if !ok || p.Covers == nil {
			continue
		}
		for _, names := range boardSizes() {
			in := func(of map[relation.VarID]bool) bool {
				return slices.ContainsFunc(names[:], func(n dim.Name) bool {
					id, ok := p.Dim(n)
					return ok && of[id]
				})
			}
			if in(wished) && !in(limited) {
				boards = append(boards, board{panel: p, along: names[0]})
				for i, n := range names {
					if id, ok := p.Dim(n); ok {
						leaders = append(leaders, id)
						moved = moved || i > 0 && math.Abs(t.Value(id)) > 1e-9
					}
				}
			}
		}
	}
	if !moved {
		return nil
	}
	return append(boards, t.following(leaders, ties)...)
}

// boardSizes are the sizes of a board, each with the overhangs that count in it.
func boardSizes() [][3]dim.Name {
	return [][3]dim.Name{{dim.Width, dim.OverSpine, dim.OverForedge}, {dim.Height, dim.OverHead, dim.OverTail}}
}

// following are the boards on no notebook that lines tie to one of some boards, or
// to one of those that are.
func (t *teller) following(leaders []relation.VarID, ties [][]relation.VarID) []board {
	var boards []board
	of := map[relation.VarID][]int{} // the ties of a size
	for i, sizes := range ties {
		for _, v := range sizes {
			of[v] = append(of[v], i)
		}
	}
	met := map[relation.VarID]bool{}
	for _, id := range leaders {
		met[id] = true
	}
	for ; len(leaders) > 0; leaders = leaders[1:] {
		for _, i := range of[leaders[0]] {
			for _, id := range ties[i] {
				p, ok := t.Owners[id].(*model.Panel)
				if !ok || p.Covers != nil || met[id] {
					continue
				}
				met[id] = true
				for _, along := range []dim.Name{dim.Width, dim.Height} {
					if p.Is(id, along) {
						boards = append(boards, board{panel: p, along: along})
					}
				}
				leaders = append(leaders, id)
			}
			ties[i] = nil // all that it ties are met
		}
	}
	return boards
}

// tiedBoards are the sizes and overhangs of boards that an equation or a wish is about; none
// where they are of one board alone.
func (t *teller) tiedBoards(r *relation.Relation) []relation.VarID {
	if v, ok := r.Subject(); ok && !t.isBoardSize(v) {
		return nil
	}
	var sizes []relation.VarID
	several := false
	note := func(id relation.VarID) bool {
		if t.isBoardSize(id) {
			sizes = append(sizes, id)
			several = several || t.Owners[id] != t.Owners[sizes[0]]
		}
		return false
	}
	r.Left.Mentions(note)
	r.Right.Mentions(note)
	if !several {
		return nil
	}
	return sizes
}

// isBoardSize reports whether a dimension is a size or an overhang of a panel.
func (t *teller) isBoardSize(id relation.VarID) bool {
	p, ok := t.Owners[id].(*model.Panel)
	return ok && slices.ContainsFunc(boardSizes(), func(names [3]dim.Name) bool {
		return slices.ContainsFunc(names[:], func(n dim.Name) bool { return p.Is(id, n) })
	})
}

// about notes what a line is about: its subject, else every name in it.
func about(r *relation.Relation, of map[relation.VarID]bool) {
	if v, ok := r.Subject(); ok {
		of[v] = true
		return
	}
	every := func(id relation.VarID) bool {
		of[id] = true
		return false
	}
	r.Left.Mentions(every)
	r.Right.Mentions(every)
}

// ties reports whether a relation ties what stands on one of some boards to its
// size, other than the row of its notebook.
func (t *teller) ties(r *relation.Relation, sizes map[relation.VarID]board) bool {
	vars := r.Vars()
	for _, v := range vars {
		b, ok := sizes[v]
		if ok && slices.ContainsFunc(vars, func(v relation.VarID) bool {
			n := t.partOn(b.panel, t.Owners[v])
			row, isRow := n.(*model.Row)
			return n != nil && !(isRow && row.Covers != nil)
		}) {
			return true
		}
	}
	return false
}

// grownBy tells of one board, which is off by a length in mm; free is the design in
// which what stands on it is not tied to its size, blamed asks for a line or wish on it that
// is to blame, told is what was told already.
func (t *teller) grownBy(free *solution.Solution, b board, off float64, blamed bool, told map[source.Span]bool) {
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
	wish := t.pulling(free, b)
	at := b.panel.At
	switch {
	case line != nil:
		at = line.At
	case wish != nil:
		at = wish.At
	}
	if told[at] || blamed != (line != nil || wish != nil) {
		return
	}
	told[at] = true
	how := "larger"
	if off < 0 {
		how = "smaller"
	}
	switch edge := found.past(); {
	case line == nil && wish != nil:
		d = t.diags.Errorf("past-edge", at, "this wish makes %s %s %s: its own lines leave it %s", b.panel.Path, length(off), how, length(b.size))
		d.WithHelp("wish for what there is room for; if %s is to have another size, state its %s", b.panel.Path, b.along)
		return
	case line == nil:
		d = t.diags.Errorf("past-edge", at, "what stands on %s makes it %s %s: its own lines leave it %s", b.panel.Path, length(off), how, length(b.size))
	case edge != word.NoEdge:
		d = t.diags.Errorf("past-edge", at, "%s %s reaches %s past the %s of %s", found.of.Kind, found.of.Path, length(reach), edge, t.sizeWords(b, at))
	default:
		takes := "takes"
		if !math.IsNaN(found.near) {
			takes = "and its distances take"
		}
		d = t.diags.Errorf("past-edge", at, "%s %s %s %s, %s more than %s", found.of.Kind, found.of.Path, takes, length(found.takes()), length(reach), t.sizeWords(b, at))
	}
	d.WithHelp("make it smaller, or move it; if %s is to have another size, state its %s", b.panel.Path, b.along)
}

// pulling is the wish about what stands on a board that gains most by the board's
// coming out otherwise than its own lines leave it: of those that are met worse than
// where what stands there isn't tied to its size the one that is missed most.
func (t *teller) pulling(free *solution.Solution, b board) *relation.Wish {
	var most *relation.Wish
	missed := 1e-4
	for i := range t.System.Wishes {
		w := &t.System.Wishes[i]
		of := func(id relation.VarID) bool {
			n := t.partOn(b.panel, t.Owners[id])
			row, isRow := n.(*model.Row)
			return n != nil && !(isRow && row.Covers != nil)
		}
		if !w.Left.Mentions(of) && !w.Right.Mentions(of) {
			continue
		}
		by := func(s *solution.Solution) float64 { return w.Weight * math.Abs(s.Eval(w.Left)-s.Eval(w.Right)) }
		if off := by(t.Solution) - by(free); off > missed {
			most, missed = w, off
		}
	}
	return most
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
