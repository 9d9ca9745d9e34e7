package layout

import (
	"fmt"
	"iter"
	"strings"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// marks draws what a region holds. All of it must lie on the panel.
func (dr *draft) marks(p *design.Panel, r *design.Region, f Frame, outline geom.Figure) []Shape {
	var shapes []Shape
	for i, m := range r.Marks {
		id := p.Name + "." + r.Name
		if len(r.Marks) > 1 {
			id = fmt.Sprintf("%s.%d", id, i+1)
		}
		drawn := dr.markOnce(p, m, r, f, id)
		if !dr.onPanel(p, drawn, outline) {
			dr.notes.Errorf("outside", m.Place(), "the mark in %s runs over %s of %s", r.Name, "a"+cornerOf(p), p.Name).
				WithHelp("move the region away from the%s, or make it smaller", cornerOf(p))
			continue
		}
		if in := design.InlayOf(m); in != nil && len(drawn) > 0 {
			dr.layIn(p, r, m, in, f, drawn[0])
		}
		shapes = append(shapes, drawn...)
	}
	return shapes
}

// A setting is a mark in a box of its size.
type setting struct {
	mark          design.Mark
	width, height float64
}

// A drawnMark is what a mark came to, where its box's left upper corner was.
type drawnMark struct {
	id     string
	at     geom.Point
	shapes []Shape
	ahead  int // how many more of it have been counted
}

// expect notes how often the marks of regions are to be drawn, so that what is too
// much is told before it is there.
func (dr *draft) expect(regions iter.Seq[*design.Region]) {
	dr.times = map[setting]int{}
	for r := range regions {
		for _, m := range r.Marks {
			dr.times[setting{m, r.Width, r.Height}]++
		}
	}
}

// markOnce draws one mark of a region. The members of a field have the same
// marks in boxes of the same size: those are drawn once and then moved.
func (dr *draft) markOnce(p *design.Panel, m design.Mark, r *design.Region, f Frame, id string) []Shape {
	at := f.box(r.Box).Min
	key := setting{m, r.Width, r.Height}
	first, again := dr.marked[key]
	if dr.marked == nil {
		dr.marked = map[setting]drawnMark{}
	}
	if !again {
		var shapes []Shape
		times := max(1, dr.times[key])
		if dr.countLetters(m, times) {
			shapes = dr.mark(p, m, r, f, id)
		}
		if !dr.count(len(shapes)*(times-1), r.At) || !dr.countLines(shapes, times, m.Place()) {
			shapes = nil
		}
		dr.marked[key] = drawnMark{id, at, shapes, times - 1}
		return shapes
	}
	if first.ahead--; first.ahead < 0 && (!dr.countLetters(m, 1) || !dr.count(len(first.shapes), r.At) || !dr.countLines(first.shapes, 1, m.Place())) {
		return nil
	}
	dr.marked[key] = first
	shapes := make([]Shape, len(first.shapes))
	for i, s := range first.shapes {
		s.ID = id + strings.TrimPrefix(s.ID, first.id)
		s.Figure = s.Figure.Move(at.Sub(first.at))
		shapes[i] = s
	}
	return shapes
}

func (dr *draft) mark(p *design.Panel, m design.Mark, r *design.Region, f Frame, id string) []Shape {
	switch m := m.(type) {
	case *design.Artwork:
		return dr.artwork(p, m, r, f, id)
	case *design.Lettering:
		if fig := dr.text(p, m, r, f); fig != nil {
			return []Shape{{ID: id, Op: opOf(m.Op), Hole: m.Op == word.Cut, Figure: fig, At: m.At}}
		}
	case *design.Frame:
		if fig := dr.frame(m, r, f.box(r.Box)); fig != nil {
			return []Shape{{ID: id, Op: Mark, Figure: fig, At: m.At}}
		}
	}
	return nil
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
