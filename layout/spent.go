package layout

import (
	"unicode/utf8"

	"foredge/eval/design"
	"foredge/lang/source"
	"foredge/layout/geom"
)

// How much a design may have: shapes, letters, and lines and curves of its texts and
// drawings. With as many a build takes some 250 MiB.
const (
	MaxShapes  = 100_000
	MaxLetters = 100_000
	MaxLines   = 500_000
)

// cutCurve is how many arcs about stand for a curve that is cut.
const cutCurve = 4

// spent is what has been drawn so far, to be guarded.
type spent struct{ shapes, letters, lines int }

// count guards the number of shapes.
func (dr *draft) count(n int, at source.Span) bool {
	return dr.spend(&dr.spent.shapes, n, MaxShapes, "shapes", at)
}

// countLetters guards the number of letters, before they are set, of a mark that is drawn
// a number of times.
func (dr *draft) countLetters(m design.Mark, times int) bool {
	text, ok := m.(*design.Lettering)
	return !ok || dr.spend(&dr.spent.letters, times*utf8.RuneCountInString(text.Text), MaxLetters, "characters", text.TextAt)
}

// countLines guards the number of lines and curves of shapes that are drawn a number
// of times.
func (dr *draft) countLines(shapes []Shape, times int, at source.Span) bool {
	n := 0
	for _, s := range shapes {
		n += linesIn(s.Figure, s.Op)
	}
	return dr.spend(&dr.spent.lines, n*times, MaxLines, "lines and curves in its texts and drawings", at)
}

// linesIn is how many lines and curves a figure comes to that has an operation.
func linesIn(f geom.Figure, op Op) int {
	n := 0
	switch f := f.(type) {
	case geom.Path:
		n = linesOf(f, op)
	case geom.Outline:
		for _, p := range f {
			n += linesOf(p, op)
		}
	}
	return n
}

// linesOf is how many lines and curves a path comes to.
func linesOf(p geom.Path, op Op) int {
	n := len(p.Segments)
	for i := range p.Segments {
		if op == Cut && p.Segments[i].Kind == geom.CubicTo {
			n += cutCurve - 1
		}
	}
	return n
}

// spend adds to what has been drawn of something; false once that is too much, which
// is told where it comes to be.
func (dr *draft) spend(of *int, n, most int, what string, at source.Span) bool {
	if *of <= most && *of+n > most {
		dr.notes.Errorf("too-many-shapes", at, "this design has more than %d %s", most, what).
			WithHelp("split it into several files")
		dr.drawing.mostLines = 0 // it would be told again
	}
	*of += n
	return *of <= most
}
