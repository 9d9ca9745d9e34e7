package layout

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// Guides draws, for each row of a panel or a notebook, a strip through whose holes the
// same row is punched, drilled or pierced in other things: a guide for a stack of
// boards, the template of a sewing cradle. It lies flush with the edge of the row and
// with both ends of that edge, and its notch shows head and face as that of a [Card]
// does. It is cut from a stock of its own, whose kerf it allows for. Rows that are alike
// share a guide; of one that is a mirror image it is told that the guide is turned over.
func Guides(d *design.Design) (*Drawing, diag.List) {
	dr := newDraft(d, nil)
	var made []boardRow
	for i := range d.Panels {
		for k := range d.Panels[i].Rows {
			made = dr.guide(&d.Panels[i], &d.Panels[i].Rows[k], made)
		}
	}
	for i := range d.Notebooks {
		book := &d.Notebooks[i]
		as := &design.Panel{Name: book.Name, At: book.At, Width: book.Width.Or(0), Height: book.Height.Or(0)}
		for k := range book.Rows {
			r := &book.Rows[k]
			if !known(book, r) {
				dr.notes.Infof("no-guide", r.At, "not all is known of %s.%s, so there is no guide for it", book.Name, r.Name).
					WithHelp("state the width and the height of %s, and of the row its holes and where they lie", book.Name)
				continue
			}
			made = dr.guide(as, r, made)
		}
	}
	if len(dr.drawing.Parts) == 0 && !dr.notes.HasErrors() {
		dr.notes.Errorf("no-row", d.At, "nothing here has a row of holes of which all is known, so there is nothing to guide").
			WithHelp("declare one in a panel or a notebook, as in row sewing on spine { hole = round %s; ... }", dr.length(2))
	}
	var cut []*design.Stock
	for _, g := range made {
		cut = append(cut, g.row.GuideStock)
	}
	dr.stocksApart(cut)
	advise.Materials(&dr.notes, d)
	dr.drawing.Title += " (guide)"
	dr.finish()
	return dr.drawing, dr.notes.List
}

// straight reports whether an edge of a panel is straight, and ends where its corners would
// lie: no arch, no scoop and no tab sets it or its ends back.
func straight(p *design.Panel, edge word.Edge) bool {
	ends := map[word.Edge][2]int{word.Head: {0, 1}, word.Tail: {2, 3}, word.Spine: {0, 2}, word.Foredge: {1, 3}}[edge]
	for _, i := range ends { // of [word.Corners]
		if c := p.Corners[i]; c.Form == word.Scoop && c.Size > smallest {
			return false
		}
	}
	if p.Arch != nil && edge != word.Tail {
		return false
	}
	t := p.Tab
	if t == nil {
		return true
	}
	start, end := t.Edge.Ends()
	long := p.Height
	if t.Edge.Level() {
		long = p.Width
	}
	switch edge {
	case t.Edge:
		return false
	case start:
		return t.From <= geom.Tol
	case end:
		return t.To >= long-geom.Tol
	}
	return true
}

// guide draws the guide of a row, unless one of those made serves it.
func (dr *draft) guide(p *design.Panel, r *design.Row, made []boardRow) []boardRow {
	if len(r.Centers) == 0 {
		return made
	}
	if !straight(p, r.Edge) {
		dr.notes.Warn(p.Quiet, "guide-loose", r.At, "the guide of %s.%s is a straight strip, and %s has no straight edge from corner to corner there", p.Name, r.Name, p.Name).
			WithHelp("lay it by its holes, not by its ends; a row of the notebook has a guide that lies flush%s", advise.Silence("guide-loose", "panel"))
	}
	for _, g := range made {
		if !g.alike(boardRow{p, r}) || !sameStock(g.row.GuideStock, r.GuideStock) {
			continue
		}
		if g.panel.Mirrored != p.Mirrored {
			dr.notes.Infof("guide-turned", r.At, "the guide of %s.%s serves %s.%s too, but for that it has to be turned over", g.panel.Name, g.row.Name, p.Name, r.Name).
				WithHelp("its notch lies near the corner of head and foredge; turn it so that it does on %s, head up", p.Name)
		}
		return made
	}
	part := dr.card(p, r, "guide")
	part.Want = dr.kerfIn(r.GuideStock)
	quiet, silencer := dr.design.Laser.Quiet, "laser"
	if s := r.GuideStock; s != nil {
		part.Stock, part.Usual, part.Grain = s.Name, s.UsualKerf, s.Grain
		quiet, silencer = slices.Concat(quiet, s.Quiet), "stock"
	}
	dr.checkSize(part.Name, silencer, part.Bounds.Width(), part.Bounds.Height(), r.GuideStock, quiet, r.At)
	dr.strip(part)
	return append(made, boardRow{p, r})
}

func sameStock(a, b *design.Stock) bool { return a == b || a != nil && b != nil && a.At == b.At }

// known reports whether all is known of a notebook's row that its guide shows.
func known(book *design.Notebook, r *design.Row) bool {
	n := func(x float64) bool { return !math.IsNaN(x) }
	return book.Width.Present() && book.Height.Present() && len(r.Centers) > 0 && n(r.Inset) && n(r.Opening.Along) && n(r.Opening.Across) &&
		!slices.ContainsFunc(r.Centers, func(c float64) bool { return !n(c) })
}
