package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
)

// A holding is a default of what covers: an overhang of a panel, or the ease of one
// or of a row. It holds, as what was measured must not change by what was not said,
// unless a line is about what it decides.
type holding struct {
	of   *draft
	name dim.Name
	size dim.Name // of the panel, in which an overhang counts; none of an ease
	rank int
}

// holds adds a default that holds unless a line is about what it decides: the
// dimension itself; of an overhang the size in which it counts; of a row's ease,
// where the panel states none, a size of its hole, which an equation that states it
// takes out of the ease.
func (c *compiler) holds(of *draft, name, size dim.Name, rank int) {
	c.holding = append(c.holding, holding{of, name, size, rank})
}

// asDefault is the default itself.
func (h *holding) asDefault() relation.Default {
	def := relation.Default{Left: h.of.V(h.name), Right: relation.C(0), Vars: dimsOf(h.of, h.name), At: h.of.At}
	if h.of.Kind == kind.Row {
		def.Right, def.Given = h.of.parent.V(dim.Ease), dimsOf(h.of.parent, dim.Ease)
	}
	return def
}

// holdDefaults makes a must of each default of what covers that no line is about,
// and a default that gives way of the others. It comes after all lines.
func (c *compiler) holdDefaults() {
	if len(c.holding) == 0 {
		return
	}
	s := spoken{c, make([]spokenOf, len(c.System.Vars))}
	for _, d := range c.present {
		if d.Kind == kind.Panel {
			s.boardSizes(d)
		}
	}
	for _, h := range c.holding {
		if h.name == dim.Ease {
			s.at(h.of, h.name).sort = anEase
			if h.of.Kind == kind.Row {
				s.at(h.of, h.name).panels, _ = h.of.parent.Dim(dim.Ease)
				s.at(h.of, h.name).ofRow = true
				s.at(h.of, h.name).along, _ = h.of.Dim(dim.HoleAlong)
				s.at(h.of, h.name).across, _ = h.of.Dim(dim.HoleAcross)
			}
		}
	}
	musts, wishes := s.lines()
	for _, r := range musts {
		s.line(r, r.Sign == relation.EQ)
	}
	all := spoken{c, slices.Clone(s.of)} // by wishes too
	s.equalEases(musts, true)
	byMusts := make([]bool, len(c.holding))
	for i := range c.holding {
		byMusts[i] = s.free(&c.holding[i])
	}
	s = all
	for _, r := range wishes {
		s.line(r, false)
	}
	s.equalEases(musts, true)
	s.equalEases(wishes, false)
	for i := range c.holding {
		h := &c.holding[i]
		if panel, ok := h.of.node.(*model.Panel); ok {
			panel.Overhangs[overEdge(h.name)] = s.at(h.of, h.name).any()
		}
		def := h.asDefault()
		if s.free(h) {
			def.Wished = !byMusts[i]
			c.byDefault(h.rank, def)
			continue
		}
		c.System.Relations = append(c.System.Relations, relation.Relation{Sign: relation.EQ, Left: def.Left, Right: def.Right,
			Role: relation.Held, At: def.At})
	}
}

// overEdge is the edge past which an overhang reaches, none of another dimension.
func overEdge(n dim.Name) word.Edge {
	for _, edge := range word.Edges() {
		if dim.Over(edge) == n {
			return edge
		}
	}
	return word.NoEdge
}

// spoken finds out which of some dimensions lines are about.
type spoken struct {
	*compiler
	of []spokenOf // of each dimension
}

// spokenOf is what lines say of a dimension: stated says that an equation states
// it, line that another line is about it.
type spokenOf struct {
	sort          sort
	stated, line  bool
	ofRow         bool           // an ease, by default that of a panel
	panels        relation.VarID // that
	along, across relation.VarID // of a row's ease the sizes of its holes
}

// A sort is what a line that makes two dimensions of one sort equal is about both of.
type sort uint8

const (
	another   sort = iota
	boardSize      // a width, height or overhang of a panel
	anEase         // of what covers
)

func (of *spokenOf) any() bool { return of.stated || of.line }

// free reports whether a line is about what a holding decides.
func (s *spoken) free(h *holding) bool {
	return s.at(h.of, h.name).any() || s.at(h.of, h.size).any() || h.of.Kind == kind.Row && !s.at(h.of.parent, dim.Ease).stated &&
		(s.at(h.of, dim.HoleAlong).line || s.at(h.of, dim.HoleAcross).line)
}

// at is what lines say of a dimension of a thing, nothing where it has none.
func (s *spoken) at(d *draft, n dim.Name) *spokenOf {
	if id, ok := d.Dim(n); ok {
		return &s.of[id]
	}
	return &spokenOf{}
}

// boardSizes notes which dimensions of a panel are its sizes.
func (s *spoken) boardSizes(d *draft) {
	s.at(d, dim.Width).sort, s.at(d, dim.Height).sort = boardSize, boardSize
	for _, edge := range word.Edges() {
		s.at(d, dim.Over(edge)).sort = boardSize
	}
}

// lines are the equations and limits, and the wishes as equations, of what is made.
func (s *spoken) lines() (musts, wishes []*relation.Relation) {
	for i := range s.System.Relations {
		if r := &s.System.Relations[i]; r.Bench == 0 && (r.Role == relation.Stated || r.Role == relation.Pattern) {
			musts = append(musts, r)
		}
	}
	for i := range s.System.Wishes {
		if w := &s.System.Wishes[i]; w.Bench == 0 {
			wishes = append(wishes, &relation.Relation{Left: w.Left, Right: w.Right, Turned: w.Turned})
		}
	}
	return musts, wishes
}

// equal is the sort of which a line says or wishes that two dimensions are equal.
func (s *spoken) equal(r *relation.Relation) sort {
	if left, right := &r.Left, &r.Right; r.Sign == relation.EQ && left.Op == relation.Ref && right.Op == relation.Ref &&
		s.of[left.Var].sort == s.of[right.Var].sort {
		return s.of[left.Var].sort
	}
	return another
}

// line notes what a line is about: its subject, if there is one, else all that it
// speaks of. One that says or wishes that two sizes of boards are equal is about both.
// states says that it is an equation. Of equal eases [spoken.equalEases] does.
func (s *spoken) line(r *relation.Relation, states bool) {
	left, right := &r.Left, &r.Right
	if equal := s.equal(r); equal == boardSize {
		s.note(left.Var, states)
		s.note(right.Var, states)
	} else if equal == anEase {
		return
	} else if v, ok := r.Subject(); ok {
		s.note(v, states)
	} else {
		all := func(v relation.VarID) bool { s.note(v, false); return false }
		left.Mentions(all)
		right.Mentions(all)
	}
}

// equalEases notes what lines that say or wish that two eases are equal are about: both, but of a
// row whose panel states one, which the row would lose, only where that is the subject of the line, or
// another line is about the subject. It comes after all other lines. Where no other line is about any of
// those that are equal, each is about its subject alone.
func (s *spoken) equalEases(lines []*relation.Relation, states bool) {
	type sides struct {
		subject, other relation.VarID
		said           bool // another line is about the subject
	}
	var equal []sides
	open := s.openEases(lines)
	for _, r := range lines {
		if s.equal(r) != anEase {
			continue
		}
		subject, _ := r.Subject()
		other := r.Left.Var
		if other == subject {
			other = r.Right.Var
		}
		if open[subject] {
			s.note(subject, states)
			continue
		}
		equal = append(equal, sides{subject, other, s.of[subject].any()})
	}
	for _, e := range equal { // first of panels, which states them
		for _, v := range [2]relation.VarID{e.subject, e.other} {
			if !s.of[v].ofRow {
				s.note(v, states)
			}
		}
	}
	for _, e := range equal {
		s.note(e.subject, states)
		if other := &s.of[e.other]; !other.ofRow || !s.of[other.panels].stated || e.said {
			s.note(e.other, states)
		}
	}
}

// openEases are those that lines make equal to others where no other line is about any of them, or
// about the holes of the row of one.
func (s *spoken) openEases(lines []*relation.Relation) map[relation.VarID]bool {
	beside := map[relation.VarID][]relation.VarID{}
	for _, r := range lines {
		if s.equal(r) == anEase {
			left, right := r.Left.Var, r.Right.Var
			beside[left], beside[right] = append(beside[left], right), append(beside[right], left)
		}
	}
	said := func(v relation.VarID) bool {
		of := &s.of[v]
		return of.any() || of.ofRow && (s.of[of.along].line || s.of[of.across].line)
	}
	open := map[relation.VarID]bool{}
	for v := range beside {
		open[v] = true
	}
	var tell func(v relation.VarID)
	tell = func(v relation.VarID) { // that a line is about one of those that it is equal to
		if open[v] {
			delete(open, v)
			for _, w := range beside[v] {
				tell(w)
			}
		}
	}
	for v := range beside {
		if said(v) {
			tell(v)
		}
	}
	return open
}

func (s *spoken) note(v relation.VarID, states bool) {
	of := &s.of[v]
	of.stated, of.line = of.stated || states, of.line || !states
}
