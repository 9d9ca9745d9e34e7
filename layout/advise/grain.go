package advise

import (
	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// boundAlong says along which of its sizes a panel is bound: its height along
// the spine, its width at head or tail, none if it isn't bound.
func boundAlong(p *design.Panel) word.Grain {
	var along word.Grain
	for _, r := range p.Rows {
		switch {
		case r.Edge == word.Spine:
			return word.AlongHeight
		case r.Edge.Level():
			along = word.AlongWidth
		}
	}
	if p.InCase {
		return word.AlongHeight
	}
	return along
}

// moves is how much of its size a sheet moves across its grain at least, where it is
// solid: plywood moves less, and its grain only makes it stiffer one way (common
// practice, no source).
const moves = 0.005

// movedTooFar is by how much holes may move before a fit feels it, in mm (common
// practice, no source).
const movedTooFar = 0.3

// Moves reports whether a stock may move so much across its grain that this matters.
func Moves(s *design.Stock) bool {
	m, known := s.Movement.Get()
	return !known || m >= moves
}

// grain warns of a panel whose grain runs across the edge at which it is
// bound. Panels are cut upright on their sheet.
func grain(n *Notes, p *design.Panel) {
	bound := boundAlong(p)
	if p.Stock == nil || p.Stock.Grain == 0 || bound == 0 || bound == p.Stock.Grain {
		return
	}
	why := "the grain of board and cloth runs from head to tail, according to two lessons in bookbinding"
	edge := "spine"
	if bound == word.AlongWidth {
		edge, why = "edge at which it is bound", "the grain runs along the binding (common practice, no source)"
	}
	if !Moves(p.Stock) {
		return
	}
	d := n.Warn(p.Quiet, "cross-grain", p.At, "the grain of %s runs across the %s, so it will warp and not open well", p.Name, edge)
	d.Note(p.Stock.At, "grain = along %s of %s", p.Stock.Grain, p.Stock.Name)
	if row, off := moved(p); row != nil {
		d.Note(row.At, "the holes of %s move by %s between a dry and a damp room", row.Name, n.Length(off))
	}
	d.WithHelp("%s; turn the sheet, which then has its grain along %s%s", why, bound, Silence("cross-grain", "panel"))
}

// moved finds the row of a panel whose holes its stock moves farthest, with its
// grain across the row or not stated, and by how much; nil if none moves too far.
func moved(p *design.Panel) (row *design.Row, off float64) {
	if p.Stock == nil {
		return nil, 0
	}
	m := p.Stock.Movement.Or(0)
	for i := range p.Rows {
		r := &p.Rows[i]
		along := word.AlongHeight
		if r.Edge.Level() {
			along = word.AlongWidth
		}
		if len(r.Centers) < 2 || p.Stock.Grain == along || m < moves {
			continue
		}
		if by := m * (r.Centers[len(r.Centers)-1] - r.Centers[0]); by > max(off, movedTooFar+geom.Tol) {
			row, off = r, by
		}
	}
	return row, off
}

// movement warns of holes in solid wood, where nothing says which way its grain runs.
func movement(n *Notes, p *design.Panel) {
	row, off := moved(p)
	if row == nil || p.Stock.Grain != 0 {
		return
	}
	along := word.AlongHeight
	if row.Edge.Level() {
		along = word.AlongWidth
	}
	n.Warn(p.Quiet, "wood-moves", row.At, "the holes of %s move by up to %s between a dry and a damp room, if the grain of %s runs across them", row.Name, n.Length(off), p.Name).
		Note(p.Stock.At, "nothing says how the grain of %s runs", p.Stock.Name).
		WithHelp("lay the grain along the row, and say so in the stock: grain = along %s; along its grain wood hardly moves (what the material's movement says)%s", along, Silence("wood-moves", "panel"))
}
