package layout

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// cardMargin is how much card stays beyond the holes, in mm: enough to hold
// the strip together and to keep it straight against the wire.
const cardMargin = 8

// Card draws, for each row of holes, a strip of card to try on the notebook
// first: the row as it will be cut, with the edges that locate it. Rows that
// differ only by being mirrored share a strip, as a card can be turned over. A
// notch near the strip's corner at head and foredge shows which end is its head and
// which side its face.
func Card(d *design.Design) (*Drawing, diag.List) {
	dr := newDraft(d, nil)
	var made []boardRow
	for i := range d.Panels {
		p := &d.Panels[i]
		for k := range p.Rows {
			r := boardRow{p, &p.Rows[k]}
			if len(r.row.Centers) == 0 || slices.ContainsFunc(made, r.alike) {
				continue
			}
			made = append(made, r)
			strip := dr.card(p, r.row, "card")
			dr.checkSize(strip.Name, "panel", strip.Bounds.Width(), strip.Bounds.Height(), nil, slices.Concat(dr.design.Laser.Quiet, p.Quiet), r.row.At)
			dr.strip(strip)
		}
	}
	if len(dr.drawing.Parts) == 0 && !dr.notes.HasErrors() {
		dr.notes.Errorf("no-row", d.At, "no panel here has a row of holes, so there is nothing to try on").
			WithHelp("a card proves that the holes meet the wire; build the design itself to prove the rest")
	}
	dr.drawing.Title += " (proof card)"
	dr.finish()
	return dr.drawing, dr.notes.List
}

// A boardRow is a row with the board on which it is.
type boardRow struct {
	panel *design.Panel
	row   *design.Row
}

// long is how long the strip of a row is, and wide how far it reaches from the row's edge.
func (b boardRow) long() float64 {
	if b.row.Edge.Level() {
		return b.panel.Width
	}
	return b.panel.Height
}

func (b boardRow) wide() float64 {
	most := b.panel.Width
	if b.row.Edge.Level() {
		most = b.panel.Height
	}
	return min(b.row.Inset+b.row.Opening.Across+cardMargin, most)
}

// alike reports whether one strip shows two rows, if only turned over: the same holes, as far from both
// ends of an edge as long.
func (b boardRow) alike(other boardRow) bool {
	r, o := b.row, other.row
	neck := func(r *design.Row) float64 {
		if r.Neck == nil {
			return 0
		}
		return r.Neck.Wide
	}
	return r.Edge == o.Edge && alike(b.long(), other.long()) && alike(b.wide(), other.wide()) && r.Opening.Form == o.Opening.Form &&
		alike(r.Opening.Along, o.Opening.Along) && alike(r.Opening.Across, o.Opening.Across) && alike(r.Opening.Radius, o.Opening.Radius) &&
		alike(neck(r), neck(o)) && alike(r.Inset, o.Inset) && slices.EqualFunc(r.Centers, o.Centers, alike)
}

func alike(a, b float64) bool { return math.Abs(a-b) <= geom.Tol }

// card is the strip along a row's edge, from one end of the edge to the other; what it
// is called is for what is told of it.
func (dr *draft) card(p *design.Panel, r *design.Row, what string) Part {
	wide := boardRow{p, r}.wide()
	box := geom.Rect{W: wide, H: p.Height}
	f := Frame{Width: p.Width, Height: p.Height, Mirrored: p.Mirrored}
	switch r.Edge {
	case word.Head, word.Tail:
		box = geom.Rect{W: p.Width, H: wide}
		if r.Edge == word.Tail {
			box.Min.Y = p.Height - wide
		}
	default:
		if (r.Edge == word.Foredge) != p.Mirrored {
			box.Min.X = p.Width - wide
		}
	}
	name := p.Name + "." + r.Name
	part := Part{Name: name, Bounds: box.Bounds(), At: r.At, Want: dr.design.Laser.Kerf}
	if !dr.count(len(r.Centers)+1, r.At) {
		return part
	}
	holes := dr.row(p, r, f)
	dr.checkPanel(&design.Panel{Name: p.Name, Quiet: slices.Concat(p.Quiet, design.Quiet{"thin-web", "thin-detail"})}, f, box, holes, nil)
	closed, open := dr.notches(p, box, holes)
	if mark, ok := cardMark(box.Bounds(), f.side(word.Foredge), holes); ok {
		open = append(open, mark)
	} else {
		dr.notes.Infof("no-notch", r.At, "the %s of %s has no room for the notch that shows its head and its face", what, name).
			WithHelp("write on it which end is the head and which side lies up before you take it off the laser")
	}
	edge, _ := opening.WithNotches(box, open)
	part.Shapes = append(closed, Shape{ID: name + ".outline", Op: Cut, Figure: edge, At: r.At})
	return part.moved(geom.Pt(-box.Min.X, -box.Min.Y))
}
