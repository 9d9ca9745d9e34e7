package art

import (
	"fmt"
	"maps"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/lettering"
)

const (
	MaxBytes    = 8 << 20 // of a file
	MaxDepth    = 64      // of elements in one another, followed uses among them
	MaxElements = 50000   // in a file, and drawn, counting every use
	MaxSegments = 100000  // of all paths drawn
	// MaxSize is how far from the page's corner anything may be drawn, in mm.
	MaxSize = 10000
	// maxRules is how many selectors a file's styles may hold.
	maxRules = 2000
	// maxValue is how long an attribute may be that is read each time it is shown:
	// all but path data, points, transforms and styles.
	maxValue = 10000
)

// A Where is the element that something comes from.
type Where struct {
	Line    int    // from 1
	Element string // path, use
}

func (w Where) String() string { return fmt.Sprintf("line %d, <%s>", w.Line, w.Element) }

// A Contour is one closed outline or one line.
type Contour struct {
	geom.Path
	Where Where
	// Width is how wide a line is stroked in the file, in mm; 0 for outlines.
	Width float64
	// Op is its operation: that of its colour or layer by the options, or else
	// [Options.Fill] or [Options.Line].
	Op int
	// Inner says that a line parts areas that closed lines round it cut out together.
	Inner bool
	// below is how many of the layers a line lies on; those after it lie on the line.
	below int
	fill  bool   // it is an outline of what is filled
	fades []fade // what is not wholly opaque that it stands in
}

// A Picture is a drawing, in mm from its page's left upper corner, Y down.
type Picture struct {
	Name string
	// Size is that of the page, 0 where the file doesn't say.
	Size geom.Point
	// Fill is filled together by the non-zero rule. The contours of one operation
	// cross nowhere; material is clockwise, counters the other way.
	Fill []Contour
	// Lines are the centre lines of strokes, open or closed, in the file's order.
	Lines []Contour
	// Notes are what a maker should know, one of each kind at most.
	Notes []Note
	// Missing are the colours and layers of the options of which it draws nothing.
	Missing []string
	// Changes are what isn't lettered in the font that was asked for.
	Changes []lettering.Change
}

// Bounds is the least box that holds the outlines and the centre lines; empty
// for a drawing of nothing.
func (p *Picture) Bounds() geom.Box {
	b := geom.EmptyBox()
	for _, list := range [][]Contour{p.Fill, p.Lines} {
		for _, c := range list {
			b = b.Union(c.Bounds())
		}
	}
	return b
}

// Outline is the filled area.
func (p *Picture) Outline() geom.Outline {
	var o geom.Outline
	for _, c := range p.Fill {
		o = append(o, c.Path)
	}
	return o
}

// An Error is what is wrong with a file, in words for its maker.
type Error struct {
	File    string
	Where   Where // Line 0 for the file as a whole
	Message string
	Advice  string // what to do about it
}

func (e *Error) Error() string {
	switch {
	case e.Where.Line == 0:
		return fmt.Sprintf("%s: %s", e.File, e.Message)
	case e.Where.Element == "":
		return fmt.Sprintf("%s, line %d: %s", e.File, e.Where.Line, e.Message)
	}
	return fmt.Sprintf("%s, %s: %s", e.File, e.Where, e.Message)
}

// Help is what to do about it.
func (e *Error) Help() string { return e.Advice }

// Parse reads an SVG file. The name is what messages call it. The error is an
// [*Error].
func Parse(name string, data []byte) (*Picture, error) { return Options{}.Parse(name, data) }

// Parse reads an SVG file as the options say.
func (o Options) Parse(name string, data []byte) (*Picture, error) {
	p, err := o.parse(data)
	if err != nil {
		err.File = name
		return nil, err
	}
	p.Name = name
	return p, nil
}

func (o Options) parse(data []byte) (*Picture, *Error) {
	doc, err := read(data)
	if err != nil {
		return nil, err
	}
	w := newWalker(doc, &o)
	if err := w.root(); err != nil {
		return nil, err
	}
	p := &Picture{Size: w.page, Missing: w.missing(), Changes: w.spent.changes}
	grounds := map[Where]bool{}
	notes := append(w.notes, w.ground()...)
	for _, n := range notes {
		grounds[n.Where] = n.Kind == Ground || grounds[n.Where]
	}
	notes = append(notes, w.vanished()...)
	// Each operation is a drawing of its own; what is white takes away from all.
	for _, op := range w.operations() {
		fill, lost, err := resolve(w.layersOf(op), w.spent.work)
		if err != nil {
			return nil, err
		}
		for i := range fill {
			fill[i].Op = op
		}
		p.Fill = append(p.Fill, fill...)
		notes = append(notes, solid(lost, grounds)...)
	}
	lines, faint, err := uncovered(w.lines, w.layers, w.spent.work)
	if err != nil {
		return nil, err
	}
	notes = append(notes, faint...)
	lines = append(p.outlinesOf(o.along(lines)), backAtStart(lines, o.Whole)...)
	lines, twice, share := single(lines, o.Whole)
	if share {
		var more []Note
		lines, more = united(lines, o.Whole)
		twice = append(twice, more...)
	}
	for _, l := range lines {
		if l.fill {
			l.fill = false
			p.Fill = append(p.Fill, l)
			continue
		}
		p.Lines = append(p.Lines, l)
	}
	p.Notes = gathered(append(notes, twice...))
	return p, nil
}

// along are the operations whose outlines of what is filled are looked at beside lines:
// those that run along both, and those that cut both out if there are any lines.
func (o *Options) along(lines []Contour) map[int]bool {
	ops := maps.Clone(o.Along)
	for _, l := range lines {
		if o.Whole[l.Op] {
			if ops == nil {
				ops = map[int]bool{}
			}
			ops[l.Op] = true
		}
	}
	return ops
}

// outlinesOf takes out the outlines of what is filled by some operations.
func (p *Picture) outlinesOf(ops map[int]bool) (out []Contour) {
	p.Fill = slices.DeleteFunc(p.Fill, func(c Contour) bool {
		if ops[c.Op] {
			c.fill = true
			out = append(out, c)
		}
		return ops[c.Op]
	})
	return out
}

// operations are those that the areas of the drawing have, in rising order.
func (w *walker) operations() []int {
	var all []int
	for _, l := range w.layers {
		all = append(all, l.op)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func (w *walker) layersOf(op int) []layer {
	var out []layer
	for _, l := range w.layers {
		if l.op == op || l.paper {
			out = append(out, l)
		}
	}
	return out
}
