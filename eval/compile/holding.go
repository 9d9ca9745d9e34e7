package compile

import (
	"strings"

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
	c.owns(nil, c.tally())
	s := spoken{c, make([]spokenOf, len(c.System.Vars))}
	for _, h := range c.holding {
		s.at(h.of, h.name).size = true
		s.at(h.of, h.size).size = true
	}
	for i := range c.System.Relations {
		if r := &c.System.Relations[i]; r.Bench == 0 && (r.Role == relation.Stated || r.Role == relation.Pattern) {
			s.line(c.owner[i], &r.Left, &r.Right, r.Sign == relation.EQ)
		}
	}
	for i := range c.System.Wishes {
		if w := &c.System.Wishes[i]; w.Bench == 0 {
			s.line(c.wishOwner[i], &w.Left, &w.Right, false)
		}
	}
	for _, h := range c.holding {
		own := s.at(h.of, h.name).any()
		if panel, ok := h.of.node.(*model.Panel); ok {
			panel.Overhangs[overEdge(h.name)] = own
		}
		def := h.asDefault()
		if own || s.at(h.of, h.size).any() || h.of.Kind == kind.Row && !s.at(h.of.parent, dim.Ease).stated &&
			(s.at(h.of, dim.HoleAlong).line || s.at(h.of, dim.HoleAcross).line) {
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

// spokenOf is what lines say of a dimension: size tells one of a panel, or an ease,
// from others, stated says that an equation states it, line that
// another line is about it.
type spokenOf struct{ size, stated, line bool }

func (of *spokenOf) any() bool { return of.stated || of.line }

// at is what lines say of a dimension of a thing, nothing where it has none.
func (s *spoken) at(d *draft, n dim.Name) *spokenOf {
	if id, ok := d.Dim(n); ok {
		return &s.of[id]
	}
	return &spokenOf{}
}

// line notes what a line that stands in d, or in no thing, is about: the name
// alone on its left, if that is one of the thing or what is in it, else the one on
// its right. Where neither side is a name it is about all that it speaks of; one
// that ties two sizes of panels is about both.
func (s *spoken) line(d *draft, left, right *relation.Expr, equation bool) {
	if left.Op == relation.Ref && right.Op == relation.Ref && s.of[left.Var].size && s.of[right.Var].size {
		s.note(left.Var, equation)
		s.note(right.Var, equation)
	} else if v, ok := s.subject(d, left, right); ok {
		s.note(v, equation)
	} else {
		all := func(v relation.VarID) bool { s.note(v, false); return false }
		left.Mentions(all)
		right.Mentions(all)
	}
}

// subject is the dimension that a line in a thing, or in none, is about: the one
// alone on its left if that is of the thing, else the one alone on its right. It
// gives false if neither side is a dimension alone.
func (c *compiler) subject(d *draft, left, right *relation.Expr) (relation.VarID, bool) {
	isLeft, isRight := left.Op == relation.Ref, right.Op == relation.Ref
	switch {
	case isLeft && (!isRight || c.within(d, left.Var)):
		return left.Var, true
	case isRight:
		return right.Var, true
	}
	return 0, false
}

func (s *spoken) note(v relation.VarID, states bool) {
	of := &s.of[v]
	of.stated, of.line = of.stated || states, of.line || !states
}

// within reports whether a dimension is one of a thing, of what is in it or of
// what is around it. In no thing any is.
func (c *compiler) within(d *draft, v relation.VarID) bool {
	if d == nil {
		return true
	}
	owner := c.Owners[v]
	return owner == nil || outermost(d.node) == outermost(owner)
}

// outermost is the name at the top of the file of what a thing stands in.
func outermost(n model.Node) string {
	name, _, _ := strings.Cut(n.Base().Path, ".")
	return name
}
