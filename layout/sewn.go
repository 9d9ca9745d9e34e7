package layout

import (
	"slices"
	"strings"

	"foredge/eval/design"
	"foredge/layout/geom"
)

// sewnRound reports a hole of the stitches that follow the outline of a region or cutout.
func sewnRound(p *design.Panel, box, hole string) bool {
	return slices.ContainsFunc(p.Stitches, func(s design.Stitch) bool {
		return s.Around != nil && s.Around.Name == box && strings.HasPrefix(hole, p.Name+"."+s.Name+".")
	})
}

// A seam is the holes of all stitches that follow the outline of one region.
type seam struct {
	holes []Shape
	index *geom.Index
	edges edges
	told  bool
}

// seams are those of a panel, by the names of their regions.
func seams(p *design.Panel, openings []Shape) map[string]*seam {
	regions := map[string]string{} // by the names of their stitches
	for _, s := range p.Stitches {
		if s.Around != nil && s.Around.Region {
			regions[p.Name+"."+s.Name] = s.Around.Name
		}
	}
	all := map[string]*seam{}
	for _, s := range openings {
		region, sewn := regions[s.ID[:max(0, strings.LastIndex(s.ID, "."))]]
		if !sewn {
			continue
		}
		if all[region] == nil {
			all[region] = &seam{}
		}
		all[region].holes = append(all[region].holes, s)
	}
	for _, s := range all {
		var boxes []geom.Box
		for _, hole := range s.holes {
			boxes = append(boxes, hole.Figure.Bounds())
		}
		s.index = geom.NewIndex(boxes)
	}
	return all
}

// marksOnSeams reports marks on holes of the stitches that follow their own region's
// outline. Other holes mustn't lie on the region at all, which is told elsewhere.
func (dr *draft) marksOnSeams(p *design.Panel, marked *markedPanel, openings []Shape) {
	all := seams(p, openings)
	if len(all) == 0 {
		return
	}
	looked := 0
	// Of a mark that is an area all that it bounds is taken away; else the beam runs along its edge.
	look := func(r *design.Region, mark *Shape, area bool) {
		s := all[r.Name]
		if s == nil || s.told {
			return
		}
		var edge *geom.Boundary
		for _, i := range s.index.Near(mark.Figure.Bounds(), 0) {
			if looked++; looked > mostMeetings {
				return
			}
			if edge == nil {
				edge = geom.NewBoundary(mark.Figure)
			}
			if hole := s.edges.of(i, s.holes[i].Figure); area && !edge.Overlaps(hole) || !area && !edge.Enters(hole) {
				continue
			}
			s.told = true
			dr.notes.Errorf("overlap", mark.At, "the mark in %s lies on %s of %s, where there is no material", r.Name, inPanel(s.holes[i].ID), p.Name).
				Note(s.holes[i].At, "the hole is stated here").
				WithHelp("make the mark smaller, or state another inset of the stitches")
			return
		}
	}
	for i := range marked.cuts {
		look(marked.cuts[i].region, &marked.cuts[i].shape, !marked.cuts[i].open)
	}
	for i := range marked.faces {
		look(marked.faces[i].region, &marked.faces[i].shape, marked.faces[i].shape.Op == Engrave)
	}
}
