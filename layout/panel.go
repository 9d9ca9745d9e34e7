package layout

import (
	"errors"
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/eval/maybe"
	numbers "foredge/eval/opening"
	"foredge/eval/word"
	"foredge/lang/source"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// panel draws one panel with its left upper corner at the given place.
func (dr *draft) panel(p *design.Panel, origin geom.Point) Part {
	f := Frame{origin, p.Width, p.Height, p.Mirrored}
	part := Part{Name: p.Name, At: p.At, Stock: stockName(p.Stock), Of: p.Stock, Want: dr.kerfOf(p), Copies: p.Copies, Oversize: p.Quiet.Has("too-large")}
	if p.Stock == nil {
		part.Thick = p.Thick
	} else {
		part.Usual, part.Grain = p.Stock.UsualKerf, p.Stock.Grain
	}
	part.Recesses = p.Recesses
	before := len(dr.notes.List)
	outline := dr.outline(p, f)
	part.Bounds = outline.Bounds()
	holes := 0
	for i := range p.Rows {
		holes += len(p.Rows[i].Centers)
	}
	for i := range p.Stitches {
		holes += p.Stitches[i].Count()
	}
	if !dr.count(holes+len(p.Cutouts)+len(p.Regions)+1, p.At) {
		return part
	}
	part.Shapes = dr.openings(p, f, outline)
	var slots []Shape
	lines := dr.linesAcross(p, f, outline)
	recesses := dr.recesses(p, f)
	cuts := dr.checkPanel(p, f, outline, part.Shapes, recesses)
	closed, open := dr.notches(p, outline, part.Shapes)
	if len(p.Lattices) > 0 {
		more, run := dr.lattices(p, f, outline, lines)
		slots, open = more, append(open, run...)
	}
	if dr.notes.List[before:].HasErrors() {
		open = nil // an outline whose notches run into one another would be told of again
	}
	edge, _ := opening.WithNotches(outline, open)
	part.Shapes = append(append(closed, slots...), lines...)
	part.Shapes = append(part.Shapes, Shape{ID: p.Name + ".outline", Op: Cut, Figure: edge, At: p.At})
	for _, s := range recesses {
		if !s.recess.Inside {
			part.Shapes = append(part.Shapes, s)
		}
	}
	var ink []inked
	var marked markedPanel
	ruled := lines
	dr.expect(func(yield func(*design.Region) bool) {
		for i := range p.Regions {
			if !p.Regions[i].Inside && !yield(&p.Regions[i]) {
				return
			}
		}
	})
	for i := range p.Regions {
		if p.Regions[i].Inside {
			dr.layInside(p, &p.Regions[i])
			continue
		}
		marks := dr.marks(p, &p.Regions[i], f, outline)
		ink = append(ink, inked{&p.Regions[i], f.box(p.Regions[i].Box), marks})
		marked.add(p, &p.Regions[i], marks)
		part.Shapes, lines = append(part.Shapes, marks...), append(lines, marks...)
	}
	dr.checkMarks(p, outline, cuts, ruled, &marked)
	dr.marksOnSeams(p, &marked, cuts)
	dr.cutsOnRecesses(p, &marked, recesses)
	for _, s := range lines {
		if s.Op == Cut {
			cuts = append(cuts, s)
		}
	}
	dr.checkInk(p, ink)
	dr.checkLettered(p, f, ink)
	dr.checkClear(p, f, outline, edge, cuts, recesses)
	dr.checkSize(p.Name, "panel", p.Width, p.Height, p.Stock, p.Quiet, p.At)
	if !dr.notes.List[before:].HasErrors() {
		dr.checkCutOut(&part, p.Quiet, "panel")
		advise.Panel(&dr.notes, p, f.corners(outline), toEdge(ruled, outline, edge))
	}
	return part
}

// openings draws what goes through a panel: holes of rows and stitches, and cutouts.
func (dr *draft) openings(p *design.Panel, f Frame, outline geom.Figure) (shapes []Shape) {
	for i := range p.Rows {
		shapes = append(shapes, dr.row(p, &p.Rows[i], f)...)
	}
	for i := range p.Stitches {
		shapes = append(shapes, dr.stitch(p, &p.Stitches[i], f, outline)...)
	}
	for i := range p.Cutouts {
		c := &p.Cutouts[i]
		if !(min(c.Width, c.Height) > smallest) {
			dr.notes.Errorf("nothing-left", c.At, "%s comes out at %s by %s: there is nothing to cut", c.Name, dr.length(c.Width), dr.length(c.Height)).
				WithHelp("check the lines that give its size")
			continue
		}
		if s, ok := dr.cutout(p, c, f); ok {
			shapes = append(shapes, s)
		}
	}
	return shapes
}

// smallest is the least size of anything that is drawn, in mm: what is smaller
// came out of numbers that don't fit together, and no file could show it.
const smallest = 0.001

// outline is a panel's edge with its corners.
func (dr *draft) outline(p *design.Panel, f Frame) geom.Figure {
	if !(p.Width > smallest) || !(p.Height > smallest) {
		dr.notes.Errorf("nothing-left", p.At, "%s is %s by %s: there is nothing to cut", p.Name, dr.length(p.Width), dr.length(p.Height)).
			WithHelp("check the lines that give its width and height")
		return geom.Rect{Min: f.Origin}
	}
	corners := cornersOf(p.Corners, p.Mirrored)
	if p.Tab != nil {
		return dr.tabbed(p, f, corners).Move(f.Origin)
	}
	fig, err := geom.Board(p.Width, p.Height, corners)
	if p.Arch != nil {
		if !dr.checkArch(p) {
			return geom.Rect{W: p.Width, H: p.Height}.Move(f.Origin)
		}
		if p.Arch.Rise > smallest {
			fig, err = geom.Arched(p.Width, p.Height, p.Arch.Rise, corners)
		}
	}
	var tooBig geom.CornerError
	if errors.As(err, &tooBig) {
		order := cornerOrder(p.Mirrored)
		c := p.Corners[order[tooBig.First]]
		if second := p.Corners[order[tooBig.Second]]; second.Size > c.Size {
			c = second
		}
		dr.notes.Errorf("corner-large", c.At, "two corners of %s need %s of a side that is only %s long", p.Name, dr.length(tooBig.Need), dr.length(tooBig.Have)).
			WithHelp("make them smaller")
		fig = geom.Rect{W: p.Width, H: p.Height}
	}
	return fig.Move(f.Origin)
}

// cornerOrder is where the corners of a panel stand in the order in which its outline runs,
// from the upper left: ours are head-spine, head-foredge, tail-spine, tail-foredge.
func cornerOrder(mirrored bool) [4]int {
	if mirrored {
		return [4]int{1, 0, 2, 3}
	}
	return [4]int{0, 1, 3, 2}
}

// cornersOf are the corners of a panel in the order in which its outline runs.
func cornersOf(its [4]design.Corner, mirrored bool) (corners [4]geom.Corner) {
	for i, k := range cornerOrder(mirrored) {
		c := its[k]
		corners[i].Size = c.Size
		switch c.Form {
		case word.Radius:
			corners[i].Kind = geom.Round
		case word.Chamfer:
			corners[i].Kind = geom.Chamfer
		case word.Scoop:
			corners[i].Kind = geom.Scoop
		}
	}
	return corners
}

// checkArch sees that the head edge of a panel can be an arc that rises so far.
func (dr *draft) checkArch(p *design.Panel) bool {
	most := min(p.Width/2, p.Height)
	if p.Arch.Rise > most+geom.Tol || p.Arch.Rise < 0 {
		dr.notes.Errorf("arch", p.Arch.At, "the arch of %s can't rise by %s: half a circle over a width of %s rises by %s, and the board is %s high", p.Name,
			dr.length(p.Arch.Rise), dr.length(p.Width), dr.length(p.Width/2), dr.length(p.Height)).
			WithHelp("let it rise by %s or less", dr.length(most))
		return false
	}
	for i, which := range word.Corners()[:2] {
		if c := p.Corners[i]; c.Form == word.Chamfer || c.Form == word.Scoop {
			dr.notes.Errorf("arch", c.At, "the head edge of %s is an arch, and where it ends there is no right angle for a %s", p.Name, c.Form).
				Note(p.Arch.At, "the arch is here").
				WithHelp("write corner %s = square, or a radius", which)
			return false
		}
	}
	return true
}

// row draws the holes of a row, numbered from 1 at its starting edge.
func (dr *draft) row(p *design.Panel, r *design.Row, f Frame) []Shape {
	o := r.Opening
	if len(r.Centers) > 0 && !(min(o.Along, o.Across) > smallest) {
		dr.notes.Errorf("nothing-left", r.HoleAt, "the holes of %s come out at %s by %s: there is nothing to cut", r.Name, dr.length(o.Along), dr.length(o.Across)).
			WithHelp("check the lines that give their size")
		return nil
	}
	fitted := dr.fitted(o, "a hole", r.HoleAt)
	shapes := make([]Shape, len(r.Centers))
	for i, c := range r.Centers {
		hole := opening.Placed{Opening: fitted, At: f.Along(r.Edge, c, r.Inset+o.Across/2), Upright: !r.Edge.Level()}
		shapes[i] = Shape{ID: fmt.Sprintf("%s.%s.%d", p.Name, r.Name, i+1), Op: Cut, Hole: true, Figure: hole.Figure(), At: r.HoleAt}
		if r.Neck != nil {
			shapes[i], _ = dr.openTo(shapes[i], r.Neck, f, hole, r.Inset, dr.kerfOf(p))
		}
	}
	return shapes
}

// fitted is an opening whose corners fit it; it reports those that don't.
func (dr *draft) fitted(o numbers.Opening, what string, at source.Span) numbers.Opening {
	fitted, ok := opening.Fitted(o)
	if !ok {
		dr.notes.Errorf("corner-large", at, "%s of %s by %s can't have corners of radius %s", what, dr.length(o.Along), dr.length(o.Across), dr.length(o.Radius)).
			WithHelp("a radius is at most half of the smaller size")
	}
	return fitted
}

// cutout draws a cutout; false for one that can't be drawn, which is told.
func (dr *draft) cutout(p *design.Panel, c *design.Cutout, f Frame) (Shape, bool) {
	hole := opening.Placed{Opening: dr.fitted(c.Opening, "a cutout", c.At), At: f.box(c.Box).Bounds().Center()}
	s := Shape{ID: p.Name + "." + c.Name, Op: Cut, Hole: true, Figure: f.turned(hole.Figure(), c), At: c.At}
	if c.Neck != nil {
		return dr.openTo(s, c.Neck, f, hole, fromEdge(c.Box, c.Neck.Edge), dr.kerfOf(p))
	}
	return s, true
}

// turned is a figure turned as a cutout is, about the middle of its box: clockwise
// on the panel that it was stated for, the other way on a mirrored one.
func (f Frame) turned(fig geom.Figure, c *design.Cutout) geom.Figure {
	if c.Rotate == 0 {
		return fig
	}
	angle := c.Rotate * math.Pi / 180
	if f.Mirrored {
		angle = -angle
	}
	return geom.Turn(f.box(c.Box).Bounds().Center(), angle).Apply(fig)
}

// fromEdge is how far a box lies from an edge.
func fromEdge(b design.Box, e word.Edge) float64 {
	switch e {
	case word.Head:
		return b.Head
	case word.Tail:
		return b.Tail
	case word.Foredge:
		return b.Foredge
	}
	return b.Spine
}

// kerfOf is the full width of cut to allow for: the stock's, else the laser's.
func (dr *draft) kerfOf(p *design.Panel) maybe.Of[float64] {
	if p == nil {
		return dr.kerfIn(nil)
	}
	return dr.kerfIn(p.Stock)
}

func (dr *draft) kerfIn(s *design.Stock) maybe.Of[float64] {
	if s == nil {
		return dr.design.Laser.Kerf
	}
	return s.Kerf.OrElse(dr.design.Laser.Kerf)
}
