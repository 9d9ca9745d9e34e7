package outcome

import (
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/eval/word"
)

func mark(s *solution.Solution, m model.Mark) design.Mark {
	switch m := m.(type) {
	case *model.Lettering:
		return lettering(s, m)
	case *model.Artwork:
		return artwork(s, m)
	}
	f := m.(*model.Frame)
	known := f.Known
	known.Radius = option(s, f.Radius).Or(0)
	return &known
}

func lettering(s *solution.Solution, m *model.Lettering) *design.Lettering {
	l := m.Known
	l.Cap, l.Least, l.Bridge = option(s, m.Cap), option(s, m.Least), option(s, m.Bridge)
	l.Spacing = option(s, m.Spacing).Or(0)
	if l.Curve != nil {
		curve := *l.Curve
		curve.Radius = option(s, m.Radius)
		l.Curve = &curve
	}
	l.Inlay, l.Op = inlay(s, m.Inlay, l.Op)
	return &l
}

func artwork(s *solution.Solution, m *model.Artwork) *design.Artwork {
	a := m.Known
	a.Width, a.Bridge, a.Dots.LineDistance = option(s, m.Width), option(s, m.Bridge), option(s, m.LineDistance)
	a.Turn = option(s, m.Turn).Or(0)
	a.Dots.Tone = design.Tone{Brightness: s.Stated(m.Brightness), Contrast: s.Stated(m.Contrast), Gamma: s.Stated(m.Gamma)}
	a.Inlay, a.Op = inlay(s, m.Inlay, a.Op)
	return &a
}

// inlay is what is laid into a mark, with the operation that makes its recess;
// nil and the given operation for a mark into which nothing is laid.
func inlay(s *solution.Solution, m *model.Inlay, op word.Operation) (*design.Inlay, word.Operation) {
	if m == nil {
		return nil, op
	}
	in := &design.Inlay{Through: m.Through, Ease: option(s, m.Ease).Or(0), Stock: stock(s, m.Stock)}
	if in.Through {
		return in, word.Cut
	}
	return in, word.Engrave
}

// option is the number of an option, absent where it isn't stated or comes out
// as 0, which asks for nothing.
func option(s *solution.Solution, e maybe.Of[relation.Expr]) maybe.Of[float64] {
	v, ok := s.Stated(e).Get()
	return maybe.If(v, ok && v != 0)
}
