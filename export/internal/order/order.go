package order

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout"
	"foredge/layout/geom"
)

// A Group is what one operation does, part by part.
type Group struct {
	Op    layout.Op
	Color RGB
	Parts []Part
}

// A Part is what one operation does to one part, shape by shape. There is at
// least one shape.
type Part struct {
	Name   string
	Shapes []*layout.Shape
}

// Running returns the groups of a drawing in running order: engrave, mark,
// score, cut. Inside a part's cuts the openings come before the outlines,
// since a part that is free can shift. Operations, parts and figures with
// nothing to draw are left out, and so are guides.
//
// The error names the first shape that has a size or place that is not finite
// or is too small to be drawn, or the operation whose colour is not #RRGGBB.
func Running(d *layout.Drawing) ([]Group, error) {
	if err := checkSize(d.Size); err != nil {
		return nil, err
	}
	var groups []Group
	for _, op := range layout.Ops() {
		g := Group{Op: op}
		for i := range d.Parts {
			shapes, err := running(op, d.Parts[i].Shapes)
			if err != nil {
				return nil, err
			}
			if len(shapes) > 0 {
				g.Parts = append(g.Parts, Part{Name: d.Parts[i].Name, Shapes: shapes})
			}
		}
		if len(g.Parts) == 0 {
			continue
		}
		var err error
		if g.Color, err = ParseColor(d.Colors[op]); err != nil {
			return nil, &colorError{op, d.Colors[op]}
		}
		groups = append(groups, g)
	}
	return groups, nil
}

// running picks the shapes of one operation and checks them.
func running(op layout.Op, shapes []layout.Shape) ([]*layout.Shape, error) {
	count := 0
	for i := range shapes {
		if shapes[i].Op == op {
			count++
		}
	}
	if count == 0 {
		return nil, nil
	}
	picked := make([]*layout.Shape, 0, count)
	outlines := 0
	for i := range shapes {
		s := &shapes[i]
		if s.Op != op || empty(s.Figure) {
			continue
		}
		if err := checkShape(s); err != nil {
			return nil, err
		}
		if op == layout.Cut && !s.Hole {
			outlines++
			continue
		}
		picked = append(picked, s)
	}
	if outlines == 0 {
		return picked, nil
	}
	for i := range shapes {
		if s := &shapes[i]; s.Op == op && !s.Hole && !empty(s.Figure) {
			picked = append(picked, s)
		}
	}
	return picked, nil
}

// empty reports whether a figure has nothing to draw: the letters of a blank.
func empty(f geom.Figure) bool {
	switch f := f.(type) {
	case geom.Path:
		return len(f.Segments) == 0
	case geom.Outline:
		for _, p := range f {
			if len(p.Segments) > 0 {
				return false
			}
		}
		return true
	}
	return false
}

// Contours returns the paths of a shape that is neither a rectangle nor a
// circle, without those that have nothing to draw. Where they are cut, what
// lies inside comes first, for the same reason as openings before outlines:
// inside is what is smaller.
func Contours(s *layout.Shape) []geom.Path {
	var paths []geom.Path
	for _, p := range geom.Paths(s.Figure) {
		if len(p.Segments) > 0 {
			paths = append(paths, p)
		}
	}
	if s.Op == layout.Cut && len(paths) > 1 {
		type sized struct {
			path geom.Path
			area float64
		}
		all := make([]sized, len(paths))
		for i, p := range paths {
			all[i] = sized{p, math.Abs(p.Area())}
		}
		slices.SortStableFunc(all, func(a, b sized) int { return cmp.Compare(a.area, b.area) })
		for i, s := range all {
			paths[i] = s.path
		}
	}
	return paths
}
