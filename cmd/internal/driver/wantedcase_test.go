package driver_test

import (
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
	"foredge/layout/kerf"
)

func (b *wanter) caseOf(s *design.Case) {
	thick := 0.0
	end := math.NaN() // of the board that is cut last, once there is one
	for _, part := range s.Parts {
		switch p := part.Board; {
		case part.Cut:
			thick = max(thick, b.dim(p.Name+".thick"))
			b.panel(p)
			end = b.x
		case !math.IsNaN(end):
			b.x += part.Width
		}
	}
	if !math.IsNaN(end) {
		b.x = end + 10
	}
	b.covering(s, thick)
	// A lining is all of the inside but a margin, at the outer corners too, as it is seen from there: at its
	// left lies what the case lays last.
	if margin := b.dim(s.Name + ".lining"); !math.IsNaN(margin) {
		w, h := b.dim(s.Name+".width")-2*margin, b.dim(s.Name+".height")-2*margin
		lining := wanted{center: geom.Pt(b.x+w/2, h/2), w: w, h: h, grow: b.kerfIn(s.LiningStock) / 2}
		for k, at := range [4]struct{ part, spine, foredge int }{{len(s.Parts) - 1, 0, 1}, {0, 0, 1}, {0, 2, 3}, {len(s.Parts) - 1, 2, 3}} {
			p := s.Parts[at.part].Board
			if p == nil {
				continue
			}
			c := p.Corners[at.foredge]
			if (at.part == 0) != p.Mirrored { // of what lies at the left the spine is outside, unless it is mirrored
				c = p.Corners[at.spine]
			}
			switch c.Form {
			case word.Radius:
				lining.round[k] = max(0, c.Size-margin)
			case word.Chamfer: // x + y = size, moved inwards
				lining.chamfer[k] = max(0, c.Size+margin*math.Sqrt2-2*margin)
			}
		}
		b.shapes["cut."+s.Name+".lining.outline"] = lining
		b.x += w + 10
	}
	for _, part := range s.Parts {
		if part.Cut {
			b.inlays(part.Board)
		}
	}
}

// inlays puts down the pieces of all that is laid into a panel: no larger than
// their region. Their places are held here, their shapes in package layout.
func (b *wanter) inlays(p *design.Panel) {
	for _, r := range p.Regions {
		for i, m := range r.Marks {
			in := design.InlayOf(m)
			if in == nil {
				continue
			}
			name := p.Name + "." + r.Name
			id := name + ".inlay"
			if len(r.Marks) > 1 {
				id = fmt.Sprintf("%s.%d.inlay", name, i+1)
			}
			part := b.parts[id]
			w, h := part.Bounds.Width(), part.Bounds.Height()
			if !(w > 0) || w > b.dim(name+".width")-in.Ease+1e-3 || h > b.dim(name+".height")-in.Ease+1e-3 {
				b.t.Errorf("the pieces of %s are %.4f by %.4f mm", id, w, h)
			}
			// The laser goes half its cut outside, farther round sharp points.
			box := geom.EmptyBox()
			for _, s := range part.Shapes {
				way, err := kerf.Offset(s.Figure.Move(geom.Pt(b.x, 0).Sub(part.Bounds.Min)), b.kerfIn(in.Stock)/2)
				if err != nil {
					b.t.Fatal(err)
				}
				box = box.Union(way.Bounds())
			}
			b.inlaid = b.inlaid.Union(box)
			b.art[id] = wanted{center: box.Center(), w: box.Width(), h: box.Height(), within: true}
			b.x += w + 10
		}
	}
}

func (b *wanter) covering(s *design.Case, thick float64) {
	if !s.TurnIn.Present() {
		return
	}
	turn := b.dim(s.Name + ".turn-in")
	w, h := b.dim(s.Name+".width")+2*turn, b.dim(s.Name+".height")+2*turn
	// A cut at 45 degrees at the mitre from the board's corner, 1.5 thicknesses if
	// nothing says it, takes off x + y = 2 turn-in - mitre sqrt 2, as that corner
	// lies turn-in from both edges.
	mitre := b.dim(s.Name + ".mitre")
	if math.IsNaN(mitre) {
		mitre = 1.5 * thick
	}
	off := 2*turn - mitre*math.Sqrt2
	if s.Bound.Present() {
		b.bound(s, h, turn, off)
		return
	}
	b.shapes["cut."+s.Name+".covering.outline"] = wanted{center: geom.Pt(b.x+w/2, h/2), w: w, h: h,
		chamfer: [4]float64{off, off, off, off}, grow: b.kerfIn(s.CoveringStock) / 2}
	b.x += w + 10
}

// bound puts down the cloth of a spine, a side and a corner, which is a right triangle
// less one at its right angle.
func (b *wanter) bound(s *design.Case, high, turn, off float64) {
	put := func(name string, w, h float64, chamfer [4]float64, stock *design.Stock) {
		b.shapes["cut."+s.Name+"."+name+".outline"] = wanted{center: geom.Pt(b.x+w/2, h/2), w: w, h: h, chamfer: chamfer, grow: b.kerfIn(stock) / 2}
		b.x += w + 10
	}
	put("spine", b.dim(s.Name+".spine-width"), high, [4]float64{}, s.SpineStock)
	reach, cut := 0.0, off
	_, inHalf := b.s.Dimension(s.Name + ".corner-reach")
	if inHalf {
		reach = b.dim(s.Name + ".corner-reach")
		cut = reach + 2*turn
	}
	put("side", b.dim(s.Name+".side-width"), high, [4]float64{1: cut, 2: cut}, s.CoveringStock)
	if inHalf {
		long := reach + 2*turn + math.Sqrt2*b.dim(s.Name+".overlap")
		put("corner", long, long, [4]float64{1: off, 3: long}, s.SpineStock)
	}
}
