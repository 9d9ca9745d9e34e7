package layout

import (
	"slices"
	"strings"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// checkPanel sees that a panel's openings lie inside it and apart, and that
// its regions keep off them, and so its recesses. One report a row is enough. It
// returns the openings, and a box for each lattice.
func (dr *draft) checkPanel(p *design.Panel, f Frame, outline geom.Figure, shapes, recesses []Shape) (openings []Shape) {
	for _, s := range shapes {
		if s.Hole {
			openings = append(openings, s)
		}
	}
	inPlace := len(openings)
	for i := range p.Lattices {
		// No opening as a whole, but nothing else may lie there.
		l := &p.Lattices[i]
		openings = append(openings, Shape{ID: p.Name + "." + l.Name, Hole: true, Figure: f.box(l.Box), At: l.At})
	}
	before := len(dr.notes.List)
	var left strips
	through := slices.Clip(openings[:inPlace])
	dr.checkInside(p, outline, slices.Concat(through, recesses), &left)
	dr.checkApart(p, slices.Concat(openings, recesses), &left)
	if !dr.notes.List[before:].HasErrors() {
		dr.adviseStrips(p, left)
	}
	boxes := make([]geom.Box, len(openings))
	for i, s := range openings {
		boxes[i] = s.Figure.Bounds()
	}
	index := geom.NewIndex(boxes)
	for i := range p.Regions {
		dr.checkRegion(p, &p.Regions[i], f.box(p.Regions[i].Box), openings, index)
	}
	dr.checkOnRecesses(p, f, recesses)
	dr.checkLines(p, f, slices.Concat(through, recesses))
	dr.checkNames(p)
	return openings
}

// checkInside sees that openings lie inside a panel, and collects what is left
// between them and its edge.
func (dr *draft) checkInside(p *design.Panel, outline geom.Figure, openings []Shape, left *strips) {
	edge := geom.NewBoundary(outline)
	outside, touches := map[source.Span]bool{}, map[source.Span]bool{}
	least, bounds := advise.LeastOf(p).Any(), outline.Bounds()
	for i, s := range openings {
		if wellInside(s.Figure.Bounds(), bounds, p, least) {
			continue
		}
		b := geom.NewBoundary(s.Figure)
		switch {
		case outside[s.At], s.notch != nil && atCorner(outline, *s.notch):
		case !edge.Holds(b):
			outside[s.At] = true
			dr.notes.Errorf("outside", s.At, "%s doesn't lie inside %s", inPanel(s.ID), p.Name).
				WithHelp("%s", outsideHelp(p, s, outline, dr))
		case s.notch == nil:
			if gap := edge.Clearance(b); gap > geom.Tol {
				left.add(&openings[i], nil, gap)
			} else if s.recess == nil && !touches[s.At] {
				touches[s.At] = true
				dr.notes.Warn(p.Quiet, "touching", s.At, "%s touches the edge of %s", inPanel(s.ID), p.Name).
					WithHelp("nothing holds the material together there")
			}
		default:
			dr.checkNotch(p, &openings[i], s.notch.Beside(s.Figure.Bounds(), bounds), touches, left)
		}
	}
}

// checkNotch sees that a notch touches no other edge, from the nearest of which it is so far, and that
// some board stays beside its neck.
func (dr *draft) checkNotch(p *design.Panel, s *Shape, gap float64, touches map[source.Span]bool, left *strips) {
	flank := s.notch.Flank()
	if flank < advise.BurnsAway { // thicker ones are what holds a disc, and thinner than the board
		gap = min(gap, flank)
	}
	switch {
	case gap > geom.Tol:
		left.add(s, nil, gap)
	case touches[s.At]:
	case flank <= gap:
		touches[s.At] = true
		dr.notes.Warn(p.Quiet, "touching", s.At, "beside its neck %s touches the edge of %s to which it is open", inPanel(s.ID), p.Name).
			WithHelp("no board stays there: move it in, or take the neck out")
	default:
		touches[s.At] = true
		dr.notes.Warn(p.Quiet, "touching", s.At, "%s is open to one edge of %s and touches another", inPanel(s.ID), p.Name).
			WithHelp("nothing holds the material together there: make it smaller or move it in")
	}
}

// How many pairs of openings of a panel that lie near one another are worked out, and
// of how many pairs of lines it is told what is left between them. Past that only
// openings that may touch are looked at, and those no more often than mostClose
// or, once it was told that some overlap, mostMeetings times.
const (
	mostNear   = 100_000
	mostStrips = 10_000
	mostClose  = 300_000
)

// checkApart sees that openings lie apart, and collects what is left between
// them. Of each line it is told once that its openings overlap.
func (dr *draft) checkApart(p *design.Panel, openings []Shape, left *strips) {
	boxes := make([]geom.Box, len(openings))
	for i, s := range openings {
		boxes[i] = s.Figure.Bounds()
	}
	index := geom.NewIndex(boxes)
	l := apart{near: max(geom.Tol, advise.LeastOf(p).Between()), overlaps: map[source.Span]bool{}, touches: map[source.Span]bool{},
		edges: make([]*geom.Boundary, len(openings)), openings: openings, left: left}
	looked := 0
	for i := range openings {
		for _, j := range index.Near(boxes[i], l.near) {
			if j <= i {
				continue
			}
			switch looked++; {
			case len(l.overlaps) > 0 && looked > mostMeetings:
				return
			case looked > mostClose:
				dr.tooClose(p, &openings[i])
				return
			}
			if !l.overlaps[openings[j].At] {
				dr.checkPair(p, i, j, &l)
			}
		}
		if looked > mostNear || len(left.all) > mostStrips {
			l.near = geom.Tol
		}
	}
}

// apart is what is known while openings are held against one another.
type apart struct {
	openings          []Shape
	edges             []*geom.Boundary // made when first asked for
	near              float64          // how far apart openings may be to be looked at
	overlaps, touches map[source.Span]bool
	left              *strips
}

func (l *apart) edge(i int) *geom.Boundary {
	if l.edges[i] == nil {
		l.edges[i] = geom.NewBoundary(l.openings[i].Figure)
	}
	return l.edges[i]
}

// gap is the material between two openings.
func (l *apart) gap(i, j int) float64 {
	if simple(l.openings[i].Figure) && simple(l.openings[j].Figure) {
		return geom.Gap(l.openings[i].Figure, l.openings[j].Figure)
	}
	return l.edge(i).Gap(l.edge(j))
}

// simple reports a figure whose distance from others like it takes no boundary.
func simple(f geom.Figure) bool {
	switch f.(type) {
	case geom.Rect, geom.Circle:
		return true
	}
	return false
}

// tooClose reports that there is too much to look at on a panel.
func (dr *draft) tooClose(p *design.Panel, s *Shape) {
	dr.notes.Errorf("too-much-work", s.At, "the openings of %s lie so close together that more than %d pairs of them would have to be held against one another", p.Name, mostClose).
		WithHelp("make several panels of it, or leave out some of them")
}

// checkPair looks at two openings that may lie near one another.
func (dr *draft) checkPair(p *design.Panel, i, j int, l *apart) {
	a, b := &l.openings[i], &l.openings[j]
	gap := l.gap(i, j)
	switch {
	case gap > l.near:
	case a.recess != nil && b.recess != nil && a.recess.Inside != b.recess.Inside:
		dr.checkBackToBack(p, a, b)
	case gap > geom.Tol:
		l.left.add(a, b, gap)
	case geom.Overlap(a.Figure, b.Figure):
		l.overlaps[b.At] = true
		d := dr.notes.Errorf("overlap", b.At, "%s and %s of %s overlap", inPanel(a.ID), inPanel(b.ID), p.Name).
			WithHelp("make them smaller or move them apart")
		if a.At != b.At {
			d.Note(a.At, "the other is here")
		}
	case !l.touches[b.At]:
		l.touches[b.At] = true
		dr.touching(p, a, b)
	}
}

// wellInside reports whether a box lies inside a panel with nothing to doubt:
// farther than least from its edges and from the square that any of its corners
// takes up. It spares most openings the exact test.
func wellInside(box, panel geom.Box, p *design.Panel, least float64) bool {
	if p.Tab != nil {
		return false // it is no rectangle
	}
	least += 2 * geom.Tol
	if p.Arch != nil {
		panel.Min.Y += p.Arch.Rise // where the arch ends
	}
	if !panel.Grow(-least).Holds(box) {
		return false
	}
	corner := 0.0
	for _, c := range p.Corners {
		corner = max(corner, c.Size)
	}
	corner += least
	across := box.Min.X >= panel.Min.X+corner && box.Max.X <= panel.Max.X-corner
	along := box.Min.Y >= panel.Min.Y+corner && box.Max.Y <= panel.Max.Y-corner
	return across || along
}

// inPanel is a shape's name within its panel, in words.
func inPanel(id string) string {
	parts := strings.Split(id, ".")
	n := len(parts)
	switch {
	case n > 2 && parts[n-2] == "inlay":
		return "an opening in piece " + parts[n-1]
	case n > 3 && isNumber(parts[n-1]) && isNumber(parts[n-2]):
		return strings.Join(parts[1:], ".") // a member of a field
	case n == 3:
		return "hole " + parts[2] + " of " + parts[1]
	}
	return parts[n-1]
}

func isNumber(part string) bool { return part != "" && part[0] >= '0' && part[0] <= '9' }

func outsideHelp(p *design.Panel, s Shape, outline geom.Figure, dr *draft) string {
	in, out := s.Figure.Bounds(), outline.Bounds()
	most := max(out.Min.X-in.Min.X, out.Min.Y-in.Min.Y, in.Max.X-out.Max.X, in.Max.Y-out.Max.Y)
	if most > geom.Tol {
		return "it reaches " + dr.length(most) + " past the edge"
	}
	if p.Tab != nil {
		return "it is cut off by a corner, or lies beside the tab"
	}
	return "it is cut off by a" + cornerOf(p)
}

// cornerHelp says what would take less away.
func cornerHelp(p *design.Panel) string {
	if p.Arch != nil {
		return "let the arch rise less, or make the corner smaller"
	}
	return "make the corner smaller"
}

// cornerOf names what makes a panel's outline narrower than its width and height.
func cornerOf(p *design.Panel) string {
	switch {
	case p.Tab != nil:
		return " corner or a tab's side"
	case p.Arch != nil:
		return " corner or the arch"
	}
	return " corner"
}

// checkRegion reports a region that lies on an opening.
func (dr *draft) checkRegion(p *design.Panel, r *design.Region, box geom.Rect, openings []Shape, index *geom.Index) {
	for _, i := range index.Near(box.Bounds(), 0) {
		if s := openings[i]; geom.Overlap(box, s.Figure) && !sewnRound(p, r.Name, s.ID) {
			what := "%s lies on %s of %s, where there is no material"
			if isLattice(p, s.At) {
				what = "%s lies on %s of %s, which is cut into links"
			}
			help := "move it or make it smaller"
			if p.Tab != nil && r.At == p.Tab.At {
				help = "the label goes over the whole tab, but for its radius: move the opening off it, or leave out the label"
			}
			dr.notes.Errorf("overlap", r.At, what, r.Name, inPanel(s.ID), p.Name).
				Note(s.At, "the opening is stated here").WithHelp("%s", help)
			return
		}
	}
}

func isLattice(p *design.Panel, at source.Span) bool {
	return slices.ContainsFunc(p.Lattices, func(l design.Lattice) bool { return l.At == at })
}

// checkClear decides `clear = 3` of all boxes of a panel: that distance to every
// cut but their own and the stitches round them, from a region's box and from a cutout
// or a recess as it is drawn.
// The edge has the notches that a cutout which is one of them
// can't keep clear of: the outline hasn't. Nor does such a cutout keep clear of the
// edge to which it is open, or of what lies past it.
func (dr *draft) checkClear(p *design.Panel, f Frame, outline, edge geom.Figure, cuts, recesses []Shape) {
	boxes := make([]geom.Box, len(cuts))
	drawn := map[string]geom.Figure{}
	for i, s := range cuts {
		boxes[i] = s.Figure.Bounds()
		drawn[s.ID] = s.Figure
	}
	for _, s := range recesses {
		drawn[s.ID] = s.Figure
	}
	index, rim := geom.NewIndex(boxes), geom.NewBoundary(edge)
	for _, r := range p.Regions {
		dr.checkClearOf(p, r.Box, f.box(r.Box), rim, cuts, index)
	}
	own := func(b design.Box, edge *geom.Boundary) {
		if figure := drawn[p.Name+"."+b.Name]; figure != nil {
			dr.checkClearOf(p, b, figure, edge, cuts, index)
		}
	}
	for _, r := range p.Recesses {
		own(r.Box, rim)
	}
	for _, c := range p.Cutouts {
		if c.Neck == nil {
			own(c.Box, rim)
		} else if c.Clear != nil {
			own(c.Box, geom.NewBoundary(opening.Beside(outline, f.side(c.Neck.Edge))))
		}
	}
}

func (dr *draft) checkClearOf(p *design.Panel, b design.Box, box geom.Figure, edge *geom.Boundary, cuts []Shape, index *geom.Index) {
	if b.Clear == nil || b.Clear.Distance <= 0 {
		return
	}
	own := p.Name + "." + b.Name
	least, what := edge.Clearance(geom.NewBoundary(box)), "the edge of "+p.Name
	nearest := -1
	bounds := box.Bounds()
	index.Visit(func(c geom.Box) bool { return c.Distance(bounds) <= b.Clear.Distance && c.Distance(bounds) < least }, func(i int) {
		if id := cuts[i].ID; id == own || strings.HasPrefix(id, own+".") || sewnRound(p, b.Name, id) {
			return
		}
		// Of two that are equally near, the one that was drawn first.
		if gap := geom.Gap(box, cuts[i].Figure); gap < least || gap == least && i < nearest {
			least, nearest = gap, i
		}
	})
	if nearest >= 0 {
		what = inPanel(cuts[nearest].ID)
	}
	if least < b.Clear.Distance-geom.Tol {
		dr.notes.Errorf("clear", b.Clear.At, "%s is %s from %s, nearer than the %s it should keep clear", b.Name,
			dr.length(least), what, dr.length(b.Clear.Distance)).WithHelp("move it, make it smaller or ask for less")
	}
}

// checkNames reports a thing that would share its name in the cut file with
// the panel's edge.
func (dr *draft) checkNames(p *design.Panel) {
	report := func(name string, at source.Span) {
		if name == "outline" {
			dr.notes.Errorf("taken-name", at, "outline is what the cut file calls the edge of %s", p.Name).
				WithHelp("give this another name")
		}
	}
	for _, c := range p.Cutouts {
		report(c.Name, c.At)
	}
	for _, r := range p.Recesses {
		report(r.Name, r.At)
	}
	for _, l := range p.Lines {
		report(l.Name, l.At)
	}
	for _, r := range p.Regions {
		report(r.Name, r.At)
	}
	for _, l := range p.Lattices {
		report(l.Name, l.At)
	}
}

// checkSize reports a part larger than the laser's bed or the sheet, which the kind
// of thing that it comes from may silence. Turned it may fit, unless the sheet has a grain, which would run across it then.
func (dr *draft) checkSize(name, kind string, w, h float64, stock *design.Stock, quiet design.Quiet, at source.Span) {
	if bed, ok := dr.design.Laser.Bed.Get(); ok && !fits(w, h, bed) {
		dr.tooLarge(quiet, at, "%s, %s by %s, is larger than the laser's bed of %s by %s", name,
			dr.length(w), dr.length(h), dr.length(bed.Width), dr.length(bed.Height)).
			WithHelp("it can't be cut in one piece on this machine%s", advise.Silence("too-large", kind))
	}
	if stock == nil {
		dr.checkVast(name, kind, w, h, quiet, at)
		return
	}
	sheet, ok := stock.Size.Get()
	if !ok {
		dr.checkVast(name, kind, w, h, quiet, at)
	}
	switch upright := w <= sheet.Width+geom.Tol && h <= sheet.Height+geom.Tol; {
	case !ok || upright || onOffcut(w, h, stock):
	case stock.Grain != 0 && fits(w, h, sheet):
		dr.tooLarge(quiet, at, "%s, %s by %s, is too large for a sheet of %s, which is %s by %s, as its grain is to run", name,
			dr.length(w), dr.length(h), stock.Name, dr.length(sheet.Width), dr.length(sheet.Height)).
			WithHelp("turned it would fit, with its grain along the other size; use a larger sheet, or one whose grain runs the other way%s", advise.Silence("too-large", kind))
	case !fits(w, h, sheet):
		dr.tooLarge(quiet, at, "%s, %s by %s, is larger than a sheet of %s, which is %s by %s", name,
			dr.length(w), dr.length(h), stock.Name, dr.length(sheet.Width), dr.length(sheet.Height)).
			WithHelp("use a larger sheet%s", advise.Silence("too-large", kind))
	}
}

// onOffcut reports whether an offcut may hold a part, as the grain runs: one may be larger than the sheets are now.
func onOffcut(w, h float64, stock *design.Stock) bool {
	return slices.ContainsFunc(stock.Offcuts, func(o design.Offcut) bool {
		return w <= o.Size.Width+geom.Tol && h <= o.Size.Height+geom.Tol || stock.Grain == 0 && fits(w, h, o.Size)
	})
}

// tooLarge reports a part that can't be laid, unless the maker knows.
func (dr *draft) tooLarge(quiet design.Quiet, at source.Span, format string, args ...any) *diag.Diagnostic {
	if quiet.Has("too-large") {
		return &diag.Diagnostic{}
	}
	return dr.notes.Errorf("too-large", at, format, args...)
}

// fits reports whether a piece lies on a rectangle, turned or not.
func fits(w, h float64, on design.Size) bool {
	return w <= on.Width+geom.Tol && h <= on.Height+geom.Tol || h <= on.Width+geom.Tol && w <= on.Height+geom.Tol
}

// longestSheet is how long in mm sheets come at the most, 10 ft: common practice, no
// source.
const longestSheet = 3048

// checkVast warns of a part larger than any sheet where nothing says how large bed
// and sheet are: most likely its unit is another than was meant.
func (dr *draft) checkVast(name, kind string, w, h float64, quiet design.Quiet, at source.Span) {
	if _, ok := dr.design.Laser.Bed.Get(); ok || max(w, h) <= longestSheet {
		return
	}
	dr.notes.Warn(quiet, "too-large", at, "%s is %s by %s: sheets are hardly ever longer than %s", name, dr.length(w), dr.length(h), dr.length(longestSheet)).
		WithHelp("check the numbers and their units, or state how large the laser's bed or the sheet is%s", advise.Silence("too-large", kind))
}
