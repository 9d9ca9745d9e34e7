package driver_test

import (
	"math"
	"regexp"

	"foredge/eval/design"
	"foredge/eval/opening"
	"foredge/export/exporttest"
	"foredge/layout/geom"
)

// ofDivider finds the panel's name and the place in that of a divider of a set.
var ofDivider = regexp.MustCompile(`^([^.]*)-([0-9]+)\.(.*)$`)

// arcOf is an arc about a centre, from one angle by another, as pieces of less than
// a quarter of a circle. Angles are clockwise from the right.
func arcOf(c geom.Point, r, from, by float64) []exporttest.Segment {
	at := func(a float64) geom.Point { return c.Add(geom.Pt(r*math.Cos(a), r*math.Sin(a))) }
	n := int(math.Ceil(math.Abs(by) / (math.Pi / 2)))
	var list []exporttest.Segment
	for k := range n {
		a, b := from+by*float64(k)/float64(n), from+by*float64(k+1)/float64(n)
		list = append(list, exporttest.Segment{Kind: geom.ArcTo, From: at(a), End: at(b), Center: c, R: r, Sweep: b - a})
	}
	return list
}

// turnedSlot is a slot with round ends that is turned about its middle, clockwise.
func turnedSlot(c geom.Point, o opening.Opening, degrees, grow float64) wanted {
	a, r := degrees*math.Pi/180, o.Across/2
	half := geom.Pt(math.Cos(a), math.Sin(a)).Mul(o.Along/2 - r)
	s := wanted{center: c, w: 2 * (math.Abs(half.X) + r), h: 2 * (math.Abs(half.Y) + r), grow: grow}
	r += grow
	side := geom.Pt(-math.Sin(a), math.Cos(a)).Mul(r)
	for _, d := range []geom.Point{side, side.Mul(-1)} {
		s.drawn = append(s.drawn, exporttest.Segment{From: c.Sub(half).Add(d), End: c.Add(half).Add(d)})
	}
	s.drawn = append(append(s.drawn, arcOf(c.Add(half), r, a-math.Pi/2, math.Pi)...), arcOf(c.Sub(half), r, a+math.Pi/2, math.Pi)...)
	return s
}

// archedOutline is a board with an arched head, round corners there and scooped
// ones at its tail, both alike, with its upper left corner at the given place.
func archedOutline(at geom.Point, p *design.Panel, w, h, grow float64) []exporttest.Segment {
	rise, round, scoop := p.Arch.Rise, p.Corners[0].Size, p.Corners[2].Size
	r := (w*w/4 + rise*rise) / (2 * rise)
	top := at.Add(geom.Pt(w/2, r))
	// The centre of a corner's arc is its radius away from the side and the arch.
	corner := geom.Pt(round-w/2, -math.Sqrt((r-round)*(r-round)-(w/2-round)*(w/2-round)))
	meets := math.Atan2(corner.Y, corner.X) // the direction in which they touch
	list := arcOf(top, r+grow, meets, -math.Pi-2*meets)
	foot := at.Add(geom.Pt(0, h))
	// The hollow's edge moves inwards, and meets the sides further out.
	end := math.Sqrt((scoop-grow)*(scoop-grow) - grow*grow)
	for _, side := range []float64{1, -1} {
		place := func(q geom.Point) geom.Point { return geom.Pt(top.X+side*(q.X-top.X), q.Y) }
		turn := func(list []exporttest.Segment) {
			for i := range list {
				s := &list[i]
				s.From, s.End, s.Center, s.Sweep = place(s.From), place(s.End), place(s.Center), side*s.Sweep
			}
		}
		half := append(arcOf(top.Add(corner), round+grow, meets, -math.Pi-meets),
			exporttest.Segment{From: geom.Pt(at.X-grow, top.Y+corner.Y), End: geom.Pt(at.X-grow, foot.Y-end)},
			exporttest.Segment{From: geom.Pt(foot.X+end, foot.Y+grow), End: geom.Pt(top.X, foot.Y+grow)})
		off := math.Asin(grow / (scoop - grow))
		half = append(half, arcOf(foot, scoop-grow, -math.Pi/2-off, math.Pi/2+2*off)...)
		turn(half)
		list = append(list, half...)
	}
	return list
}

// tabbedOutline is a divider with its tab in a place of so many along its head, the
// corners of its board round, with its upper left corner at the given place.
func tabbedOutline(at geom.Point, p *design.Panel, w, h, grow float64, place, of int) []exporttest.Segment {
	corner, tab, out := p.Corners[0].Size, p.Tab.Radius, p.Tab.Extension
	from, to := w*float64(place-1)/float64(of), w*float64(place)/float64(of)
	type vertex struct{ x, y, r float64 }
	var all []vertex
	if place > 1 {
		all = append(all, vertex{0, out, corner}, vertex{from, out, 0}, vertex{from, 0, tab})
	} else {
		all = append(all, vertex{0, 0, corner})
	}
	if place < of {
		all = append(all, vertex{to, 0, tab}, vertex{to, out, 0}, vertex{w, out, corner})
	} else {
		all = append(all, vertex{w, 0, corner})
	}
	all = append(all, vertex{w, h, corner}, vertex{0, h, corner})
	var list []exporttest.Segment
	n := len(all)
	along := func(i int) geom.Point { // of the side that leaves a corner
		a, b := all[i%n], all[(i+1)%n]
		d := geom.Pt(b.x-a.x, b.y-a.y)
		return d.Mul(1 / d.Norm())
	}
	out90 := func(d geom.Point) geom.Point { return geom.Pt(d.Y, -d.X) }
	moved := func(i int) geom.Point { // the corner in the file
		v := all[i%n]
		return at.Add(geom.Pt(v.x, v.y)).Add(out90(along(i + n - 1)).Add(out90(along(i))).Mul(grow))
	}
	size := func(i int) float64 {
		if all[i%n].r == 0 {
			return 0
		}
		return all[i%n].r + grow
	}
	for i := range n {
		d := along(i)
		start, end := moved(i).Add(d.Mul(size(i))), moved(i+1).Sub(d.Mul(size(i+1)))
		list = append(list, exporttest.Segment{From: start, End: end})
		if r := size(i + 1); r > 0 {
			list = append(list, arcOf(end.Sub(out90(d).Mul(r)), r, math.Atan2(-d.X, d.Y), math.Pi/2)...)
		}
	}
	return list
}
