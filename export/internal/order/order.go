package order

import (
	"context"

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
	for _, p := range geom.Paths(f) {
		if len(p.Segments) > 0 {
			paths = append(paths, p)
		}
	}
	return paths
}

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
	var r runner
	runs := d.Sequence.Plan.Runs
	for k := range runs {
		if err := r.take(d, &runs[k]); err != nil {
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
	groups []Group
	part   int                    // of the group at the end, its index
	shape  layout.ShapeAt         // of the part at the end
	parts  map[int]int            // how often the operation has come to each part
	shapes map[layout.ShapeAt]int // and to each shape
}

// take takes the next run.
func (r *runner) take(d *layout.Drawing, run *tour.Run) error {
	at := d.Sequence.Shapes[run.Item]
	s := &d.Parts[at.Part].Shapes[at.Shape]
	if len(r.groups) == 0 || r.groups[len(r.groups)-1].Op != s.Op {
		color, err := ParseColor(d.Colors[s.Op])
		if err != nil {
			return &colorError{s.Op, d.Colors[s.Op]}
		}
		r.groups = append(r.groups, Group{Op: s.Op, Color: color})
		r.part, r.parts, r.shapes = -1, map[int]int{}, map[layout.ShapeAt]int{}
	}
	g := &r.groups[len(r.groups)-1]
	if r.part != at.Part {
		r.parts[at.Part]++
		g.Parts = append(g.Parts, Part{Name: d.Parts[at.Part].Name, Time: r.parts[at.Part]})
		r.part, r.shape = at.Part, layout.ShapeAt{Part: -1}
	}
	p := &g.Parts[len(g.Parts)-1]
	if r.shape != at {
		r.shapes[at]++
		p.Shapes = append(p.Shapes, Shape{Shape: s, Time: r.shapes[at]})
		r.shape = at
	}
	if s.Op != layout.Engrave && !asDrawn(s.Figure, run.Paths) {
		last := &p.Shapes[len(p.Shapes)-1]
		last.Paths = append(last.Paths, run.Paths...)
	}
	return nil
}

// asDrawn says whether a rectangle or circle is run whole from where it starts.
func asDrawn(f geom.Figure, paths []geom.Path) bool {
	switch f.(type) {
	case geom.Rect, geom.Circle:
		return len(paths) == 1 && paths[0].Start == geom.Paths(f)[0].Start
	}
	return false
}

// empty reports whether a figure has nothing to draw: the letters of a blank.
func empty(f geom.Figure) bool {
	switch f := f.(type) {
	case geom.Path:
		return len(f.Segments) == 0
	case geom.Outline:
		return len(contours(f)) == 0
	}
	return false
}
