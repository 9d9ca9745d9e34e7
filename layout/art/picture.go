package art

import (
	"fmt"

	"foredge/layout/geom"
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
	// below is how many of the layers a line lies on; those after it lie on the line.
	below int
}

// A Picture is a drawing, in mm from its page's left upper corner, Y down.
type Picture struct {
	Name string
	// Size is that of the page, 0 where the file doesn't say.
	Size geom.Point
	// Fill is filled together by the non-zero rule. The contours cross nowhere;
	// material is clockwise, counters the other way.
	Fill []Contour
	// Lines are the centre lines of strokes, open or closed, in the file's order.
	Lines []Contour
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
func Parse(name string, data []byte) (*Picture, error) {
	p, err := parse(data)
	if err != nil {
		err.File = name
		return nil, err
	}
	p.Name = name
	return p, nil
}

func parse(data []byte) (*Picture, *Error) {
	doc, err := read(data)
	if err != nil {
		return nil, err
	}
	w := &walker{doc: doc}
	if err := w.root(); err != nil {
		return nil, err
	}
	fill, err := resolve(w.layers)
	if err != nil {
		return nil, err
	}
	lines, err := uncovered(w.lines, w.layers)
	if err != nil {
		return nil, err
	}
	return &Picture{Size: w.page, Fill: fill, Lines: lines}, nil
}
