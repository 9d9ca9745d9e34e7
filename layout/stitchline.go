package layout

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// A sided is what has four sides, with the line at an inset from them that stitches
// follow: inside where it is above 0, outside below.
type sided struct {
	box     geom.Rect
	corners [4]design.Corner // in the order of [word.Corners]
	arch    *design.Arch
	inset   float64
}

// sides are the pieces of the line: head, foredge, tail and spine, each with the corner
// after it, whose length is 0 where it is sharp. It gives nil for what it reports.
func (dr *draft) sides(s *design.Stitch, b *sided, name string) []geom.Piece {
	for i, k := range aroundBox() {
		at := follows(s, 2*i) || follows(s, (2*i+2)%8) // a stitched side ends there
		if turns := b.corners[k].Size <= 0 && smoothAfter(s, 2*i+1); turns {
			dr.notes.Errorf("stitch", s.At, "a corner of %s comes out with a radius of 0, so %s can't turn round it", name, s.Name).
				Note(b.corners[k].At, "the corner is stated here").
				WithHelp("state square corners, at which the line turns sharply, or check the lines that give the radius")
			return nil
		}
		if c := b.corners[k]; at && c.Form == word.Radius && c.Size > 0 && c.Size <= b.inset+geom.Tol {
			dr.notes.Errorf("stitch", s.At, "a corner of %s has a radius of %s, not more than the inset of %s, %s, so nothing is left for the line to turn round", name,
				dr.length(c.Size), s.Name, dr.length(b.inset)).
				Note(c.At, "the corner is stated here").
				WithHelp("state an inset below %s, a larger radius, or square corners, at which the line turns sharply", dr.length(c.Size))
			return nil
		}
	}
	if b.arch != nil && b.arch.Rise > smallest {
		return dr.onward(s, b.arched(), name)
	}
	return dr.onward(s, b.straight(), name)
}

// aroundBox are the corners after head, foredge, tail and spine, as [word.Corners]
// counts them.
func aroundBox() [4]int { return [4]int{1, 3, 2, 0} }

// follows reports whether stitches run along a piece of the line: a side, or the corner
// after it where both its sides are stitched.
func follows(s *design.Stitch, piece int) bool {
	return slices.ContainsFunc(s.Runs, func(r design.StitchRun) bool { return slices.Contains(r.Pieces, piece) })
}

// smoothAfter reports whether stitches run on from a corner into the side after it
// without a hole where the two meet.
func smoothAfter(s *design.Stitch, corner int) bool {
	return slices.ContainsFunc(s.Runs, func(r design.StitchRun) bool {
		i := slices.Index(r.Pieces, corner)
		return i >= 0 && (i+1 < len(r.Pieces) || r.Closed)
	})
}

// onward sees that no side of a line runs backwards, which one does where the inset
// leaves no room for it.
func (dr *draft) onward(s *design.Stitch, line []geom.Piece, name string) []geom.Piece {
	ways := [4]geom.Point{geom.Pt(1, 0), geom.Pt(0, 1), geom.Pt(-1, 0), geom.Pt(0, -1)}
	for i, p := range line {
		if !follows(s, i) {
			continue
		}
		way := ways[i/2]
		if i%2 == 1 {
			way = way.Add(ways[(i/2+1)%4])
		}
		if p.End.Sub(p.From).Dot(way) < -geom.Tol {
			dr.notes.Errorf("stitch", s.At, "%s leaves no room for a line of stitches %s from its outline", name, dr.length(s.Inset)).
				WithHelp("state a smaller inset, make what it follows larger, or its corners smaller")
			return nil
		}
	}
	return line
}

// taken is how far from the corner of the box the line along its sides ends.
func (b *sided) taken(c design.Corner) float64 {
	d := b.inset
	switch {
	case c.Size <= 0:
	case c.Form == word.Radius:
		return c.Size
	case c.Form == word.Chamfer:
		return c.Size + (math.Sqrt2-1)*d
	case c.Form == word.Scoop:
		return math.Sqrt(max(0, (c.Size+d)*(c.Size+d)-d*d))
	}
	return d
}

// straight is the line inside four straight sides.
func (b *sided) straight() []geom.Piece {
	box := b.box.Bounds()
	// The corners after head, foredge, tail and spine, with the ways along the sides
	// before and after each.
	at := [4]geom.Point{geom.Pt(box.Max.X, box.Min.Y), box.Max, geom.Pt(box.Min.X, box.Max.Y), box.Min}
	ways := [4]geom.Point{geom.Pt(1, 0), geom.Pt(0, 1), geom.Pt(-1, 0), geom.Pt(0, -1)}
	line := make([]geom.Piece, 8)
	for i, k := range aroundBox() {
		c, before, after := b.corners[k], ways[i], ways[(i+1)%4]
		taken := b.taken(c)
		end := at[i].Sub(before.Mul(taken)).Add(after.Mul(b.inset))
		begin := at[i].Add(after.Mul(taken)).Sub(before.Mul(b.inset))
		line[2*i].End, line[(2*i+2)%8].From = end, begin
		line[2*i+1] = geom.Line(end, begin)
		switch {
		case c.Size <= 0:
		case c.Form == word.Radius && c.Size-b.inset > geom.Tol:
			line[2*i+1] = arcTo(end, begin, at[i].Sub(before.Mul(c.Size)).Add(after.Mul(c.Size)), true)
		case c.Form == word.Scoop:
			line[2*i+1] = arcTo(end, begin, at[i], false)
		}
	}
	return line
}

// arched is the line inside a board whose head is an arc. A square corner there is as
// a round one whose radius is the inset.
func (b *sided) arched() []geom.Piece {
	line := b.straight()
	radius := geom.ArchRadius(b.box.W, b.arch.Rise)
	middle := b.box.Min.Add(geom.Pt(b.box.W/2, radius))
	var meet, foot, center [2]geom.Point // spine, foredge
	for i, c := range [2]design.Corner{b.corners[0], b.corners[1]} {
		r, side := b.taken(c), float64(2*i-1)
		off := b.box.W/2 - r
		center[i] = middle.Add(geom.Pt(side*off, -math.Sqrt(max(0, (radius-r)*(radius-r)-off*off))))
		way := center[i].Sub(middle)
		if long := way.Norm(); long > geom.Tol {
			meet[i] = middle.Add(way.Mul((radius - b.inset) / long))
		} else { // half a circle, with corners as round
			meet[i] = middle.Add(geom.Pt(side*(radius-b.inset), 0))
		}
		foot[i] = center[i].Add(geom.Pt(side*(r-b.inset), 0))
	}
	line[0] = arcTo(meet[0], meet[1], middle, true)
	line[1], line[7] = corner(meet[1], foot[1], center[1]), corner(foot[0], meet[0], center[0])
	line[2].From, line[6].End = foot[1], foot[0]
	return line
}

// corner is an arc, or no way at all.
func corner(from, to, center geom.Point) geom.Piece {
	if to.Sub(from).Norm() <= geom.Tol {
		return geom.Line(from, to)
	}
	return arcTo(from, to, center, true)
}
