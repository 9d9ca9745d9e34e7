package eval

import (
	"math"

	"foredge/eval/design"
	"foredge/eval/kind"
	"foredge/eval/word"
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

// rowNeck is the neck of a row's holes; nil for closed ones. A hole that lies on
// a measured one has its neck, opened by the same ease.
func (s *Solution) rowNeck(it *item) *design.Neck {
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
		return nil
	}
	return &design.Neck{Edge: choice(it.thing.Edge, word.Edges()), Wide: wide, At: from.props["neck"].line.Span()}
}

// cutoutNeck is the neck of a cutout, as wide as the cutout where nothing else
// is stated; nil for a closed one.
func (s *Solution) cutoutNeck(it *item, b design.Box) *design.Neck {
	edge, open := propWord(it.props["open"])
	if !open {
		return nil
	}
	n := &design.Neck{Edge: choice(edge, word.Edges()), Wide: b.Height, At: it.props["open"].line.Span()}
	if n.Edge.Level() {
		n.Wide = b.Width
	}
	if w := s.number(it, "neck"); !math.IsNaN(w) {
		n.Wide, n.At = w, it.props["neck"].line.Span()
	}
	return n
}
