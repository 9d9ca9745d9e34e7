package driver_test

import (
	"math"
	"path/filepath"
	"testing"

	"foredge/export/svg"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

// Laid on one another, the tabs of the dividers of an example fill the head edge: each
// begins where the one before ends, the first at the spine and the last at the foredge,
// within 0.01 mm of the drawing as it is wanted.
func TestDividersFillTheEdge(t *testing.T) {
	r := build(t, filepath.Join(foretest.Root(t), "examples", "tide-dividers.fore"), svg.Encoder{})
	d, _ := layout.Draw(r.Solution.Design())
	const out = 12
	reached, n := 0.0, 0
	for _, p := range d.Parts {
		for _, s := range p.Shapes {
			if s.ID != p.Name+".outline" {
				continue
			}
			n++
			left, right := math.Inf(1), math.Inf(-1)
			for piece := range geom.Paths(s.Figure)[0].Pieces() {
				for _, at := range []float64{piece.From.Y, piece.End.Y} {
					if at > out-0.01 {
						continue
					}
					left, right = min(left, piece.From.X, piece.End.X), max(right, piece.From.X, piece.End.X)
				}
			}
			left, right = left-p.Bounds.Min.X, right-p.Bounds.Min.X
			if math.Abs(left-reached) > 0.01 {
				t.Errorf("the tab of %s begins at %.4f, and the one before ends at %.4f", p.Name, left, reached)
			}
			reached = right
			if width := p.Bounds.Width(); n == 5 && math.Abs(reached-width) > 0.01 {
				t.Errorf("the last tab ends at %.4f of %.4f", reached, width)
			}
		}
	}
	if n != 5 {
		t.Errorf("%d dividers, want 5", n)
	}
}

// A card lies in the pockets of an example: the slots cross its corners, and where
// its edges go under they have the same play on both sides, within 0.01 mm.
func TestCardLiesInItsPockets(t *testing.T) {
	r := build(t, filepath.Join(foretest.Root(t), "examples", "light-mount.fore"), svg.Encoder{})
	d, _ := layout.Draw(r.Solution.Design())
	part := d.Parts[0]
	const width, height, border, play = 148, 105, 24, 3
	card := geom.Box{Min: geom.Pt(part.Bounds.Min.X+border, part.Bounds.Max.Y-border-height), Max: geom.Pt(part.Bounds.Min.X+border+width, part.Bounds.Max.Y-border)}
	pockets := 0
	for _, s := range part.Shapes {
		if !s.Hole {
			continue
		}
		pockets++
		b := s.Figure.Bounds()
		// The ends of the slot's middle line, which is round at half its width.
		left, right := b.Min.X+0.6, b.Max.X-0.6
		upper, lower := b.Min.Y+0.6, b.Max.Y-0.6
		x := max(card.Min.X-left, right-card.Max.X) // past the card's edges
		y := max(card.Min.Y-upper, lower-card.Max.Y)
		want := (play - 0.6) / math.Sqrt2
		if math.Abs(x-y) > 0.01 || math.Abs(x-want) > 0.01 {
			t.Errorf("%s reaches %.4f and %.4f past the card, want %.4f", s.ID, x, y, want)
		}
	}
	if pockets != 4 {
		t.Errorf("%d pockets, want 4", pockets)
	}
}

// The flap of an example closes on its front: laid on it with their foredges and heads
// together, the magnets in its inner face lie on those of the front's outer one, within
// 0.01 mm.
func TestFlapMeetsItsMagnets(t *testing.T) {
	r := build(t, filepath.Join(foretest.Root(t), "examples", "signal-book.fore"), svg.Encoder{})
	solved := r.Solution.Design()
	outer, _ := layout.Draw(solved)
	inner, _ := layout.Inside(solved)
	if len(inner) != 1 || inner[0].Panel != "flap" {
		t.Fatalf("%d inner faces, want that of the flap", len(inner))
	}
	middles := func(p layout.Part) (all []geom.Point) {
		for _, s := range p.Shapes {
			if s.Op == layout.Engrave && math.Abs(s.Figure.Bounds().Width()-10.2) < 1e-9 {
				all = append(all, s.Figure.Bounds().Center())
			}
		}
		return all
	}
	front, flap := outer.Parts[0], inner[0].Drawing.Parts[0]
	theirs, ours := middles(front), middles(flap)
	if len(theirs) != 2 || len(ours) != 2 {
		t.Fatalf("%d and %d magnets, want 2 and 2", len(theirs), len(ours))
	}
	for i, at := range theirs {
		// The flap lies with its inner face up, so that its foredge is at the left.
		fromForedge, fromHead := front.Bounds.Max.X-at.X, at.Y-front.Bounds.Min.Y
		if x, y := ours[i].X-flap.Bounds.Min.X, ours[i].Y-flap.Bounds.Min.Y; math.Hypot(x-fromForedge, y-fromHead) > 0.01 {
			t.Errorf("magnet %d lies at %.4f, %.4f in the front and at %.4f, %.4f in the flap", i+1, fromForedge, fromHead, x, y)
		}
	}
}
