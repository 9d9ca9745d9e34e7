package layout

import (
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/lattice"
	"foredge/layout/opening"
)

// finest is how much wider than the kerf, in mm, a slot must be to be opened:
// less than any machine resolves.
const finest = 1e-3

// lattices draws the lattices of a panel; slots that run out through its edge
// are notches in its outline.
func (dr *draft) lattices(p *design.Panel, f Frame, outline geom.Figure, lines []Shape) (slots []Shape, open []opening.Notch) {
	board := geom.NewBoundary(outline)
	for i := range p.Lattices {
		l := &p.Lattices[i]
		box := f.box(l.Box)
		if !board.Holds(geom.NewBoundary(box)) {
			dr.notes.Errorf("outside", l.At, "%s doesn't lie inside %s: it is cut off by %s", l.Name, p.Name, "a"+cornerOf(p)).
				WithHelp("%s, or move it away from the%s", cornerHelp(p), cornerOf(p))
			continue
		}
		for _, s := range lines {
			switch {
			case geom.Overlap(box, s.Figure):
				dr.notes.Errorf("overlap", s.At, "%s runs through %s of %s, which is cut into links", inPanel(s.ID), l.Name, p.Name).
					Note(l.At, "the lattice is here").WithHelp("move one of them")
			case s.Op == Cut && box.Bounds().Grow(geom.Tol).Meets(s.Figure.Bounds()):
				dr.notes.Warn(p.Quiet, "line-through", s.At, "%s runs along %s of %s, and leaves nothing that holds its links there", inPanel(s.ID), l.Name, p.Name).
					Note(l.At, "the lattice is here").WithHelp("move one of them%s", advise.Silence("line-through", "panel"))
			}
		}
		slots = append(slots, dr.lattice(p, l, f, &open)...)
	}
	return slots, open
}

// latticeField is the plan of a lattice.
func latticeField(p *design.Panel, l *design.Lattice) lattice.Field {
	return lattice.Field{Links: l.Links, Rows: l.Rows, Thick: p.Thick.Or(0), Slot: l.Clearance, Link: l.Link, Bridge: l.Bridge, End: l.End}
}

// lattice draws the slots of a lattice. Slots as narrow as the kerf are single
// cuts, shorter by half of it at each end that the laser's spot makes round.
// Wider ones are openings with round ends, as a crack begins at a corner; where
// they run out through head or tail they become notches in the outline.
func (dr *draft) lattice(p *design.Panel, l *design.Lattice, f Frame, notches *[]opening.Notch) []Shape {
	field := latticeField(p, l)
	if !dr.checkLattice(p, l) || !dr.count(field.Count(), l.At) {
		return nil
	}
	kerf := l.Kerf.Or(0)
	single := kerf > 0 && l.Clearance <= kerf+finest
	shapes := make([]Shape, 0, field.Count())
	for _, s := range field.Slots() {
		// Through an edge only where the lattice reaches it.
		s.Head, s.Tail = s.Head && l.Head <= geom.Tol, s.Tail && l.Tail <= geom.Tol
		from, to := f.At(l.Spine+s.X, l.Head+s.From), f.At(l.Spine+s.X, l.Head+s.To)
		shape := Shape{ID: fmt.Sprintf("%s.%s.%d", p.Name, l.Name, len(shapes)+1), Op: Cut, At: l.At}
		switch {
		case single:
			if !s.Head {
				from.Y += kerf / 2
			}
			if !s.Tail {
				to.Y -= kerf / 2
			}
			shape.Figure = geom.NewPath(from).Line(to).Open()
		case s.Head:
			*notches = append(*notches, slotNotch(opening.Upper, from.X, l.Clearance, to.Y-f.Origin.Y))
			continue
		case s.Tail:
			*notches = append(*notches, slotNotch(opening.Lower, from.X, l.Clearance, f.Origin.Y+f.Height-from.Y))
			continue
		default:
			shape.Hole = true
			shape.Figure = opening.Placed{Opening: opening.RoundEnded(l.Clearance, to.Y-from.Y), At: from.Lerp(to, 0.5)}.Figure()
		}
		shapes = append(shapes, shape)
	}
	return shapes
}

// checkLattice reports what keeps a lattice from being cut, and warns of what
// would keep it from bending or break it. It reports whether it can be drawn.
func (dr *draft) checkLattice(p *design.Panel, l *design.Lattice) bool {
	kerf, thick := l.Kerf.Or(0), p.Thick.Or(0)
	switch {
	case p.Tab != nil:
		dr.notes.Errorf("tabs", l.At, "%s has tabs, so it can't bend by the lattice %s", p.Name, l.Name).
			Note(p.Tab.At, "its tabs are here").WithHelp("put the lattice on another panel, or leave out the tabs")
		return false
	case !(l.Turn > 0 && l.Turn <= 360+geom.Tol):
		dr.notes.Errorf("turn", l.At, "%s can't turn by %s deg", l.Name, dr.number(l.Turn)).
			WithHelp("state how far the board bends in all, above 0 and up to 360 deg")
		return false
	case kerf >= thick-geom.Tol:
		dr.notes.Errorf("kerf", l.At, "the laser's cut of %s is as wide as the links of %s, which are as wide as %s is thick: %s",
			dr.length(kerf), l.Name, p.Name, dr.length(thick)).WithHelp("a board as thin as that bends without a lattice")
		return false
	case min(l.Bridge, l.End) <= geom.Tol:
		what := "the bridges"
		if l.Bridge > geom.Tol {
			what = "the bridges at head and tail"
		}
		dr.notes.Errorf("lattice-room", l.At, "%s of %s come out %s long, so nothing holds its links together there", what, l.Name,
			dr.length(min(l.Bridge, l.End))).WithHelp("let them be %s or longer, as the board is thick", dr.length(thick))
		return false
	case l.Link <= max(geom.Tol, kerf) || l.Link+min(l.End, l.Link+l.Bridge) < l.Clearance:
		dr.notes.Errorf("lattice-room", l.At, "%s, %s high, has no room for its links between bridges of %s and ends of %s", l.Name,
			dr.length(l.Height), dr.length(l.Bridge), dr.length(l.End)).WithHelp("make it higher, or state fewer rows")
		return false
	case min(l.Spine, l.Foredge) <= geom.Tol:
		dr.notes.Errorf("lattice-edge", l.At, "%s lies at the edge of %s, where nothing holds its links", l.Name, p.Name).
			WithHelp("leave at least %s of board beside it", dr.length(thick))
		return false
	}
	if l.Turn < slightTurn-1e-9 {
		dr.notes.Warn(p.Quiet, "slight-turn", l.At, "%s turns by only %s degrees in all", l.Name, dr.number(l.Turn)).
			WithHelp("a turn is in degrees, not in radians: to bend right round a spine is turn = 180 deg")
	}
	if least := min(l.Spine, l.Foredge); least < thick-geom.Tol {
		dr.notes.Warn(p.Quiet, "thin-edge", l.At, "only %s of %s is left beside %s, less than it is thick", dr.length(least), p.Name, l.Name).
			WithHelp("leave at least %s, so that the edge is no weaker than the links", dr.length(thick))
	}
	if most := max(l.Head, l.Tail); most > geom.Tol {
		dr.notes.Warn(p.Quiet, "stiff-end", l.At, "%s of %s is left whole beyond %s, and keeps it from bending", dr.length(most), p.Name, l.Name).
			WithHelp("state head = 0 and tail = 0, so that it runs from edge to edge")
	}
	if least := min(l.Bridge, l.End); least < thick-geom.Tol {
		what := "bridges"
		if l.End < l.Bridge {
			what = "ends"
		}
		dr.notes.Warn(p.Quiet, "thin-bridge", l.At, "the %s of %s are %s long, less than the %s of a link's width", what, l.Name,
			dr.length(least), dr.length(thick)).WithHelp("links twist only if what holds them is no weaker: make the %s longer", what)
	}
	dr.checkLink(p, l)
	return true
}

// slightTurn is below how many degrees nobody bends a board by a lattice: the whole turn in radians
// is about 6 (common practice, no source).
const slightTurn = 10

// shortestLink is the length of a link, in thicknesses: shorter than it is wide,
// a link hardly twists (common practice, no source).
const shortestLink = 1

func (dr *draft) checkLink(p *design.Panel, l *design.Lattice) {
	thick := p.Thick.Or(0)
	switch {
	case l.Link > design.LongestLink*thick+geom.Tol:
		dr.notes.Warn(p.Quiet, "splay", l.At, "the links of %s are %s long, more than four times as long as %s is thick, so the bend may splay", l.Name,
			dr.length(l.Link), p.Name).WithHelp("state more rows, or a larger radius where the stress asks for long links")
	case l.Link < shortestLink*thick-geom.Tol:
		dr.notes.Warn(p.Quiet, "short-link", l.At, "the links of %s are only %s long, shorter than they are wide, so they hardly twist", l.Name,
			dr.length(l.Link)).WithHelp("state fewer rows, or make it higher")
	}
	shear, known := l.Shear.Get()
	if !known {
		return
	}
	angle := l.Turn / float64(l.Links)
	stress := design.TorsionFactor * shear.Modulus * thick * angle * math.Pi / 180 / l.Link
	if stress > shear.Allowed*(1+1e-9) {
		dr.notes.Warn(p.Quiet, "overstressed", l.At, "each link of %s twists by %s deg over %s: a stress of %s N/mm², more than the %s that it may bear", l.Name,
			dr.number(angle), dr.length(l.Link), dr.number(stress), dr.number(shear.Allowed)).
			WithHelp("state a larger radius, so that more links share the turn, or fewer rows of longer links")
	}
}

// slotNotch is a slot of a lattice that runs out through head or tail, round at
// its inner end.
func slotNotch(side opening.Side, at, wide, depth float64) opening.Notch {
	return opening.Notch{Opening: opening.RoundEnded(wide, depth), Side: side, At: at, Neck: wide}
}
