package layout

import (
	"fmt"

	"foredge/eval"
	"foredge/layout/geom"
)

// marks draws what a region holds. All of it must lie on the panel.
func (dr *drawer) marks(p *eval.Panel, r *eval.Region, f panelFrame, outline geom.Figure) []Shape {
	var shapes []Shape
	for i := range r.Marks {
		m := &r.Marks[i]
		id := p.Name + "." + r.Name
		if len(r.Marks) > 1 {
			id = fmt.Sprintf("%s.%d", id, i+1)
		}
		var drawn []Shape
		if m.Art {
			drawn = dr.artwork(p, m, r, f, id)
		} else if fig := dr.mark(p, m, r, f); fig != nil {
			op := Mark
			if m.Engrave {
				op = Engrave
			}
			if m.Cut {
				op = Cut
			}
			drawn = []Shape{{ID: id, Op: op, Hole: m.Cut, Figure: fig, At: m.At}}
		}
		if !dr.onPanel(p, drawn, outline) {
			dr.diags.Errorf("outside", m.At, "what stands in %s runs over a corner of %s", r.Name, p.Name).
				WithHelp("move the region away from the corner, or make it smaller")
			continue
		}
		if m.Inlay && len(drawn) > 0 {
			dr.layIn(p, r, m, f, drawn[0])
		}
		shapes = append(shapes, drawn...)
	}
	return shapes
}

func (dr *drawer) onPanel(p *eval.Panel, shapes []Shape, outline geom.Figure) bool {
	for _, s := range shapes {
		if !wellInside(s.Figure.Bounds(), outline.Bounds(), p, 0) && !geom.Inside(outline, s.Figure) {
			return false
		}
	}
	return true
}

// mark is the figure of one mark, nil for nothing or what was reported.
func (dr *drawer) mark(p *eval.Panel, m *eval.Mark, r *eval.Region, f panelFrame) geom.Figure {
	box := f.box(r.Box)
	if m.Frame {
		if !(min(box.W, box.H) > smallest) {
			dr.diags.Errorf("no-room", r.At, "%s is %s by %s: there is no room for a frame", r.Name, dr.length(r.Width), dr.length(r.Height)).
				WithHelp("make the region larger")
			return nil
		}
		if m.Radius == 0 {
			return box
		}
		fig, err := geom.RoundRect(box.Bounds().Center(), box.W, box.H, m.Radius)
		if err != nil {
			dr.diags.Errorf("corner", m.At, "a frame of %s by %s can't have corners of radius %s", dr.length(box.W), dr.length(box.H), dr.length(m.Radius)).
				WithHelp("a radius is at most half of the smaller size")
			return nil
		}
		return fig
	}
	return dr.text(p, m, r, box)
}
