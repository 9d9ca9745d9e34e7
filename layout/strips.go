package layout

import (
	"fmt"
	"strings"

	"foredge/eval/design"
	"foredge/lang/source"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// A strip is the least material that is left between the openings of two lines,
// or between those of one and the edge (b is then nil).
type strip struct {
	a, b *Shape
	gap  float64
}

// strips collects the narrowest of each pair of lines, in the order in which
// they are met.
type strips struct {
	all []strip
	of  map[[2]source.Span]int
}

func (s *strips) add(a, b *Shape, gap float64) {
	key := [2]source.Span{a.At}
	if b != nil {
		key[1] = b.At
	}
	i, met := s.of[key]
	switch {
	case !met:
		if s.of == nil {
			s.of = map[[2]source.Span]int{}
		}
		s.of[key] = len(s.all)
		s.all = append(s.all, strip{a, b, gap})
	case gap < s.all[i].gap-geom.Tol:
		s.all[i] = strip{a, b, gap}
	}
}

// adviseStrips tells of what is left between openings, and beside them.
func (dr *draft) adviseStrips(p *design.Panel, s strips) {
	for _, st := range s.all {
		if st.b == nil {
			advise.NarrowEdge(&dr.notes, p, rowAt(p, st.a.At), st.a.At, st.gap, fmt.Sprintf("between %s and the edge of %s", inPanel(st.a.ID), p.Name),
				"make it smaller or move it in from the edge")
			continue
		}
		d := advise.Narrow(&dr.notes, p, st.b.At, st.gap, fmt.Sprintf("between %s of %s", both(st.a.ID, st.b.ID), p.Name),
			"make them smaller or move them apart")
		if d != nil && st.a.At != st.b.At {
			d.Note(st.a.At, "the other is here")
		}
	}
}

// rowAt is the row of a panel whose holes a line gives; nil if it gives something
// else.
func rowAt(p *design.Panel, at source.Span) *design.Row {
	for i := range p.Rows {
		if p.Rows[i].HoleAt == at {
			return &p.Rows[i]
		}
	}
	return nil
}

// both names two shapes of a panel: holes 1 and 2 of wire.
func both(a, b string) string {
	x, y := strings.Split(a, "."), strings.Split(b, ".")
	if len(x) == 3 && len(y) == 3 && x[1] == y[1] {
		return fmt.Sprintf("holes %s and %s of %s", x[2], y[2], x[1])
	}
	return inPanel(a) + " and " + inPanel(b)
}
