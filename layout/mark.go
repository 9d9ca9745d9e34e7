package layout

import (
	"fmt"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// marks draws what a region holds. All of it must lie on the panel.
func (dr *draft) marks(p *design.Panel, r *design.Region, f panelFrame, outline geom.Figure) []Shape {
	var shapes []Shape
	for i, m := range r.Marks {
		id := p.Name + "." + r.Name
		if len(r.Marks) > 1 {
			id = fmt.Sprintf("%s.%d", id, i+1)
		}
		var drawn []Shape
		switch m := m.(type) {
		case *design.Artwork:
			drawn = dr.artwork(p, m, r, f, id)
		case *design.Lettering:
			if fig := dr.text(p, m, r, f.box(r.Box)); fig != nil {
				drawn = []Shape{{ID: id, Op: opOf(m.Op), Hole: m.Op == word.Cut, Figure: fig, At: m.At}}
			}
		case *design.Frame:
			if fig := dr.frame(m, r, f.box(r.Box)); fig != nil {
				drawn = []Shape{{ID: id, Op: Mark, Figure: fig, At: m.At}}
			}
		}
		if !dr.onPanel(p, drawn, outline) {
			dr.notes.Errorf("outside", m.Place(), "the mark in %s runs over a corner of %s", r.Name, p.Name).
				WithHelp("move the region away from the corner, or make it smaller")
			continue
		}
		if in := design.InlayOf(m); in != nil && len(drawn) > 0 {
			dr.layIn(p, r, m, in, f, drawn[0])
		}
		shapes = append(shapes, drawn...)
	}
	return shapes
}

func (dr *draft) onPanel(p *design.Panel, shapes []Shape, outline geom.Figure) bool {
	for _, s := range shapes {
		if !wellInside(s.Figure.Bounds(), outline.Bounds(), p, 0) && !geom.Inside(outline, s.Figure) {
			return false
		}
	}
	return true
}

// frame is the line round a region; nil for one that was reported.
func (dr *draft) frame(m *design.Frame, r *design.Region, box geom.Rect) geom.Figure {
	if !(min(box.W, box.H) > smallest) {
		dr.notes.Errorf("no-room", r.At, "%s is %s by %s: there is no room for a frame", r.Name, dr.length(r.Width), dr.length(r.Height)).
			WithHelp("make the region larger")
		return nil
	}
	if m.Radius == 0 {
		return box
	}
	fig, err := geom.RoundRect(box.Bounds().Center(), box.W, box.H, m.Radius)
	if err != nil {
		dr.notes.Errorf("corner-large", m.At, "a frame of %s by %s can't have corners of radius %s", dr.length(box.W), dr.length(box.H), dr.length(m.Radius)).
			WithHelp("a radius is at most half of the smaller size")
		return nil
	}
	return fig
}
