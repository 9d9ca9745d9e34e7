package layout

import (
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/art"
	"foredge/layout/geom"
	"foredge/layout/lettering"
	"foredge/layout/raster"
)

// artwork draws an artwork file into its region.
func (dr *draft) artwork(p *design.Panel, m *design.Artwork, r *design.Region, f Frame, id string) []Shape {
	box := f.box(r.Box)
	if !(min(box.W, box.H) > smallest) {
		dr.notes.Errorf("no-room", r.At, "%s is %s by %s: there is no room for artwork", r.Name, dr.length(r.Width), dr.length(r.Height)).
			WithHelp("make the region larger")
		return nil
	}
	if raster.IsPicture(m.Data) {
		return dr.dots(p, m, r, box, id)
	}
	if format := raster.Foreign(m.Data); format != "" {
		dr.notes.Errorf("art", m.FileAt, "%s is a %s file, and only SVG drawings and PNG or JPEG pictures can be read", m.File, format).
			WithHelp("open it in the program that it comes from and save it as one of these")
		return nil
	}
	pic := dr.readArt(p, m)
	if pic == nil {
		return nil
	}
	if pic.Bounds().Empty() {
		dr.notes.Warnf("no-art", m.FileAt, "nothing is drawn in %s", m.File).
			WithHelp("its shapes may be hidden, white or without fill and stroke")
		return nil
	}
	if !dr.linesCan(m, pic) {
		return nil
	}
	if m.Dots != (design.Dots{}) {
		dr.notes.Errorf("option-clash", m.At, "line-distance, shade, brightness, contrast and gamma are of pictures of dots, and %s is a drawing", m.File).
			WithHelp("take them out")
		return nil
	}
	place, ok := dr.fitArt(m, r, box, pic)
	if !ok {
		return nil
	}
	for i := range pic.Fill {
		pic.Fill[i].Path = place.Path(pic.Fill[i].Path)
		if m.Mirror != 0 {
			// Material stays clockwise, for whoever looks at the sense of paths.
			pic.Fill[i].Path = pic.Fill[i].Path.Reverse()
		}
	}
	for i := range pic.Lines {
		pic.Lines[i].Path = place.Path(pic.Lines[i].Path)
	}
	var shapes []Shape
	before := len(dr.notes.List)
	for _, part := range partsOf(m, pic) {
		op, name := m.Op, id
		if part.op != 0 {
			op, name = part.op, id+"."+part.op.String()
		}
		shapes = append(shapes, dr.partOfArt(p, m, f, part.Picture, op, name)...)
	}
	if !dr.notes.List[before:].HasErrors() {
		dr.tellTwice(p, m, pic)
	}
	return shapes
}

// linesCan sees that no line is to be engraved or laid in.
func (dr *draft) linesCan(m *design.Artwork, pic *art.Picture) bool {
	for _, l := range pic.Lines {
		switch {
		case m.Inlay != nil:
			dr.notes.Errorf("art-lines", m.At, "%s, %s: a line can't be laid in, only what is filled", m.File, l.Where).
				WithHelp("turn its stroke into a path in the drawing program, or take it out")
			return false
		case l.Op == int(word.Engrave):
			dr.notes.Errorf("art-lines", m.At, "%s, %s: a line can't be engraved, only what is filled", m.File, l.Where).
				WithHelp("turn its stroke into a path in the drawing program, or leave out the option as: lines are then marked")
			return false
		}
	}
	return true
}

// partOfArt draws what of a drawing has one operation, in its place already.
func (dr *draft) partOfArt(p *design.Panel, m *design.Artwork, f Frame, pic *art.Picture, op word.Operation, id string) []Shape {
	fill, line := Engrave, Mark
	switch op {
	case word.Cut:
		if m.Inlay != nil {
			return dr.recessOfArt(p, m, pic, id)
		}
		return dr.cutArt(p, m, f, pic, id)
	case word.Mark:
		fill = Mark
	case word.Score:
		fill, line = Score, Score
	}
	if !dr.count(1+len(pic.Lines), m.At) {
		return nil
	}
	var shapes []Shape
	if len(pic.Fill) > 0 {
		shapes = append(shapes, Shape{ID: id, Op: fill, Figure: pic.Outline(), At: m.At})
	}
	for i, l := range pic.Lines {
		shapes = append(shapes, Shape{ID: fmt.Sprintf("%s.line.%d", id, i+1), Op: line, Figure: l.Path, At: m.At})
	}
	return shapes
}

// fitArt says how artwork gets into its box: mirrored, turned, then sized and
// aligned by what is drawn, not by its page.
func (dr *draft) fitArt(m *design.Artwork, r *design.Region, box geom.Rect, pic *art.Picture) (geom.Similarity, bool) {
	s := geom.Shift(pic.Bounds().Center().Mul(-1))
	switch m.Mirror {
	case word.Across:
		s = s.Then(geom.MirrorX(0))
	case word.Along:
		s = s.Then(geom.MirrorY(0))
	}
	s = s.Then(geom.Turn(geom.Point{}, m.Turn*math.Pi/180))
	now := geom.EmptyBox()
	for _, list := range [][]art.Contour{pic.Fill, pic.Lines} {
		for _, c := range list {
			now = now.Union(s.Path(c.Path).Bounds())
		}
	}
	k, ok := dr.sizeArt(m, r, box, now.Width(), now.Height(), true)
	if !ok {
		return s, false
	}
	s = s.Then(geom.Shift(now.Center().Mul(-1))).Then(geom.Scale(k))
	return s.Then(geom.Shift(alignArt(m.Align, box, now.Width()*k, now.Height()*k))), true
}

// recessOfArt is the recess of artwork that is laid in through the board.
func (dr *draft) recessOfArt(p *design.Panel, m *design.Artwork, pic *art.Picture, id string) []Shape {
	whole := pic.Outline()
	bridged := func(width float64) (geom.Outline, error) {
		return lettering.Stencil(whole, width, dr.kerfOf(p).Or(0))
	}
	o, ok := dr.stencil(p, m.At, m.Bridge, whole, bridged, "what is drawn in "+m.File+" is")
	if !ok || len(o) == 0 || !dr.count(1, m.At) {
		return nil
	}
	return []Shape{{ID: id, Op: Cut, Hole: true, Figure: o, At: m.At}}
}

// sizeArt is by how much artwork of w by h is scaled. Without a true size it
// fills the region.
func (dr *draft) sizeArt(m *design.Artwork, r *design.Region, box geom.Rect, w, h float64, sized bool) (float64, bool) {
	k := math.Min(box.W/w, box.H/h) // a size of 0 asks for nothing
	if width := m.Width.Or(0); width > 0 {
		if w <= smallest {
			dr.notes.Errorf("art-flat", m.At, "%s has no width that could be scaled to %s", m.File, dr.length(width)).
				WithHelp("leave out width, or rotate it")
			return 0, false
		}
		stated := width / w
		if stated > k*(1+1e-9) {
			dr.notes.Errorf("no-room", m.At, "%s at a width of %s is %s high, and %s is %s by %s", m.File, dr.length(width), dr.length(h*stated),
				r.Name, dr.length(box.W), dr.length(box.H)).
				WithHelp("a width of %s would fit", dr.length(math.Floor(w*k*100)/100))
			return 0, false
		}
		k = stated
	} else if m.Fit != word.Fill && sized {
		k = math.Min(k, 1)
	}
	return k, true
}

// alignArt is where the middle of artwork of w by h goes.
func alignArt(align word.Align, box geom.Rect, w, h float64) geom.Point {
	at := box.Bounds().Center()
	switch align {
	case word.AtLeft:
		at.X = box.Min.X + w/2
	case word.AtRight:
		at.X = box.Min.X + box.W - w/2
	case word.AtHead:
		at.Y = box.Min.Y + h/2
	case word.AtTail:
		at.Y = box.Min.Y + box.H - h/2
	}
	return at
}
