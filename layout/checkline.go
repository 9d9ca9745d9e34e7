package layout

import (
	"foredge/eval/design"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// checkLines warns of lines that run through openings of their panel: a fold has
// nothing to hold there, and a cut opens the hole.
func (dr *draft) checkLines(p *design.Panel, f panelFrame, openings []Shape) {
	for i := range p.Lines {
		l := &p.Lines[i]
		at := f.along(l.From, 0, l.Distance)
		var first *Shape
		met := 0
		for k := range openings {
			b := openings[k].Figure.Bounds()
			near, far, through := b.Min.X, b.Max.X, at.X
			if l.From.Level() {
				near, far, through = b.Min.Y, b.Max.Y, at.Y
			}
			if through > near+geom.Tol && through < far-geom.Tol {
				if met++; first == nil {
					first = &openings[k]
				}
			}
		}
		if first == nil {
			continue
		}
		what := inPanel(first.ID)
		if met > 1 {
			what += " and others"
		}
		dr.notes.Warn(p.Quiet, "line-through", l.At, "%s runs through %s of %s", l.Name, what, p.Name).
			Note(first.At, "the opening is stated here").
			WithHelp("move one of them: %s is %s from the %s%s", l.Name, dr.length(l.Distance), l.From, advise.Silence("line-through", "panel"))
	}
}
