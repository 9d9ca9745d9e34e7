package layout

import (
	"cmp"
	"fmt"
	"strings"

	"foredge/eval/design"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// leastFloor is what a recess should leave of a board below it, in mm: what is thinner
// shows through, or breaks out (common practice, no source).
const leastFloor = 1

// recesses draws the recesses of a panel, engraved areas without kerf, on both of its
// faces as they lie when the outer one is up. It reports those that can't be.
func (dr *draft) recesses(p *design.Panel, f Frame) (shapes []Shape) {
	for i := range p.Recesses {
		r := &p.Recesses[i]
		if !(min(r.Width, r.Height) > smallest) {
			dr.notes.Errorf("nothing-left", r.At, "%s comes out at %s by %s: there is nothing to engrave", r.Name, dr.length(r.Width), dr.length(r.Height)).
				WithHelp("check the lines that give its size")
			continue
		}
		if !dr.checkDepth(p, r) {
			continue
		}
		hole := opening.Placed{Opening: dr.fitted(r.Opening, "a recess", r.At), At: f.box(r.Box).Bounds().Center()}
		shapes = append(shapes, Shape{ID: p.Name + "." + r.Name, Op: Engrave, Figure: f.turned(hole.Figure(), &r.Cutout), At: r.At, recess: r})
	}
	return shapes
}

// noteDepths says once of a design that can be cut what is to be engraved to a depth.
func (dr *draft) noteDepths() {
	if dr.notes.HasErrors() {
		return // perhaps of a depth
	}
	var names []string
	var first *design.Recess
	for i := range dr.design.Panels {
		p := &dr.design.Panels[i]
		for k := range p.Recesses {
			r := &p.Recesses[k]
			first = cmp.Or(first, r)
			names = append(names, fmt.Sprintf("%s.%s %s", p.Name, r.Name, dr.length(r.Depth)))
		}
	}
	if first == nil {
		return
	}
	if more := len(names) - mostDepths; more > 0 {
		names = append(names[:mostDepths], fmt.Sprintf("%d more", more))
	}
	dr.notes.Infof("to-depth", first.DepthAt, "to be engraved to a depth: %s", strings.Join(names, ", ")).
		WithHelp("with what power and how often is yours to find: try it on scrap of the same sheet")
}

// mostDepths is how many recesses are named in a note.
const mostDepths = 8

// checkDepth sees that a recess has a depth and leaves a floor.
func (dr *draft) checkDepth(p *design.Panel, r *design.Recess) bool {
	thick, known := p.Thick.Get()
	switch {
	case !(r.Depth > smallest):
		dr.notes.Errorf("recess", r.DepthAt, "%s comes out %s deep: there is nothing to engrave", r.Name, dr.length(r.Depth)).
			WithHelp("state how deep it is to be, or take the line out and it is cut through")
		return false
	case !known:
		dr.notes.Warn(p.Quiet, "thin-floor", r.DepthAt, "nothing says how thick %s is, so it can't be told what %s leaves below it", p.Name, r.Name).
			WithHelp("state thick of %s, or the stock that it is cut from%s", p.Name, advise.Silence("thin-floor", "panel"))
	case r.Depth >= thick-geom.Tol:
		dr.notes.Errorf("recess", r.DepthAt, "%s is %s deep, and %s is only %s thick", r.Name, dr.length(r.Depth), p.Name, dr.length(thick)).
			WithHelp("make it less deep; without a depth it is cut through")
		return false
	case thick-r.Depth < leastFloor-geom.Tol:
		dr.notes.Warn(p.Quiet, "thin-floor", r.DepthAt, "%s leaves only %s of %s below it", r.Name, dr.length(thick-r.Depth), p.Name).
			WithHelp("leave %s or more (common practice, no source), or use a thicker board%s", dr.length(leastFloor), advise.Silence("thin-floor", "panel"))
	}
	return true
}

// checkBackToBack sees that two recesses on the two faces of a panel leave a floor
// between them where they lie over one another.
func (dr *draft) checkBackToBack(p *design.Panel, a, b *Shape) {
	thick, known := p.Thick.Get()
	if !known || !geom.Overlap(a.Figure, b.Figure) {
		return
	}
	switch left := thick - a.recess.Depth - b.recess.Depth; {
	case left <= geom.Tol:
		dr.notes.Errorf("recess", b.At, "%s and %s lie back to back on the two faces of %s, and are together %s deep: it is only %s thick", a.recess.Name, b.recess.Name, p.Name,
			dr.length(a.recess.Depth+b.recess.Depth), dr.length(thick)).
			Note(a.At, "the other is here").
			WithHelp("make them less deep, or move them apart")
	case left < leastFloor-geom.Tol:
		dr.notes.Warn(p.Quiet, "thin-floor", b.At, "%s and %s lie back to back and leave only %s of %s between them", a.recess.Name, b.recess.Name, dr.length(left), p.Name).
			Note(a.At, "the other is here").
			WithHelp("leave %s or more (common practice, no source)%s", dr.length(leastFloor), advise.Silence("thin-floor", "panel"))
	}
}

// checkOnRecesses reports a region with marks that lies on a recess of its face: what
// is marked there lies deeper than the laser's focus, and what is engraved twice.
func (dr *draft) checkOnRecesses(p *design.Panel, f Frame, recesses []Shape) {
	boxes := make([]geom.Box, len(recesses))
	for i, s := range recesses {
		boxes[i] = s.Figure.Bounds()
	}
	index := geom.NewIndex(boxes)
	for i := range p.Regions {
		r := &p.Regions[i]
		for _, k := range index.Near(f.box(r.Box).Bounds(), 0) {
			s := &recesses[k]
			if len(r.Marks) == 0 || s.recess.Inside != r.Inside || !geom.Overlap(f.box(r.Box), s.Figure) {
				continue
			}
			dr.notes.Errorf("overlap", r.At, "%s lies on the recess %s of %s", r.Name, inPanel(s.ID), p.Name).
				Note(s.At, "the recess is stated here").WithHelp("move it or make it smaller")
			break
		}
	}
}

// cutsOnRecesses reports what marks of the outer face cut through a recess of the
// inner one. Those of its own face are told by [draft.checkOnRecesses].
func (dr *draft) cutsOnRecesses(p *design.Panel, marked *markedPanel, recesses []Shape) {
	cuts := marked.cuts
	if len(cuts) == 0 {
		return
	}
	boxes := make([]geom.Box, len(cuts))
	for i, c := range cuts {
		boxes[i] = c.box
	}
	index, looked := geom.NewIndex(boxes), 0
	for _, s := range recesses {
		if !s.recess.Inside {
			continue
		}
		edge := geom.NewBoundary(s.Figure)
		for _, i := range index.Near(s.Figure.Bounds(), 0) {
			if looked++; looked > mostMeetings {
				return
			}
			c := &cuts[i]
			if cut := marked.edge(i); !c.open && !cut.Overlaps(edge) || c.open && !cut.Enters(edge) {
				continue
			}
			dr.notes.Errorf("overlap", c.shape.At, "what is cut in %s lies on the recess %s of %s", c.region.Name, inPanel(s.ID), p.Name).
				Note(s.At, "the recess is stated here").WithHelp("move it or make it smaller")
			break
		}
	}
}

// insideRecesses are those on the inner face of a panel, which lies with it up.
func (dr *draft) insideRecesses(p *design.Panel, f Frame) (shapes []Shape) {
	for _, s := range dr.recesses(p, f) {
		if s.recess.Inside {
			shapes = append(shapes, s)
		}
	}
	dr.notes.List = nil // told of the panel itself
	return shapes
}
