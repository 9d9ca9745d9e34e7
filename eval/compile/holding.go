package compile

import (
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
)

// A holding is a default of what covers: one of its overhangs, or an ease. It
// holds, as what was measured must not change by what was not said, unless a line
// is about what it decides.
type holding struct {
	rank int
	def  relation.Default
	// about are the dimensions that a line may be about, parts those of a row's hole:
	// an equation that states one of these takes it out of the ease.
	about, parts []relation.VarID
}

// unlessSpoken adds a default that holds unless a line is about some dimensions,
// or about parts of a hole otherwise than by stating them.
func (c *compiler) unlessSpoken(rank int, def relation.Default, about, parts []relation.VarID) {
	c.holding = append(c.holding, holding{rank, def, about, parts})
}

// holdDefaults makes a must of each default of what covers that no line is about, and a
// default that gives way of the others. It comes after all lines.
func (c *compiler) holdDefaults() {
	if len(c.holding) == 0 {
		return
	}
	c.owns(nil, c.tally())
	s := spoken{compiler: c, of: map[relation.VarID]spokenOf{}}
	for _, h := range c.holding {
		for _, v := range h.about {
			s.of[v] = spokenOf{size: true}
		}
		for _, v := range h.parts {
			s.of[v] = spokenOf{}
		}
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
	s.overhangs()
	for _, h := range c.holding {
		switch {
		case slices.ContainsFunc(h.about, func(v relation.VarID) bool { return s.of[v].line || s.of[v].stated }),
			slices.ContainsFunc(h.parts, func(v relation.VarID) bool { return s.of[v].line }):
			c.byDefault(h.rank, h.def)
		default:
			c.System.Relations = append(c.System.Relations, relation.Relation{Sign: relation.EQ, Left: h.def.Left, Right: h.def.Right,
				Role: relation.Held, At: h.def.At, Why: h.def.Why})
		}
	}
}

// overhangs notes past which edges lines say how far panels reach.
func (s *spoken) overhangs() {
	for _, d := range s.present {
		p, ok := d.node.(*model.Panel)
		if !ok || p.Covers == nil {
			continue
		}
		p.Overhangs = map[word.Edge]bool{}
		for _, edge := range word.Edges() {
			if id, ok := p.Dim(dim.Over(edge)); ok {
				p.Overhangs[edge] = s.of[id].stated || s.of[id].line
			}
		}
	}
}

// spoken finds out which of some dimensions lines are about.
type spoken struct {
	*compiler
	of map[relation.VarID]spokenOf
}

// spokenOf is what lines say of a dimension: size tells one of a panel or its ease
// from the part of a hole, stated says that an equation states it, line that
// another line is about it.
type spokenOf struct{ size, stated, line bool }

// line notes what a line that stands in d, or in no thing, is about: the name
// alone on its left, if that is one of the thing or what is in it, else the one on
// its right. Where neither side is a name it is about all that it speaks of; one
// that ties two sizes of panels is about both.
func (s *spoken) line(d *draft, left, right *relation.Expr, equation bool) {
	isLeft, isRight := left.Op == relation.Ref, right.Op == relation.Ref
	switch {
	case isLeft && isRight && s.of[left.Var].size && s.of[right.Var].size:
		s.note(left.Var, equation)
		s.note(right.Var, equation)
	case isLeft && isRight && !s.within(d, left.Var):
		s.note(right.Var, equation)
	case isLeft:
		s.note(left.Var, equation)
	case isRight:
		s.note(right.Var, equation)
	default:
		all := func(v relation.VarID) bool { s.note(v, false); return false }
		left.Mentions(all)
		right.Mentions(all)
	}
}

func (s *spoken) note(v relation.VarID, states bool) {
	if was, ok := s.of[v]; ok {
		was.stated, was.line = was.stated || states, was.line || !states
		s.of[v] = was
	}
}

// within reports whether a dimension is one of a thing, of what is in it or of
// what is around it. In no thing any is.
func (s *spoken) within(d *draft, v relation.VarID) bool {
	if d == nil {
		return true
	}
	owner := s.Owners[v]
	return owner == nil || outermost(d.node) == outermost(owner)
}

// outermost is the name at the top of the file of what a thing stands in.
func outermost(n model.Node) string {
	name, _, _ := strings.Cut(n.Base().Path, ".")
	return name
}
