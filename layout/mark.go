package layout

import (
	"errors"
	"fmt"

	"foredge/eval"
	"foredge/layout/geom"
	"foredge/layout/lettering"
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
			drawn = []Shape{{ID: id, Op: op, Figure: fig, At: m.At}}
		}
		if !dr.onPanel(p, drawn, outline) {
			dr.diags.Errorf("outside", m.At, "what stands in %s runs over a corner of %s", r.Name, p.Name).
				WithHelp("move the region away from the corner, or make it smaller")
			continue
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
	font, err := dr.font(m)
	if err != nil {
		dr.reportLettering(m, r, err)
		return nil
	}
	mode := lettering.Shrink
	if m.Fit == "fill" {
		mode = lettering.Fill
	}
	align := map[string]lettering.Align{"left": lettering.Left, "right": lettering.Right}[m.Align]
	out, cap, err := lettering.Fit(font, m.Text, box.W, box.H, m.Cap, mode, align)
	if err != nil {
		dr.reportLettering(m, r, err)
		return nil
	}
	if m.Fit == "" && m.Cap > 0 && cap < m.Cap-1e-3 {
		dr.diags.Errorf("no-room", m.At, "%s has no room for this text with capitals %s high; %s would fit", r.Name,
			dr.length(m.Cap), dr.length(float64(int(cap*100))/100)).
			WithHelp("make the region larger or the capitals smaller, or write fit = shrink")
		return nil
	}
	if len(out) == 0 {
		return nil
	}
	dr.adviseCap(p.Quiet, m, cap)
	return out.Move(box.Min)
}

func (dr *drawer) font(m *eval.Mark) (*lettering.Font, error) {
	switch {
	case m.Data != nil:
		return lettering.Parse(m.Font, m.Data)
	case m.Font == "":
		return lettering.Load(lettering.Default)
	}
	return lettering.Load(m.Font)
}

// reportLettering puts what is wrong with a text into a diagnostic.
func (dr *drawer) reportLettering(m *eval.Mark, r *eval.Region, err error) {
	var (
		unknown lettering.UnknownFontError
		missing lettering.MissingError
		control lettering.ControlError
		room    lettering.RoomError
	)
	switch {
	case errors.As(err, &unknown):
		dr.diags.Fail("font", m.At, err, "the built-in fonts are the Go fonts, such as Go Regular, Go Bold and Go Italic; a font of your own is named by its file, as in \"letters.ttf\"")
	case errors.As(err, &missing):
		dr.diags.Fail("glyph", m.TextAt, err, "letter it in a font that has the character, or write it in another way")
	case errors.As(err, &control):
		dr.diags.Fail("glyph", m.TextAt, err, "take it out of the text")
	case errors.As(err, &room):
		dr.diags.Errorf("no-room", r.At, "%s is %s by %s: there is no room for text", r.Name, dr.length(r.Width), dr.length(r.Height)).
			WithHelp("make the region larger")
	default:
		dr.diags.Fail("font", m.At, err, "try another font")
	}
}
