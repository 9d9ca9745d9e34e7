package art

import (
	"math"
	"slices"

	"foredge/layout/geom"
)

// A NoteKind is what a maker should know of a drawing that can be drawn.
type NoteKind uint8

const (
	// Twice: a line lies on another one and is left out.
	Twice NoteKind = iota
	// Solid: colours meet that both are inked, so that their edge is lost.
	Solid
	// Ground: a shape that is nearly white fills the page.
	Ground
	// Vanished: a white line lies on nothing.
	Vanished
	// Faint: white lets through more than half of the ink under it, and takes nothing away.
	Faint
	// Beyond: ink lies beyond the page and is cut off there.
	Beyond
)

// A Note is something that a maker should know of a drawing.
type Note struct {
	Kind  NoteKind
	Where Where // the first element that it is about
	More  int   // how many others there are
	Color string
}

// gathered makes one note of those of a kind.
func gathered(all []Note) []Note {
	var out []Note
	for kind := Twice; kind <= Beyond; kind++ {
		elements := map[Where]bool{}
		first := -1
		for _, n := range all {
			if n.Kind != kind {
				continue
			}
			if first < 0 {
				first = len(out)
				out = append(out, n)
			} else if !elements[n.Where] {
				out[first].More++
			}
			elements[n.Where] = true
		}
	}
	return out
}

const (
	// lostFrom is how long in mm the edges between colours must be that are lost to
	// be told: shorter ones can't be seen on wood (common practice, no source).
	lostFrom = 1.0
	// nearWhite is how light a colour is, in red, green and blue, that looks white
	// on a screen, and groundShare how much of the page a ground covers (common
	// practice, no source).
	nearWhite   = 0.94
	groundShare = 0.95
	// hair is how far in mm ink has to lie beyond the page to be told: as wide as what a
	// laser cuts away (common practice, no source).
	hair = 0.1
)

// beyond notes ink in a box that lies beyond the page, as far as it isn't hidden there.
func (w *walker) beyond(n *node, box geom.Box, clips []*region) {
	if w.mode != drawing || w.whole == nil {
		return
	}
	box = within(box, slices.DeleteFunc(slices.Clone(clips), func(c *region) bool { return c == w.whole }))
	if !box.Empty() && !w.whole.bounds().Grow(hair).Holds(box) {
		w.notes = append(w.notes, Note{Kind: Beyond, Where: n.where()})
	}
}

// within is what of a box lies within the boxes of clips.
func within(box geom.Box, clips []*region) geom.Box {
	for _, c := range clips {
		b := c.bounds()
		box.Min.X, box.Min.Y = max(box.Min.X, b.Min.X), max(box.Min.Y, b.Min.Y)
		box.Max.X, box.Max.Y = min(box.Max.X, b.Max.X), min(box.Max.Y, b.Max.Y)
	}
	return box
}

// solid are the notes of colours that run into one another, but for those on a
// ground that is told by itself, and of white that takes nothing away.
func solid(lost []lostEdge, grounds map[Where]bool) []Note {
	sum := 0.0
	var out []Note
	var faint []Note
	for _, e := range lost {
		if e.faint {
			if len(faint) == 0 || faint[len(faint)-1].Where != e.where {
				faint = append(faint, Note{Kind: Faint, Where: e.where})
			}
			continue
		}
		if grounds[e.where] || grounds[e.below] {
			continue
		}
		sum += e.long
		out = append(out, Note{Kind: Solid, Where: e.where})
	}
	if sum < lostFrom {
		return faint
	}
	return append(out, faint...)
}

// ground are the notes of shapes that are nearly white and fill the page.
func (w *walker) ground() []Note {
	page := w.page.X * w.page.Y
	if !(page > 0) {
		b := geom.EmptyBox()
		for _, l := range w.layers {
			b = b.Union(geom.Outline(l.paths).Bounds())
		}
		page = b.Width() * b.Height()
	}
	var out []Note
	for _, l := range w.layers {
		c := l.color.over(color{1, 1, 1, 1})
		if l.paper || min(c.r, c.g, c.b) < nearWhite {
			continue
		}
		b := within(geom.Outline(l.paths).Bounds(), l.clips)
		if min(math.Abs(geom.Area(geom.Outline(l.paths))), b.Width()*b.Height()) >= groundShare*page {
			out = append(out, Note{Kind: Ground, Where: l.where, Color: l.color.hex()})
		}
	}
	return out
}
