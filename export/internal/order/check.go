package order

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"foredge/layout"
	"foredge/layout/geom"
)

// An RGB is a colour, eight bits a channel.
type RGB struct{ R, G, B uint8 }

// ParseColor reads #RRGGBB.
func ParseColor(s string) (RGB, error) {
	if len(s) == 7 && s[0] == '#' {
		if n, err := strconv.ParseUint(s[1:], 16, 24); err == nil {
			return RGB{uint8(n >> 16), uint8(n >> 8), uint8(n)}, nil
		}
	}
	return RGB{}, fmt.Errorf("%q is not a colour: write it as #RRGGBB, such as #CC79A7", s)
}

type colorError struct {
	op    layout.Op
	color string
}

func (e *colorError) Error() string {
	return fmt.Sprintf("the drawing colour of %s is %q: write it as #RRGGBB, such as %s",
		e.op, e.color, layout.DefaultPalette()[e.op])
}

// smallest is the least size that drawing files can tell from nothing, in
// millimetres: half of their 0.1 µm.
const smallest = 0.00005

var (
	errFinite = errors.New("a size or place of it is not a finite number; look at the dimensions it comes from")
	errSmall  = errors.New("it is smaller than 0.0001 mm; look at its size, and at the kerf if it is an opening")
	errFigure = errors.New("it has no figure")
)

func checkSize(size geom.Point) error {
	if !finite(size.X, size.Y) || size.X < smallest || size.Y < smallest {
		return fmt.Errorf("the drawing has no size to write: %v by %v mm", size.X, size.Y)
	}
	return nil
}

func checkShape(s *layout.Shape) error {
	if _, upright := s.Figure.(geom.Rect); s.Raster != nil && !upright {
		return fmt.Errorf("%s %s can't be drawn: %w", s.Op, s.ID, errFigure)
	}
	if err := checkFigure(s.Figure); err != nil {
		return fmt.Errorf("%s %s can't be drawn: %w", s.Op, s.ID, err)
	}
	return nil
}

func checkFigure(f geom.Figure) error {
	switch f := f.(type) {
	case geom.Rect:
		if !finite(f.Min.X, f.Min.Y, f.W, f.H) {
			return errFinite
		}
		if f.W < smallest || f.H < smallest {
			return errSmall
		}
	case geom.Circle:
		if !finite(f.Center.X, f.Center.Y, f.R) {
			return errFinite
		}
		if f.R < smallest {
			return errSmall
		}
	case geom.Path:
		return checkPath(f)
	case geom.Outline:
		for _, p := range f {
			if err := checkPath(p); err != nil {
				return err
			}
		}
	default:
		return errFigure
	}
	return nil
}

func checkPath(p geom.Path) error {
	ok := finite(p.Start.X, p.Start.Y)
	for i := range p.Segments {
		s := &p.Segments[i]
		ok = ok && finite(s.End.X, s.End.Y)
		switch s.Kind {
		case geom.ArcTo:
			ok = ok && finite(s.Center.X, s.Center.Y)
		case geom.CubicTo:
			ok = ok && finite(s.C1.X, s.C1.Y) && finite(s.C2.X, s.C2.Y)
		}
	}
	if !ok {
		return errFinite
	}
	return nil
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return false
		}
	}
	return true
}
