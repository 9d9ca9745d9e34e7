package layout

import (
	"fmt"
	"math"

	"foredge/eval/design"
	numbers "foredge/eval/opening"
	"foredge/eval/word"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// stitch draws the holes of a line of stitches, numbered from its beginning on. What
// the line can't follow is reported.
func (dr *draft) stitch(p *design.Panel, s *design.Stitch, f Frame, outline geom.Figure) []Shape {
	o := s.Opening
	if !(min(o.Along, o.Across) > smallest) {
		dr.notes.Errorf("nothing-left", s.HoleAt, "the holes of %s come out at %s by %s: there is nothing to cut", s.Name, dr.length(o.Along), dr.length(o.Across)).
			WithHelp("check the lines that give their size")
		return nil
	}
	line, followed := dr.stitchLine(p, s, f, outline)
	if line == nil {
		return nil
	}
	edge := geom.NewBoundary(followed)
	fitted := dr.fitted(o, "a hole", s.HoleAt)
	var shapes []Shape
	for i := range s.Runs {
		run := runOf(&s.Runs[i], line)
		if !dr.checkRun(p, s, run, s.Runs[i].Stitches) {
			return nil
		}
		for _, at := range run.holes(&s.Runs[i]) {
			if edge.Distance(at.at) < s.Inset-followTol {
				dr.notes.Errorf("stitch", s.At, "%s from the outline, the line of %s runs into itself or into another edge", dr.length(s.Inset), s.Name).
					WithHelp("state a smaller inset, or stitch fewer edges")
				return nil
			}
			placed := opening.Placed{Opening: fitted, At: at.at}
			angle := math.Atan2(at.way.Y, at.way.X)
			if f.Mirrored {
				at.at, angle = f.Origin.Add(geom.Pt(f.Width-(at.at.X-f.Origin.X), at.at.Y-f.Origin.Y)), -angle
				placed.At = at.at
			}
			fig := placed.Figure()
			if _, round := fig.(geom.Circle); !round {
				fig = geom.Turn(at.at, angle).Apply(fig)
			}
			shapes = append(shapes, Shape{ID: fmt.Sprintf("%s.%s.%d", p.Name, s.Name, len(shapes)+1), Op: Cut, Hole: true, Figure: fig, At: s.HoleAt})
		}
	}
	return shapes
}

// followTol is how much nearer to the outline than its inset a hole may come by
// rounding, in mm.
const followTol = 1e-6

// A stitchRun is a smooth part of a stitch line, in a panel whose spine is at the left.
type stitchRun struct {
	pieces []geom.Piece
	long   float64
}

func runOf(r *design.StitchRun, line []geom.Piece) stitchRun {
	var run stitchRun
	for _, i := range r.Pieces {
		run.pieces = append(run.pieces, line[i])
		run.long += line[i].Length()
	}
	return run
}

// A stitchHole is where a hole lies and which way the line runs there.
type stitchHole struct{ at, way geom.Point }

// holes spaces the holes of a run evenly. One that closes has its first in the middle
// of its first piece, so that they lie alike on both sides of what is symmetric.
func (run stitchRun) holes(r *design.StitchRun) (all []stitchHole) {
	n, start := r.Stitches, 0.0
	if r.Closed {
		start = run.pieces[0].Length() / 2
	}
	last := n
	if r.Ends {
		last++
	}
	for i := range last {
		s := start + run.long*float64(i)/float64(n)
		if r.Closed {
			s = math.Mod(s, run.long)
		}
		all = append(all, run.at(s))
	}
	return all
}

// at is the place at a distance along the run.
func (run stitchRun) at(s float64) stitchHole {
	last := len(run.pieces) - 1
	for last > 0 && run.pieces[last].Length() <= geom.Tol {
		last--
	}
	for i, p := range run.pieces {
		long := p.Length()
		if long > geom.Tol && (s <= long || i == last) {
			t := min(1, max(0, s/long))
			return stitchHole{p.At(t), p.Tangent(t)}
		}
		s -= long
	}
	return stitchHole{run.pieces[0].From, geom.Pt(1, 0)}
}

// checkRun sees that a run is there and its holes lie apart.
func (dr *draft) checkRun(p *design.Panel, s *design.Stitch, run stitchRun, stitches int) bool {
	if run.long > smallest {
		pitch := run.long / float64(max(1, stitches))
		if pitch > s.Opening.Along+geom.Tol {
			return true
		}
		dr.notes.Errorf("stitch", s.HoleAt, "the holes of %s are %s long along the line, and come to lie %s apart from middle to middle", s.Name,
			dr.length(s.Opening.Along), dr.length(pitch)).
			WithHelp("state a longer stitch-length or smaller holes; nothing would be left between them")
		return false
	}
	dr.notes.Errorf("stitch", s.At, "an edge along which %s runs has no length left %s from the outline", s.Name, dr.length(s.Inset)).
		WithHelp("leave that edge out, state a smaller inset, or make the corners of %s smaller", p.Name)
	return false
}

// stitchLine is the line of a stitch as its pieces, for a panel whose spine is at the
// left, and the outline that it follows; nil where that isn't possible, which is told.
func (dr *draft) stitchLine(p *design.Panel, s *design.Stitch, f Frame, outline geom.Figure) ([]geom.Piece, geom.Figure) {
	plain := Frame{Origin: f.Origin, Width: f.Width, Height: f.Height}
	unmirrored := outline
	if f.Mirrored {
		unmirrored = geom.MirrorX(f.Origin.X + f.Width/2).Apply(outline)
	}
	board := sided{box: geom.Rect{Min: f.Origin, W: f.Width, H: f.Height}, inset: s.Inset}
	around := s.Around
	if around == nil {
		board.corners, board.arch = p.Corners, p.Arch
		return dr.sides(s, &board, p.Name), unmirrored
	}
	board.box = plain.box(around.Box)
	if around.Region {
		return dr.sides(s, &board, around.Name), board.box
	}
	board.inset = -s.Inset
	o := dr.fitted(around.Opening, "a cutout", around.At)
	figure := plain.turned(opening.Placed{Opening: o, At: board.box.Bounds().Center()}.Figure(), &around.Cutout)
	var line []geom.Piece
	switch o.Form {
	case numbers.Round:
		line = ringOf(board.box.Bounds().Center(), o.Along/2+s.Inset)
	case numbers.Hex:
		line = sixSides(board.box.Bounds().Center(), o.Across/2+s.Inset)
	default:
		if o.Form == numbers.Slot {
			o.Radius = min(o.Along, o.Across) / 2
		}
		for i := range board.corners {
			board.corners[i] = design.Corner{Form: word.Radius, Size: o.Radius, At: around.At}
		}
		line = dr.sides(s, &board, around.Name)
	}
	if around.Rotate != 0 {
		turn := geom.Turn(board.box.Bounds().Center(), around.Rotate*math.Pi/180)
		for i := range line {
			line[i] = turned(turn, line[i])
		}
	}
	return line, figure
}

// turned is a piece turned.
func turned(turn geom.Similarity, p geom.Piece) geom.Piece {
	p.From, p.End, p.Center = turn.Point(p.From), turn.Point(p.End), turn.Point(p.Center)
	return p
}

// arcTo is the piece of a circle about a centre, clockwise as seen where it is convex.
func arcTo(from, to, center geom.Point, clockwise bool) geom.Piece {
	return geom.Piece{From: from, Segment: geom.Segment{Kind: geom.ArcTo, End: to, Center: center, Clockwise: clockwise}}
}

// ringOf is a circle as its upper and its lower half.
func ringOf(c geom.Point, r float64) []geom.Piece {
	left, right := c.Sub(geom.Pt(r, 0)), c.Add(geom.Pt(r, 0))
	return []geom.Piece{arcTo(left, right, c, true), arcTo(right, left, c, true)}
}

// sixSides is a hexagon with a flat at its head, clockwise from there.
func sixSides(c geom.Point, flat float64) []geom.Piece {
	var at [6]geom.Point
	for i := range at {
		sin, cos := math.Sincos(math.Pi * float64(i-2) / 3)
		at[i] = c.Add(geom.Pt(cos, sin).Mul(2 * flat / math.Sqrt(3)))
	}
	var sides []geom.Piece
	for i := range at {
		sides = append(sides, geom.Line(at[i], at[(i+1)%6]))
	}
	return sides
}
