package layout

import (
	"slices"

	"foredge/eval/design"
	"foredge/lang/source"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// A cutMark is what one text or drawing cuts: openings, as those of rows and
// cutouts are, and slits. How its own parts lie towards one another is told where
// it is drawn.
type cutMark struct {
	region *design.Region
	shape  Shape // all its openings, or all its slits, under the region's name
	edge   *geom.Boundary
}

// A faceMark is what one mark engraves, marks or scores.
type faceMark struct {
	region *design.Region
	shape  Shape
}

// markedPanel is what the marks of a panel's outer face come to.
type markedPanel struct {
	cuts  []cutMark
	faces []faceMark
}

// mostMeetings is how many pairs of what marks cut, and of those with other marks,
// are looked at on a panel, so that drawings of many thousands, woven into one
// another, take no time.
const mostMeetings = 100_000

// add takes in the shapes of a region.
func (m *markedPanel) add(p *design.Panel, r *design.Region, shapes []Shape) {
	type part struct {
		at     source.Span
		closed bool
	}
	paths := map[part]geom.Outline{}
	var order []part
	for _, s := range shapes {
		if s.Op != Cut {
			m.faces = append(m.faces, faceMark{r, s})
			continue
		}
		for _, path := range geom.Paths(s.Figure) {
			k := part{s.At, path.Closed}
			if _, known := paths[k]; !known {
				order = append(order, k)
			}
			paths[k] = append(paths[k], path)
		}
	}
	for _, k := range order {
		m.cuts = append(m.cuts, cutMark{r, Shape{ID: p.Name + "." + r.Name, Op: Cut, Hole: true, Figure: paths[k], At: k.at},
			geom.NewBoundary(paths[k])})
	}
}

// checkMarks sees that what texts and drawings cut lies apart, from other
// openings and from marks of other regions too, and that neither it nor a line
// that cuts leaves too little beside an opening. Regions on openings of rows and
// cutouts, and marks beyond the edge, are told elsewhere.
func (dr *draft) checkMarks(p *design.Panel, outline geom.Figure, openings, lines []Shape, marked *markedPanel) {
	lines = slices.DeleteFunc(slices.Clone(lines), func(s Shape) bool { return s.Op != Cut })
	if len(marked.cuts) == 0 && len(lines) == 0 {
		return
	}
	before := len(dr.notes.List)
	var left strips
	dr.cutMarksAtEdge(p, outline, marked.cuts, &left)
	dr.cutMarksApart(p, marked.cuts, &left)
	dr.facesOnCuts(p, marked)
	all := slices.Clone(openings)
	boxes := make([]geom.Box, 0, len(openings)+len(marked.cuts))
	for _, s := range openings {
		boxes = append(boxes, s.Figure.Bounds())
	}
	index, least := geom.NewIndex(boxes), advise.LeastOf(p).Any()
	edges := make([]*geom.Boundary, len(openings)) // made when first asked for
	for i := range marked.cuts {
		c := &marked.cuts[i]
		for _, j := range index.Near(c.edge.Box, least) {
			if edges[j] == nil {
				edges[j] = geom.NewBoundary(all[j].Figure)
			}
			switch gap := c.edge.Gap(edges[j]); {
			case gap > least:
			case gap > geom.Tol:
				left.add(&all[j], &c.shape, gap)
			case !c.edge.Overlaps(edges[j]):
				dr.touching(p, &all[j], &c.shape)
			}
		}
	}
	for _, c := range marked.cuts {
		all, boxes = append(all, c.shape), append(boxes, c.edge.Box)
	}
	index = geom.NewIndex(boxes)
	for i := range lines {
		// A line that runs through an opening parts it; nothing is left there to break.
		for _, j := range index.Near(lines[i].Figure.Bounds(), least) {
			if gap := geom.Gap(lines[i].Figure, all[j].Figure); gap > geom.Tol && gap <= least {
				left.add(&all[j], &lines[i], gap)
			}
		}
	}
	if !dr.notes.List[before:].HasErrors() {
		dr.adviseStrips(p, left)
	}
}

// touching warns of two openings with nothing between them.
func (dr *draft) touching(p *design.Panel, a, b *Shape) {
	dr.notes.Warn(p.Quiet, "touching", b.At, "%s and %s of %s touch", inPanel(a.ID), inPanel(b.ID), p.Name).
		WithHelp("nothing is left between them")
}

// cutMarksAtEdge collects what is left between the cuts of marks and the
// board's edge.
func (dr *draft) cutMarksAtEdge(p *design.Panel, outline geom.Figure, cuts []cutMark, left *strips) {
	least, bounds := advise.LeastOf(p).Any(), outline.Bounds()
	board := geom.NewBoundary(outline)
	for i := range cuts {
		c := &cuts[i]
		if wellInside(c.edge.Box, bounds, p, least) {
			continue
		}
		if gap := board.Clearance(c.edge); gap > geom.Tol {
			left.add(&c.shape, nil, gap)
			continue
		}
		dr.notes.Warn(p.Quiet, "touching", c.shape.At, "what is cut in %s touches the edge of %s", inPanel(c.shape.ID), p.Name).
			WithHelp("nothing holds the material together there")
	}
}

// cutMarksApart sees that what different marks cut lies apart, and collects what
// is left between. One report for each is enough.
func (dr *draft) cutMarksApart(p *design.Panel, cuts []cutMark, left *strips) {
	boxes := make([]geom.Box, len(cuts))
	for i, c := range cuts {
		boxes[i] = c.edge.Box
	}
	index, least := geom.NewIndex(boxes), max(geom.Tol, advise.LeastOf(p).Any())
	looked := 0
	for i := range cuts {
		a := &cuts[i]
		for _, j := range index.Near(a.edge.Box, least) {
			b := &cuts[j]
			if j <= i || a.region == b.region && a.shape.At == b.shape.At {
				continue
			}
			if looked++; looked > mostMeetings {
				return
			}
			gap := a.edge.Gap(b.edge)
			if gap > geom.Tol {
				if gap <= least {
					left.add(&a.shape, &b.shape, gap)
				}
				continue
			}
			if !a.edge.Overlaps(b.edge) {
				dr.touching(p, &a.shape, &b.shape)
				continue
			}
			dr.overlap(p, a, b)
			break
		}
	}
}

// overlap reports what two marks cut out of one place.
func (dr *draft) overlap(p *design.Panel, a, b *cutMark) {
	what := "what is cut in " + inPanel(a.shape.ID) + " and in " + inPanel(b.shape.ID) + " of " + p.Name + " overlaps"
	if a.region == b.region {
		what = "two things that are cut in " + inPanel(a.shape.ID) + " of " + p.Name + " overlap"
	}
	d := dr.notes.Errorf("overlap", b.shape.At, "%s", what).WithHelp("make them smaller or move them apart")
	if a.shape.At != b.shape.At { // members of a field have one line
		d.Note(a.shape.At, "the other is here")
	}
}

// facesOnCuts reports marks of one region on what another cuts. In one region
// they are drawn for one another: a field is engraved, then letters cut from it.
func (dr *draft) facesOnCuts(p *design.Panel, marked *markedPanel) {
	if len(marked.cuts) == 0 || len(marked.faces) == 0 {
		return
	}
	boxes := make([]geom.Box, len(marked.cuts))
	for i, c := range marked.cuts {
		boxes[i] = c.edge.Box
	}
	index := geom.NewIndex(boxes)
	looked := 0
	for _, m := range marked.faces {
		var edge *geom.Boundary
		for _, i := range index.Near(m.shape.Figure.Bounds(), 0) {
			c := &marked.cuts[i]
			if c.region == m.region || c.edge.Open() {
				continue
			}
			if looked++; looked > mostMeetings {
				return
			}
			if edge == nil {
				edge = geom.NewBoundary(m.shape.Figure)
			}
			// What is engraved is an area; else the beam runs along the edge alone.
			if m.shape.Op != Engrave && !edge.Enters(c.edge) || m.shape.Op == Engrave && !edge.Overlaps(c.edge) {
				continue
			}
			dr.notes.Errorf("overlap", m.shape.At, "the mark in %s lies on what is cut in %s of %s, where there is no material",
				m.region.Name, c.region.Name, p.Name).
				Note(c.shape.At, "that is cut here").WithHelp("move it or make it smaller")
			break
		}
	}
}
