package art

import (
	"math"
	"slices"

	"foredge/layout/geom"
)

// Joined makes one line of open ones whose ends lie within tol mm of one
// another, and closes what comes back to its start: drawing programs write a
// square as four lines, or without saying that it is closed. Where more than two
// ends meet it can't be told which belong together, so they stay as they are.
// Lines come in the order of their first.
func Joined(lines []Contour, tol float64) []Contour {
	// The ends of lines[i] are 2i and 2i+1, and mate is the end that one meets.
	ends := make([]geom.Box, 2*len(lines))
	for i, l := range lines {
		for k, x := range [2]geom.Point{l.Start, l.End()} {
			ends[2*i+k] = geom.Box{Min: x, Max: x}
		}
	}
	short := make([]bool, len(lines)) // closed ones have no ends, and too short ones no two
	for i, l := range lines {
		short[i] = l.Closed || geom.Length(l.Path) <= 4*tol
	}
	index := geom.NewIndex(ends)
	near := func(e int) []int {
		return slices.DeleteFunc(index.Near(ends[e], tol), func(o int) bool { return o == e || short[o/2] })
	}
	mate := make([]int, len(ends))
	for e := range ends {
		mate[e] = -1
		if short[e/2] {
			continue
		}
		if at := near(e); len(at) == 1 && len(near(at[0])) == 1 {
			mate[e] = at[0]
		}
	}
	var joined []Contour
	used := make([]bool, len(lines))
	for i := range lines {
		if used[i] {
			continue
		}
		// Back to where the line begins, or once round.
		from := 2 * i
		for mate[from] >= 0 && mate[from]/2 != i {
			from = mate[from] ^ 1
		}
		if mate[from] == 2*i+1 && from != 2*i {
			from = 2 * i // a ring begins where its first line does
		}
		c := Contour{Where: lines[i].Where, Width: lines[i].Width}
		for e := from; ; {
			used[e/2] = true
			path := lines[e/2].Path
			if e%2 == 1 {
				path = path.Reverse()
			}
			if len(c.Segments) == 0 {
				c.Path = geom.Path{Start: path.Start, Segments: slices.Clone(path.Segments), Closed: path.Closed}
			} else {
				c.Path = to(c.Path, path.Start)
				c.Segments = append(c.Segments, path.Segments...)
			}
			next := mate[e^1]
			if next == from {
				c.Path = to(c.Path, c.Start)
				// A line that leads there and back has nothing in it.
				c.Closed = math.Abs(c.Area()) > tol*geom.Length(c.Path)
			}
			if next < 0 || used[next/2] {
				break
			}
			e = next
		}
		joined = append(joined, c)
	}
	return joined
}

// backAtStart closes lines of the operations of whole that come back to their start without saying so, before
// anything that another line draws too is taken from them.
func backAtStart(lines []Contour, whole map[int]bool) []Contour {
	for i, l := range lines {
		if whole[l.Op] && !l.Closed && l.Start.Distance(l.End()) <= sameLine && geom.Length(l.Path) > 4*sameLine {
			path := geom.Path{Start: l.Start, Segments: slices.Clone(l.Segments)}
			path = to(path, l.Start)
			if path.Closed = true; math.Abs(path.Area()) > sameLine*geom.Length(path) {
				lines[i].Path = path
			}
		}
	}
	return lines
}

// to leads an open path's end to a place beside it: an arc by a little line, so
// that it stays one.
func to(p geom.Path, x geom.Point) geom.Path {
	n := len(p.Segments)
	switch last := &p.Segments[n-1]; {
	case last.End == x:
	case last.Kind == geom.ArcTo && last.End.Distance(x) > 1e-7:
		p.Segments = append(p.Segments, geom.Segment{Kind: geom.LineTo, End: x})
	default:
		last.End = x
	}
	return p
}
