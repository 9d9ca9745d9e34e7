package eval

import (
	"math"

	"foredge/eval/kind"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// openLine sees to the lines that make an opening open to an edge: `neck = 3.5`,
// and of a cutout `open = foredge`.
func (b *builder) openLine(it *item, key string, p prop) {
	if key == "open" {
		b.word(p, kind.Edges(), "edge")
		return
	}
	if it.thing.Kind.Name == "cutout" {
		if _, ok := it.props["open"]; !ok {
			b.diags.Errorf("edge", p.line.Span(), "nothing says to which edge the neck of %s leads", it.thing.Path()).
				WithHelp("write open = foredge, or another edge, into its braces")
		}
	}
	x, ok := b.expr(p.value, p.scope, unit.Length, key)
	if !ok {
		return
	}
	if c, known := constant(x); known && c <= 0 {
		b.diags.Errorf("negative", p.at(), "a neck must be wider than 0").
			WithHelp("take the line out for openings that are closed all round")
		return
	}
	b.needExpr(x)
	it.exprs[key] = x
}

// A Neck joins an opening with an edge of its panel, so that the opening is a
// notch of the panel's outline.
type Neck struct {
	Edge string  // "" where the opening is closed all round
	Wide float64 // along the edge
	At   source.Span
}

// rowNeck is the neck of a row's holes. A hole that lies on a measured one has
// its neck, opened by the same ease.
func (s *Solution) rowNeck(it *item) Neck {
	from := it
	wide := s.number(it, "neck")
	if math.IsNaN(wide) && it.thing.CoverOf != nil {
		from = s.byPath[it.thing.CoverOf.Path()]
		wide = s.number(from, "neck")
		if e := s.of(it, "ease"); !math.IsNaN(e) {
			wide += e
		}
	}
	if math.IsNaN(wide) {
		return Neck{}
	}
	return Neck{Edge: it.thing.Edge, Wide: wide, At: from.props["neck"].line.Span()}
}

// cutoutNeck is the neck of a cutout: as wide as the cutout where nothing else
// is stated.
func (s *Solution) cutoutNeck(it *item, b Box) Neck {
	edge, open := propWord(it.props["open"])
	if !open {
		return Neck{}
	}
	n := Neck{Edge: edge, Wide: b.Height, At: it.props["open"].line.Span()}
	if edge == "head" || edge == "tail" {
		n.Wide = b.Width
	}
	if w := s.number(it, "neck"); !math.IsNaN(w) {
		n.Wide, n.At = w, it.props["neck"].line.Span()
	}
	return n
}
