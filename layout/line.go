package layout

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// linesAcross draws the straight scores, creases and cuts across a panel.
func (dr *draft) linesAcross(p *design.Panel, f Frame, outline geom.Figure) (shapes []Shape) {
	if len(p.Lines) == 0 {
		return nil
	}
	board := geom.NewBoundary(outline)
	for i := range p.Lines {
		shapes = append(shapes, dr.line(p, &p.Lines[i], f, board)...)
	}
	return shapes
}

// line draws one of them: it ends where the board does, at a corner, an arc or a tab.
func (dr *draft) line(p *design.Panel, l *design.Line, f Frame, board *geom.Boundary) []Shape {
	long, limit := f.Height, f.Width
	if l.From.Level() {
		long, limit = f.Width, f.Height
	}
	if l.Distance > limit+geom.Tol {
		dr.notes.Errorf("outside", l.At, "%s lies %s from the %s of %s, which measures only %s that way", l.Name,
			dr.length(l.Distance), l.From, p.Name, dr.length(limit)).WithHelp("bring it nearer to the %s", l.From)
		return nil
	}
	from, to := 0.0, long
	if p.Tab != nil {
		from, to = lineBesideTab(p, l, long)
	}
	across, ok := onBoard(geom.Line(f.Along(l.From, from, l.Distance), f.Along(l.From, to, l.Distance)), board)
	if !ok {
		dr.notes.Errorf("outside", l.At, "%s lies %s from the %s of %s, where nothing is left of the board at the%s", l.Name,
			dr.length(l.Distance), l.From, p.Name, cornerOf(p)).WithHelp("move it away from the edge, or %s", cornerHelp(p))
		return nil
	}
	return []Shape{{ID: p.Name + "." + l.Name, Op: opOf(l.Op), Figure: geom.NewPath(across.From).Line(across.End).Open(), At: l.At}}
}

// onBoard is what of a line lies on a board, its edge among that; false where that is
// nothing. Corners and arcs take away from its ends alone.
func onBoard(line geom.Piece, board *geom.Boundary) (geom.Piece, bool) {
	cuts := []float64{0, 1}
	var met []geom.Point
	for _, edge := range board.Pieces {
		met = geom.Intersections(met[:0], line, edge)
		for _, x := range met {
			cuts = append(cuts, min(max(line.Parameter(x), 0), 1))
		}
	}
	slices.Sort(cuts)
	from, to := 1.0, 0.0
	for i, t := range cuts[1:] {
		if (t-cuts[i])*line.Length() < smallest {
			continue
		}
		if mid := line.At((cuts[i] + t) / 2); board.Within(mid, geom.Tol) || board.Contains(mid) {
			from, to = min(from, cuts[i]), t
		}
	}
	if from >= to {
		return geom.Piece{}, false
	}
	return line.Part(from, to), true
}

// toEdge is how far each of some lines runs from the nearest straight stretch of a board's edge
// that it runs beside, in mm: a side of the board, or of a tab or a notch. What is left between
// a cut and a notch is told as of other openings.
func toEdge(lines []Shape, outline, edge geom.Figure) []float64 {
	if len(lines) == 0 {
		return nil
	}
	gaps := make([]float64, len(lines))
	whole, notched := stretches(outline, 0), stretches(edge, 0)
	for i, l := range lines {
		gaps[i] = math.Inf(1)
		sides := notched
		if l.Op == Cut {
			sides = whole
		}
		for _, a := range stretches(l.Figure, 0) {
			for _, b := range sides {
				if a.level == b.level && min(a.to, b.to)-max(a.from, b.from) > advise.BurnsAway {
					gaps[i] = min(gaps[i], math.Abs(a.at-b.at))
				}
			}
		}
	}
	return gaps
}
