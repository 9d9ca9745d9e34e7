package order

import (
	"context"
	"slices"

	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/tour"
)

// A Group is what one operation does, part by part.
type Group struct {
	Op    layout.Op
	Color RGB
	Parts []Part
}

// A Part is what one operation does to one part before it goes on to another, shape by
// shape. There is at least one shape. Time counts from 1 how often the operation has come
// to the part.
type Part struct {
	Name   string
	Time   int
	Shapes []Shape
}

// A Shape is what of one shape is run without another between.
type Shape struct {
	*layout.Shape
	Time int // counts from 1 how often it has been come to
	// Paths are its contours as they are run; nil if its figure is run as a whole from
	// where it starts.
	Paths []geom.Path
}

// Contours are the paths of a shape, as they are run.
func (s *Shape) Contours() []geom.Path {
	if s.Paths != nil {
		return s.Paths
	}
	return contours(s.Figure)
}

// contours are the paths of a figure without those that have nothing to draw.
func contours(f geom.Figure) (paths []geom.Path) {
	paths = geom.Paths(f)
	if !slices.ContainsFunc(paths, nothing) {
		return paths
	}
	return slices.DeleteFunc(slices.Clone(paths), nothing)
}

func nothing(p geom.Path) bool { return len(p.Segments) == 0 }

// Running returns the groups of a drawing in the order in which they are run: engrave,
// mark, score, cut, and of each what the drawing's sequence says; where it has none, one
// is looked for. Operations, parts and figures with nothing to draw are left out, and so
// are guides.
//
// The error names the first shape that has a size or place that is not finite or is too
// small to be drawn, or the operation whose colour is not #RRGGBB.
func Running(d *layout.Drawing) ([]Group, error) {
	if err := check(d); err != nil {
		return nil, err
	}
	if d.Sequence == nil {
		d = d.Sequenced(context.Background(), 1)
	}
	r := newRunner(d)
	for runs := d.Sequence.Plan.Runs; len(runs) > 0; runs = runs[1:] {
		if err := r.take(runs); err != nil {
			return nil, err
		}
	}
	return r.groups, nil
}

func check(d *layout.Drawing) error {
	if err := checkSize(d.Size); err != nil {
		return err
	}
	for i := range d.Parts {
		for k := range d.Parts[i].Shapes {
			s := &d.Parts[i].Shapes[k]
			if s.Op == layout.Guide || empty(s.Figure) {
				continue
			}
			if err := checkShape(s); err != nil {
				return err
			}
		}
	}
	return nil
}

// A runner gathers runs in groups.
type runner struct {
	d      *layout.Drawing
	groups []Group
	part   int   // of the group at the end, its index
	shape  int   // of the part at the end, its number among all shapes
	parts  []int // how often the operation has come to each part
	shapes []int // and to each shape, all parts' one after another
	first  []int // of each part, the number of its first shape
}

func newRunner(d *layout.Drawing) *runner {
	r := &runner{d: d, parts: make([]int, len(d.Parts)), first: make([]int, len(d.Parts))}
	n := 0
	for i := range d.Parts {
		r.first[i] = n
		n += len(d.Parts[i].Shapes)
	}
	r.shapes = make([]int, n)
	return r
}

// shapeOf is what a run is of.
func (r *runner) shapeOf(run *tour.Run) (layout.ShapeAt, *layout.Shape) {
	at := r.d.Sequence.Shapes[run.Item]
	return at, &r.d.Parts[at.Part].Shapes[at.Shape]
}

// take takes the first of the runs that are left.
func (r *runner) take(runs []tour.Run) error {
	d, run := r.d, &runs[0]
	at, s := r.shapeOf(run)
	if len(r.groups) == 0 || r.groups[len(r.groups)-1].Op != s.Op {
		color, err := ParseColor(d.Colors[s.Op])
		if err != nil {
			return &colorError{s.Op, d.Colors[s.Op]}
		}
		r.groups = append(r.groups, Group{Op: s.Op, Color: color})
		r.part = -1
		clear(r.parts)
	}
	g := &r.groups[len(r.groups)-1]
	if r.part != at.Part {
		r.parts[at.Part]++
		g.Parts = append(g.Parts, Part{Name: d.Parts[at.Part].Name, Time: r.parts[at.Part],
			Shapes: make([]Shape, 0, r.ahead(runs))})
		r.part, r.shape = at.Part, -1
	}
	p := &g.Parts[len(g.Parts)-1]
	if n := r.first[at.Part] + at.Shape; r.shape != n {
		r.shapes[n]++
		p.Shapes = append(p.Shapes, Shape{Shape: s, Time: r.shapes[n]})
		r.shape = n
	}
	if s.Op != layout.Engrave && !asDrawn(s.Figure, run.Paths) {
		last := &p.Shapes[len(p.Shapes)-1]
		last.Paths = append(last.Paths, run.Paths...)
	}
	return nil
}

// ahead is how many shapes are run before the operation goes on to another part, or ends.
func (r *runner) ahead(runs []tour.Run) (shapes int) {
	at, s := r.shapeOf(&runs[0])
	before := -1
	for k := range runs {
		next, t := r.shapeOf(&runs[k])
		if next.Part != at.Part || t.Op != s.Op {
			break
		}
		if next.Shape != before {
			shapes++
		}
		before = next.Shape
	}
	return shapes
}

// asDrawn says whether a rectangle or circle is run whole from where it starts.
func asDrawn(f geom.Figure, paths []geom.Path) bool {
	switch f := f.(type) {
	case geom.Rect:
		return len(paths) == 1 && paths[0].Start == f.Start()
	case geom.Circle:
		return len(paths) == 1 && paths[0].Start == f.Start()
	}
	return false
}

// empty reports whether a figure has nothing to draw: the letters of a blank.
func empty(f geom.Figure) bool {
	switch f := f.(type) {
	case geom.Path:
		return nothing(f)
	case geom.Outline:
		return !slices.ContainsFunc(f, func(p geom.Path) bool { return !nothing(p) })
	}
	return false
}
