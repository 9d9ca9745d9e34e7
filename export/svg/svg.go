package svg

import (
	"encoding/xml"
	"io"
	"math"
	"strconv"

	"foredge/export/internal/order"
	"foredge/export/internal/text"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/raster"
)

// Encoder writes SVG. Its zero value is ready to use.
type Encoder struct{}

// Name is the name of the format.
func (Encoder) Name() string { return "svg" }

// Extension is how the names of its files end.
func (Encoder) Extension() string { return ".svg" }

// Purpose is what its files are for.
func (Encoder) Purpose() string { return "to cut from" }

// Picture says that its files are to look at, not to cut from.
func (Encoder) Picture() bool { return false }

// mostTurn is the longest arc written as one, in radians: a third of a circle.
// Half circles so become quarters. Near half a circle the centre of an SVG arc
// depends on the last digits of its radius and ends; up to a third it is off by
// no more than twice their rounding.
const mostTurn = 2 * math.Pi / 3

const prologue = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">
<svg xmlns="http://www.w3.org/2000/svg" version="1.1"`

// Encode writes the drawing. Lengths are in millimetres to 0.1 µm. The error
// is w's, or names the shape that can't be drawn; then what was written is not
// a whole file.
func (Encoder) Encode(w io.Writer, d *layout.Drawing) error {
	groups, err := order.Running(d)
	if err != nil {
		return err
	}
	e := encoder{Writer: text.NewWriter(w)}
	e.Text(prologue)
	if pictured(groups) {
		e.Text(` xmlns:xlink="http://www.w3.org/1999/xlink"`)
	}
	e.Text(` width="`)
	e.mm(d.Size.X)
	e.Text(`mm" height="`)
	e.mm(d.Size.Y)
	e.Text(`mm" viewBox="0 0`)
	e.point(' ', d.Size)
	e.Text("\">\n")
	e.element("title", d.Title)
	e.element("desc", d.Desc)
	parts := make(map[string]bool)
	for _, g := range groups {
		clear(parts)
		for _, p := range g.Parts {
			parts[p.Name] = true
		}
		e.open(g.Op, d.Colors[g.Op], d.WideLines())
		for _, p := range g.Parts {
			e.Text("    <g id=\"")
			e.id(g.Op, p.Name)
			e.again(p.Time)
			e.Text("\">\n")
			for i := range p.Shapes {
				e.shape(&p.Shapes[i], parts[p.Shapes[i].ID])
			}
			e.Text("    </g>\n")
		}
		e.Text("  </g>\n")
	}
	e.Text("</svg>\n")
	return e.Close()
}

// pictured says whether anything is a picture of dots.
func pictured(groups []order.Group) bool {
	for _, g := range groups {
		for _, p := range g.Parts {
			for _, s := range p.Shapes {
				if s.Raster != nil {
					return true
				}
			}
		}
	}
	return false
}

type encoder struct {
	*text.Writer
}

// element writes a line of text for people, if there is any.
func (e encoder) element(name, text string) {
	if text == "" {
		return
	}
	e.Texts("  <", name, ">")
	if err := xml.EscapeText(e, []byte(text)); err != nil {
		e.Fail(err)
	}
	e.Texts("</", name, ">\n")
}

// open starts the group of an operation, whose lines are so wide.
func (e encoder) open(op layout.Op, color string, width float64) {
	e.Texts(`  <g id="`, op.String())
	if op == layout.Engrave {
		e.Texts(`" fill="`, color, `" fill-rule="nonzero" stroke="none">`, "\n")
		return
	}
	e.Texts(`" fill="none" stroke="`, color, `" stroke-width="`)
	e.mm(width)
	e.Text("\">\n")
}

// shape writes one element. A shape that shares its name with a part steps
// aside, since the part's group has the id.
func (e encoder) shape(s *order.Shape, aside bool) {
	figure := s.Figure
	if s.Paths != nil {
		figure = geom.Outline(s.Paths)
	}
	switch f := figure.(type) {
	case geom.Rect:
		if s.Raster != nil {
			e.begin("image", s, aside)
			e.picture(s.Raster)
		} else {
			e.begin("rect", s, aside)
		}
		e.attribute("x", f.Min.X)
		e.attribute("y", f.Min.Y)
		e.attribute("width", f.W)
		e.attribute("height", f.H)
	case geom.Circle:
		e.begin("circle", s, aside)
		e.attribute("cx", f.Center.X)
		e.attribute("cy", f.Center.Y)
		e.attribute("r", f.R)
	default:
		e.begin("path", s, aside)
		e.Text(` d="`)
		for _, p := range s.Contours() {
			e.path(p)
		}
		e.Text(`"`)
	}
	e.Text("/>\n")
}

// picture carries the dots within the file; they stay sharp-edged when drawn.
func (e encoder) picture(im *raster.Image) {
	url, err := im.DataURL()
	if err != nil {
		e.Fail(err)
	}
	e.Texts(` preserveAspectRatio="none" image-rendering="optimizeSpeed" xlink:href="`, url, `"`)
}

func (e encoder) begin(name string, s *order.Shape, aside bool) {
	e.Texts("      <", name, ` id="`)
	e.id(s.Op, s.ID)
	if aside {
		// No name becomes this: see escape.
		e.Text("_shape")
	}
	e.again(s.Time)
	e.Text(`"`)
}

// again tells the second time that something is come to from the first: a part in which
// another lies is left and come back to.
func (e encoder) again(time int) {
	if time > 1 {
		e.Texts("_", strconv.Itoa(time))
	}
}

func (e encoder) id(op layout.Op, name string) {
	e.Texts(op.String(), ".", escape(name))
}

func (e encoder) attribute(name string, mm float64) {
	e.Texts(" ", name, `="`)
	e.mm(mm)
	e.Text(`"`)
}

func (e encoder) mm(v float64) { e.Number(v, text.Millimetres) }

func (e encoder) point(before byte, p geom.Point) {
	e.Byte(before)
	e.mm(p.X)
	e.Byte(' ')
	e.mm(p.Y)
}

// path writes the data of one path. A closed path ends where it starts, so its
// last straight line is left to Z.
func (e encoder) path(p geom.Path) {
	e.point('M', p.Start)
	from := p.Start
	last := len(p.Segments) - 1
	for i, s := range p.Segments {
		switch s.Kind {
		case geom.ArcTo:
			e.arc(geom.Piece{From: from, Segment: s})
		case geom.CubicTo:
			e.point('C', s.C1)
			e.point(' ', s.C2)
			e.point(' ', s.End)
		default:
			if i < last || !p.Closed || s.End != p.Start {
				e.point('L', s.End)
			}
		}
		from = s.End
	}
	if p.Closed {
		e.Byte('Z')
	}
}

// arc writes an arc in as few equal pieces as turn at most [mostTurn] each.
func (e encoder) arc(p geom.Piece) {
	a := p.Arc()
	// A half circle may be worked out as a hair more than π.
	n := max(1, math.Ceil(math.Abs(a.Sweep)/mostTurn-1e-9))
	for k := 1.0; k <= n; k++ {
		e.Byte('A')
		e.mm(a.R)
		e.Byte(' ')
		e.mm(a.R)
		// No arc is a large one; sweep flag 1 is clockwise as seen.
		if a.Sweep > 0 {
			e.Text(" 0 0 1")
		} else {
			e.Text(" 0 0 0")
		}
		e.point(' ', p.At(k/n))
	}
}
