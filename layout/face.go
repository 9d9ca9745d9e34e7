package layout

import (
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/lang/unit"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// How an inner face is registered. A jig is a frame of scrap that is cut where
// it then stays, fixed to the bed. Its opening's head corner at the left is
// JigMargin from both edges of the jig's page; a board pushed into that corner
// lies at a known place. The drawing of an inner face has the same page and
// draws the board at that place, turned like a page of a book: about an axis
// from head to tail, so that its head stays up. Run from the same origin, its
// marks meet the board.
const (
	// JigMargin is how far the opening lies from the edges of the page, in mm.
	JigMargin = 20
	// jigRim is how far the frame's own edge lies from that of the page: more than
	// any kerf, so that nothing is moved when the edges grow by it.
	jigRim = 2
	// JigClearance is by how much the opening is larger than the board, in all and
	// both ways, in mm: at the sides away from the corner. Common practice, no
	// source.
	JigClearance = 0.2
	// jigFinger is the radius of the notches for a finger, by which a board is
	// lifted out; of a shorter side of the board it is a quarter.
	jigFinger = 9
)

// A Face is the drawing of one panel for itself.
type Face struct {
	Panel   string
	Drawing *Drawing
}

// Inside draws, for each panel with marks on its inner face, those marks on the
// turned board, which with its openings stands there as a guide. Panels without
// such marks have no drawing. What is wrong with a panel itself is not told
// again: [Draw] has told it.
func Inside(d *design.Design) ([]Face, diag.List) { return inside(d, nil) }

func inside(d *design.Design, kept *Drawer) ([]Face, diag.List) {
	var faces []Face
	var diags diag.List
	for i := range d.Panels {
		p := &d.Panels[i]
		var regions []*design.Region
		for k := range p.Regions {
			if r := &p.Regions[k]; r.Inside && len(r.Marks) > 0 {
				regions = append(regions, r)
			}
		}
		deep := slices.ContainsFunc(p.Recesses, func(r design.Recess) bool { return r.Inside })
		if len(regions) == 0 && !deep {
			continue
		}
		dr := newDraft(d, kept)
		dr.add(dr.inside(p, regions))
		dr.drawing.Title += ": " + p.Name + " (inside)"
		dr.finish()
		dr.drawing.Size = jigPage(p)
		diags.Add(dr.notes.List)
		if dr.drawing.marked() || dr.notes.List.HasErrors() { // an empty text is nothing to turn the board for
			faces = append(faces, Face{p.Name, dr.drawing})
		}
	}
	return faces, firstOfEach(diags)
}

// marked reports whether anything is drawn beside guides.
func (d *Drawing) marked() bool {
	return slices.ContainsFunc(d.Parts, func(p Part) bool {
		return slices.ContainsFunc(p.Shapes, func(s Shape) bool { return s.Op != Guide })
	})
}

func jigPage(p *design.Panel) geom.Point {
	return geom.Pt(p.Width+JigClearance+2*JigMargin, p.Height+JigClearance+2*JigMargin)
}

// inside is a panel as it lies with its inner face up.
func (dr *draft) inside(p *design.Panel, regions []*design.Region) Part {
	turned := *p
	turned.Mirrored, turned.Regions = !p.Mirrored, nil
	corner := geom.Pt(JigMargin, JigMargin)
	f := Frame{corner, p.Width, p.Height, turned.Mirrored}
	part := dr.panel(&turned, corner)
	outline := dr.outline(&turned, f)
	dr.notes.List = nil
	shapes := dr.insideRecesses(&turned, f)
	for _, s := range part.Shapes {
		if s.Op == Cut {
			s.Op, s.Hole = Guide, false
			shapes = append(shapes, s)
		}
	}
	var ink []inked
	marked := markedPanel{cuts: dr.cutsSeenInside(p, corner)}
	dr.expect(slices.Values(regions))
	for _, r := range regions {
		marks := dr.marks(&turned, r, f, outline)
		ink = append(ink, inked{r, f.box(r.Box), marks})
		marked.add(p, r, marks)
		for _, s := range marks {
			if s.Op == Cut {
				help := "put it into a region of the outer face: remove face = inside"
				if slices.ContainsFunc(r.Marks, func(m design.Mark) bool {
					in := design.InlayOf(m)
					return in != nil && in.Through && m.Place() == s.At
				}) {
					help += ", or write recess = engrave"
				}
				dr.notes.Errorf("face", s.At, "what is cut goes through the board, so it can't be on its inside").WithHelp("%s", help)
				continue
			}
			shapes = append(shapes, s)
		}
	}
	dr.checkInk(p, ink)
	dr.facesOnCuts(p, &marked)
	dr.marksOnSeams(p, &marked, part.Shapes)
	part.Shapes, part.Want = shapes, maybe.Is(0.0)
	return part
}

// cutsSeenInside is what the marks of a panel's outer face cut out of it, where that
// lies when the panel is turned. Its own drawing has told what is wrong with them.
func (dr *draft) cutsSeenInside(p *design.Panel, corner geom.Point) []cutMark {
	f := Frame{corner, p.Width, p.Height, p.Mirrored}
	other := newDraft(dr.design, dr.kept)
	outline := other.outline(p, f)
	turn := geom.MirrorX(corner.X + p.Width/2)
	var marked markedPanel
	for i := range p.Regions {
		r := &p.Regions[i]
		if r.Inside || !slices.ContainsFunc(r.Marks, design.CutsThrough) {
			continue
		}
		shapes := other.marks(p, r, f, outline)
		for k := range shapes {
			shapes[k].Figure = turn.Apply(shapes[k].Figure)
		}
		marked.add(p, r, shapes)
	}
	return marked.cuts
}

// OffBed warns of inner faces, each drawn for itself on the page of its jig, of which marks
// lie beyond the laser's bed, on whichever side that page lies on it. A board that is too
// large itself is told by [Draw].
func OffBed(d *design.Design, faces []Face) diag.List {
	bed, ok := d.Laser.Bed.Get()
	if !ok {
		return nil
	}
	dr := newDraft(d, nil)
	for _, f := range faces {
		i := slices.IndexFunc(d.Panels, func(p design.Panel) bool { return p.Name == f.Panel })
		if i < 0 || !fits(d.Panels[i].Width, d.Panels[i].Height, bed) {
			continue
		}
		p := &d.Panels[i]
		box := geom.EmptyBox()
		for _, part := range f.Drawing.Parts {
			for _, s := range part.Shapes {
				if s.Op != Guide {
					box = box.Union(s.Figure.Bounds())
				}
			}
		}
		if reach := box.Max; !fits(reach.X, reach.Y, bed) {
			dr.notes.Warn(p.Quiet, "too-large", p.At, "marks on the inside of %s lie up to %s from the left and %s from the head of their page, beyond the laser's bed of %s by %s", p.Name,
				dr.length(reach.X), dr.length(reach.Y), dr.length(bed.Width), dr.length(bed.Height)).
				WithHelp("that page has the board, turned over, %s from its left and its head, where the jig holds it: move the marks towards these edges, or put them on the outside%s",
					dr.length(JigMargin), advise.Silence("too-large", "panel"))
		}
	}
	return dr.notes.List
}

// Jig draws, for each panel, the frame that holds it at a known place.
func Jig(d *design.Design) ([]Face, diag.List) {
	var faces []Face
	var diags diag.List
	for i := range d.Panels {
		p := &d.Panels[i]
		dr := newDraft(d, nil)
		if dr.outline(p, Frame{Width: p.Width, Height: p.Height}); dr.notes.HasErrors() {
			diags.Add(dr.notes.List)
			continue
		}
		dr.add(dr.jig(p))
		dr.drawing.Title += ": " + p.Name + " (jig)"
		dr.finish()
		dr.drawing.Size = jigPage(p)
		diags.Add(dr.notes.List)
		faces = append(faces, Face{p.Name, dr.drawing})
	}
	if len(faces) == 0 && !diags.HasErrors() {
		if !d.Shared {
			diags.Errorf("nothing", d.At, "no panel is left, so there is nothing to hold").WithHelp("see which panels stand under a `when`")
			return nil, diags
		}
		diags.Errorf("nothing", d.At, "there is no panel in this file, so there is nothing to hold").
			WithHelp("declare one, as in panel front { width = %s; height = %s }", unit.Example(150, d.Unit), unit.Example(210, d.Unit))
	}
	return faces, firstOfEach(diags)
}

func (dr *draft) jig(p *design.Panel) Part {
	page := jigPage(p)
	frame := geom.Rect{Min: geom.Pt(jigRim, jigRim), W: page.X - 2*jigRim, H: page.Y - 2*jigRim}
	name := "jig." + p.Name
	dr.checkSize(name, "panel", frame.W, frame.H, nil, p.Quiet, p.At)
	return Part{Name: name, Bounds: frame.Bounds(), At: p.At, Want: dr.design.Laser.Kerf,
		Shapes: []Shape{
			{ID: name + ".opening", Op: Cut, Hole: true, Figure: jigOpening(p), At: p.At},
			{ID: name + ".outline", Op: Cut, Figure: frame, At: p.At},
		}}
}

// jigOpening is the board's rectangle with its clearance, and a notch for a finger
// in each of the two sides away from the corner.
func jigOpening(p *design.Panel) geom.Figure {
	w, h := p.Width+JigClearance, p.Height+JigClearance
	at := func(x, y float64) geom.Point { return geom.Pt(JigMargin+x, JigMargin+y) }
	right, foot := min(jigFinger, p.Height/4), min(jigFinger, p.Width/4)
	return geom.NewPath(at(0, 0)).Line(at(w, 0)).
		Line(at(w, h/2-right)).Arc(at(w+right, h/2), at(w, h/2), true).Arc(at(w, h/2+right), at(w, h/2), true).
		Line(at(w, h)).
		Line(at(w/2+foot, h)).Arc(at(w/2, h+foot), at(w/2, h), true).Arc(at(w/2-foot, h), at(w/2, h), true).
		Line(at(0, h)).Close()
}
