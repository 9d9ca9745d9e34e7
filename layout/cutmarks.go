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
	open   bool  // it is slits
	box    geom.Box
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
	edges edges // of the cuts
}

// edges are boundaries of figures that were made when they were asked for, the last
// used of them: those of all letters of a large panel would fill the memory.
type edges struct {
	young, old map[int]*geom.Boundary
	size       int // pieces of the young ones
}

// mostEdges is how many pieces the young edges have before they become the old ones:
// some 15 MB.
const mostEdges = 50_000

// of is the boundary of the figure that has a number.
func (e *edges) of(i int, f geom.Figure) *geom.Boundary {
	b, ok := e.young[i]
	if ok {
		return b
	}
	if b, ok = e.old[i]; !ok {
		b = geom.NewBoundary(f)
	}
	if e.size > mostEdges || e.young == nil {
		e.young, e.old, e.size = map[int]*geom.Boundary{}, e.young, 0
	}
	e.young[i] = b
	e.size += 1 + len(b.Pieces)
	return b
}

// edge is the boundary of what the i-th mark cuts.
func (m *markedPanel) edge(i int) *geom.Boundary { return m.edges.of(i, m.cuts[i].shape.Figure) }

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
			!k.closed, paths[k].Bounds()})
	}
}

// checkMarks sees that what texts and drawings cut lies apart, from other
// openings and from marks of other regions too, and that neither it nor a line
// that cuts leaves too little beside an opening. Regions on openings of rows and
// cutouts, and marks beyond the edge, are told elsewhere.
func (dr *draft) checkMarks(p *design.Panel, outline geom.Figure, openings, lines []Shape, marked *markedPanel) {
	if len(marked.cuts) == 0 && !slices.ContainsFunc(lines, func(s Shape) bool { return s.Op == Cut }) {
		return
	}
	before := len(dr.notes.List)
	var left strips
	dr.cutMarksAtEdge(p, outline, marked, &left)
	dr.cutMarksApart(p, marked, &left)
	dr.facesOnCuts(p, marked)
	all := slices.Clone(openings)
	boxes := make([]geom.Box, 0, len(openings)+len(marked.cuts))
	for _, s := range openings {
		boxes = append(boxes, s.Figure.Bounds())
	}
	index, least := geom.NewIndex(boxes), advise.LeastOf(p).Any()
	var edges edges // of the openings
	for i := range marked.cuts {
		c := &marked.cuts[i]
		for _, j := range index.Near(c.box, least) {
			opening, cut := edges.of(j, all[j].Figure), marked.edge(i)
			switch gap := cut.Gap(opening); {
			case gap > least:
			case gap > geom.Tol:
				left.add(&all[j], &c.shape, gap)
			case !cut.Overlaps(opening):
				dr.touching(p, &all[j], &c.shape)
			}
		}
	}
	for _, c := range marked.cuts {
		all, boxes = append(all, c.shape), append(boxes, c.box)
	}
	index = geom.NewIndex(boxes)
	for i := range lines {
		l := &lines[i]
		through := false
		// A line that runs through an opening parts it; nothing is left there to break.
		for _, j := range index.Near(l.Figure.Bounds(), least) {
			if k := j - len(openings); k >= 0 && !through && !marked.cuts[k].open && geom.NewBoundary(l.Figure).Enters(marked.edge(k)) {
				through = true
				dr.throughMark(p, l, &marked.cuts[k])
			}
			if l.Op != Cut {
				continue
			}
			if gap := geom.Gap(l.Figure, all[j].Figure); gap > geom.Tol && gap <= least {
				left.add(&all[j], l, gap)
			}
		}
	}
	if !dr.notes.List[before:].HasErrors() {
		dr.adviseStrips(p, left)
	}
}

// throughMark warns of a line through what a mark cuts.
func (dr *draft) throughMark(p *design.Panel, line *Shape, cut *cutMark) {
	dr.notes.Warn(p.Quiet, "line-through", line.At, "%s runs through what is cut in %s of %s", inPanel(line.ID), inPanel(cut.shape.ID), p.Name).
		Note(cut.shape.At, "that is cut here").WithHelp("move one of them%s", advise.Silence("line-through", "panel"))
}

// touching warns of two openings with nothing between them.
func (dr *draft) touching(p *design.Panel, a, b *Shape) {
	dr.notes.Warn(p.Quiet, "touching", b.At, "%s and %s of %s touch", inPanel(a.ID), inPanel(b.ID), p.Name).
		WithHelp("nothing is left between them")
}

// cutMarksAtEdge collects what is left between the cuts of marks and the
// board's edge.
func (dr *draft) cutMarksAtEdge(p *design.Panel, outline geom.Figure, marked *markedPanel, left *strips) {
	least, bounds := advise.LeastOf(p).Any(), outline.Bounds()
	board := geom.NewBoundary(outline)
	for i := range marked.cuts {
		c := &marked.cuts[i]
		if wellInside(c.box, bounds, p, least) {
			continue
		}
		if gap := board.Clearance(marked.edge(i)); gap > geom.Tol {
			left.add(&c.shape, nil, gap)
			continue
		}
		dr.notes.Warn(p.Quiet, "touching", c.shape.At, "what is cut in %s touches the edge of %s", inPanel(c.shape.ID), p.Name).
			WithHelp("nothing holds the material together there")
	}
}

// cutMarksApart sees that what different marks cut lies apart, and collects what
// is left between. One report for each line is enough, and mostTold for a panel.
func (dr *draft) cutMarksApart(p *design.Panel, marked *markedPanel, left *strips) {
	cuts := marked.cuts
	boxes := make([]geom.Box, len(cuts))
	for i, c := range cuts {
		boxes[i] = c.box
	}
	index, least := geom.NewIndex(boxes), max(geom.Tol, advise.LeastOf(p).Any())
	looked, told := 0, map[source.Span]bool{}
	for i := range cuts {
		a := &cuts[i]
		for _, j := range index.Near(a.box, least) {
			b := &cuts[j]
			if j <= i || a.region == b.region && a.shape.At == b.shape.At {
				continue
			}
			if looked++; looked > mostMeetings || len(told) >= mostTold {
				return
			}
			if told[b.shape.At] {
				continue
			}
			gap := marked.edge(i).Gap(marked.edge(j))
			if gap > geom.Tol {
				if gap <= least {
					left.add(&a.shape, &b.shape, gap)
				}
				continue
			}
			if !marked.edge(i).Overlaps(marked.edge(j)) {
				dr.touching(p, &a.shape, &b.shape)
				continue
			}
			told[b.shape.At] = true
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
		boxes[i] = c.box
	}
	index := geom.NewIndex(boxes)
	looked := 0
	for _, m := range marked.faces {
		var edge *geom.Boundary
		for _, i := range index.Near(m.shape.Figure.Bounds(), 0) {
			c := &marked.cuts[i]
			if c.region == m.region || c.open {
				continue
			}
			if looked++; looked > mostMeetings {
				return
			}
			if edge == nil {
				edge = geom.NewBoundary(m.shape.Figure)
			}
			// What is engraved is an area; else the beam runs along the edge alone.
			if m.shape.Op != Engrave && !edge.Enters(marked.edge(i)) || m.shape.Op == Engrave && !edge.Overlaps(marked.edge(i)) {
				continue
			}
			dr.notes.Errorf("overlap", m.shape.At, "the mark in %s lies on what is cut in %s of %s, where there is no material",
				m.region.Name, c.region.Name, p.Name).
				Note(c.shape.At, "that is cut here").WithHelp("move it or make it smaller")
			break
		}
	}
}
