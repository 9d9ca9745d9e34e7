package art

import (
	"math"

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
	for _, c := range clips {
		if c != w.whole {
			b := c.bounds()
			box.Min.X, box.Min.Y = max(box.Min.X, b.Min.X), max(box.Min.Y, b.Min.Y)
			box.Max.X, box.Max.Y = min(box.Max.X, b.Max.X), min(box.Max.Y, b.Max.Y)
		}
	}
	if !box.Empty() && !w.whole.bounds().Grow(hair).Holds(box) {
		w.notes = append(w.notes, Note{Kind: Beyond, Where: n.where()})
	}
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
		area := math.Abs(geom.Area(geom.Outline(l.paths)))
		if len(w.layers)+len(w.lines) > 1 && area >= groundShare*page {
			out = append(out, Note{Kind: Ground, Where: l.where, Color: l.color.hex()})
		}
	}
	return out
}

// sameLine is how far apart in mm two lines run that are one: the laser can't
// tell them apart.
const sameLine = 1e-3

// single leaves one of lines that run along the same way, whichever way round and
// wherever they begin, and notes the others.
func single(lines []Contour) ([]Contour, []Note) {
	var notes []Note
	boxes := make([]geom.Box, len(lines))
	long := make([]float64, len(lines))
	for i, l := range lines {
		boxes[i], long[i] = l.Bounds(), geom.Length(l.Path)
	}
	// Those that stay, by the square in which the corner of their box lies.
	const side = 4 * sameLine
	kept := map[[2]int][]int{}
	square := func(b geom.Box) (x, y int) { return int(math.Floor(b.Min.X / side)), int(math.Floor(b.Min.Y / side)) }
	near := func(b geom.Box) []int {
		x, y := square(b)
		var all []int
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				all = append(all, kept[[2]int{x + dx, y + dy}]...)
			}
		}
		return all
	}
	edges := map[int]*geom.Boundary{}
	edge := func(i int) *geom.Boundary {
		if edges[i] == nil {
			edges[i] = geom.NewBoundary(lines[i].Path)
		}
		return edges[i]
	}
	var out []Contour
	work := 0
	for i := range lines {
		twice := false
		if work < maxPairs {
			for _, j := range near(boxes[i]) {
				if work++; lines[i].Op != lines[j].Op || boxes[i].Min.Distance(boxes[j].Min) > sameLine || boxes[i].Max.Distance(boxes[j].Max) > sameLine ||
					math.Abs(long[i]-long[j]) > sameLine*(2+0.01*long[i]) {
					continue
				}
				work += len(edge(i).Pieces)
				if twice = runsAlong(edge(i), edge(j)) && runsAlong(edge(j), edge(i)); twice {
					break
				}
			}
		}
		if twice {
			notes = append(notes, Note{Kind: Twice, Where: lines[i].Where})
			continue
		}
		x, y := square(boxes[i])
		kept[[2]int{x, y}] = append(kept[[2]int{x, y}], i)
		out = append(out, lines[i])
	}
	return out, notes
}

// runsAlong says whether a line runs along another one all its way.
func runsAlong(a, b *geom.Boundary) bool {
	for _, p := range a.Pieces {
		for _, t := range [3]float64{0, 0.31, 0.72} {
			if !b.Within(p.At(t), sameLine) {
				return false
			}
		}
	}
	return true
}
