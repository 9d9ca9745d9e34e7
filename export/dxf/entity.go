package dxf

import (
	"math"

	"foredge/export/internal/order"
	"foredge/export/internal/text"
	"foredge/layout/geom"
	"foredge/layout/raster"
)

// shape writes the entities of one shape.
func (f *file) shape(s *order.Shape) {
	whole := s.Figure
	if s.Paths != nil {
		whole = geom.Outline(s.Paths)
	}
	switch figure := whole.(type) {
	case geom.Rect:
		b := figure.Bounds()
		if s.Raster != nil {
			f.runs(b, s.Raster)
			return
		}
		f.beginPolyline(4, true)
		f.vertex(b.Min, 0)
		f.vertex(geom.Pt(b.Max.X, b.Min.Y), 0)
		f.vertex(b.Max, 0)
		f.vertex(geom.Pt(b.Min.X, b.Max.Y), 0)
		f.endPolyline()
	case geom.Circle:
		f.entity("CIRCLE", "AcDbCircle")
		f.round(figure.Center, figure.R)
	default:
		for _, p := range s.Contours() {
			f.path(p)
		}
	}
}

// runs writes a picture of dots as a line along each dark run of a row.
func (f *file) runs(b geom.Box, im *raster.Image) {
	x := func(dot int) float64 { return b.Min.X + b.Width()*float64(dot)/float64(im.W) }
	for r := range im.Runs() {
		y := b.Min.Y + b.Height()*(float64(r.Row)+0.5)/float64(im.H)
		f.line(geom.Pt(x(r.From), y), geom.Pt(x(r.To), y))
	}
}

// entity starts an entity. In AC1015 it has a handle, the model space as its
// owner, and class marks.
func (f *file) entity(name, class string) {
	f.Text("0\n")
	f.Text(name)
	if f.version == R12 {
		f.Text(f.onLayer)
		return
	}
	f.Text("\n5\n")
	f.Hex(f.next)
	f.next++
	f.Text("\n330\n" + modelSpaceRecord + "\n100\nAcDbEntity")
	f.Text(f.onLayer)
	f.Text("100\n")
	f.Text(class)
	f.Byte('\n')
}

// round writes the centre and radius of a CIRCLE or an ARC.
func (f *file) round(center geom.Point, r float64) {
	f.point("10\n", "\n20\n", center)
	f.Text("\n30\n0\n40\n")
	f.length(r)
	f.Byte('\n')
}

// path writes a path as the plainest entity that holds it.
func (f *file) path(p geom.Path) {
	if len(p.Segments) == 1 && !p.Closed {
		switch p.Segments[0].Kind {
		case geom.LineTo:
			f.line(p.Start, p.End())
			return
		case geom.ArcTo:
			f.arc(geom.Piece{From: p.Start, Segment: p.Segments[0]})
			return
		}
	}
	f.polyline(straightened(p))
}

func (f *file) line(from, to geom.Point) {
	f.entity("LINE", "AcDbLine")
	f.point("10\n", "\n20\n", from)
	f.point("\n30\n0\n11\n", "\n21\n", to)
	f.Text("\n31\n0\n")
}

// arc writes an ARC, which always runs anticlockwise with Y up: one that runs
// clockwise changes its ends about.
func (f *file) arc(p geom.Piece) {
	a := p.Arc()
	start, end := p.From, p.End
	if a.Sweep > 0 {
		start, end = end, start
	}
	f.entity("ARC", "AcDbCircle")
	f.round(a.Center, a.R)
	if f.version != R12 {
		f.tags("100", "AcDbArc")
	}
	f.Text("50\n")
	f.Number(direction(a.Center, start), text.Degrees)
	f.Text("\n51\n")
	f.Number(direction(a.Center, end), text.Degrees)
	f.Byte('\n')
}

// direction is the angle of p as seen from c, in degrees from 0 to 360,
// anticlockwise with Y up.
func direction(c, p geom.Point) float64 {
	deg := math.Atan2(c.Y-p.Y, p.X-c.X) * 180 / math.Pi
	if deg < 0 {
		deg += 360
	}
	return deg
}

// straightened has arcs of at most half a circle in place of longer ones and of
// curves, so that no bulge is more than 1.
func straightened(p geom.Path) geom.Path {
	curves, long := false, false
	for piece := range p.Pieces() {
		curves = curves || piece.Kind == geom.CubicTo
		long = long || piece.Kind == geom.ArcTo && math.Abs(piece.Arc().Sweep) > math.Pi*(1+1e-9)
	}
	if curves {
		p = p.Arcs(Tolerance)
	}
	if long {
		p = p.SplitArcs(math.Pi)
	}
	return p
}

// polyline writes a path of lines and arcs. A bulge belongs to the vertex that
// the arc starts from.
func (f *file) polyline(p geom.Path) {
	segments := p.Segments
	if last := len(segments) - 1; p.Closed && last > 0 &&
		segments[last].Kind == geom.LineTo && segments[last].End == p.Start {
		// Being closed draws the last straight line.
		segments = segments[:last]
	}
	vertices := len(segments)
	end := segments[vertices-1].End
	loose := !p.Closed || end != p.Start // the last end is a vertex of its own
	if loose {
		vertices++
	}
	f.beginPolyline(vertices, p.Closed)
	from := p.Start
	for _, s := range segments {
		f.vertex(from, geom.Piece{From: from, Segment: s}.Bulge())
		from = s.End
	}
	if loose {
		f.vertex(end, 0)
	}
	f.endPolyline()
}

func (f *file) beginPolyline(vertices int, closed bool) {
	flag := "0"
	if closed {
		flag = "1"
	}
	if f.version == R12 {
		f.entity("POLYLINE", "")
		f.Text("66\n1\n10\n0\n20\n0\n30\n0\n70\n")
	} else {
		f.entity("LWPOLYLINE", "AcDbPolyline")
		f.Text("90\n")
		f.Int(vertices)
		f.Text("\n70\n")
	}
	f.Text(flag)
	f.Byte('\n')
}

func (f *file) vertex(p geom.Point, bulge float64) {
	if f.version == R12 {
		f.Text("0\nVERTEX")
		f.Text(f.onLayer)
	}
	f.point("10\n", "\n20\n", p)
	if f.version == R12 {
		f.Text("\n30\n0")
	}
	if bulge != 0 {
		f.Text("\n42\n")
		f.Number(bulge, text.Ratios)
	}
	f.Byte('\n')
}

func (f *file) endPolyline() {
	if f.version == R12 {
		f.Text("0\nSEQEND")
		f.Text(f.onLayer)
	}
}
