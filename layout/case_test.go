package layout_test

import (
	"math"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// The case of the corpus, its sizes added up by hand: boards 136 by 210, strip 23, all 309 by
// 210, covering 341 by 242.
func TestJointCase(t *testing.T) {
	dr := drawn(t, foretest.Corpus(t, "joint-case"))
	for id, want := range map[string]string{
		"back.outline":        "rect 0 0, 136 by 210",
		"spine-strip.outline": "rect 143 0, 23 by 210",
		"front.outline":       "rect 173 0, 136 by 210",
	} {
		wantFigure(t, dr, id, want)
	}
	all := geom.EmptyBox()
	for _, name := range []string{"back", "spine-strip", "front"} {
		all = all.Union(part(t, dr, name).Bounds)
	}
	if all.Width() != 309 || all.Height() != 210 {
		t.Errorf("the case is %v by %v", all.Width(), all.Height())
	}
	c := part(t, dr, "case.covering")
	if math.Abs(c.Bounds.Width()-341) > 1e-9 || math.Abs(c.Bounds.Height()-242) > 1e-9 {
		t.Errorf("the covering is %v by %v", c.Bounds.Width(), c.Bounds.Height())
	}
	if c.Bounds.Min != geom.Pt(309+10, 0) {
		t.Errorf("the covering starts at %v", c.Bounds.Min)
	}
}

// The covering's corners are cut at 45 degrees, 1.5 board thicknesses from the
// board's corner ("Flag Binding", a blog's lesson of March 2010, and "Make Your Own
// Corner Cutter", University of Brighton, undated; authors unknown).
func TestMitre(t *testing.T) {
	dr := drawn(t, foretest.Corpus(t, "joint-case"))
	covering := part(t, dr, "case.covering")
	path, ok := covering.Shapes[0].Figure.(geom.Path)
	if !ok || len(path.Segments) != 8 {
		t.Fatalf("the covering is %s", text(covering.Shapes[0].Figure))
	}
	const turnIn, board = 16, 2.5
	in := covering.Bounds
	corners := []geom.Point{ // of the boards, where they lie on the covering
		{X: in.Min.X + turnIn, Y: in.Min.Y + turnIn}, {X: in.Max.X - turnIn, Y: in.Min.Y + turnIn},
		{X: in.Max.X - turnIn, Y: in.Max.Y - turnIn}, {X: in.Min.X + turnIn, Y: in.Max.Y - turnIn},
	}
	cuts := 0
	for s := range path.Pieces() {
		d := s.End.Sub(s.From)
		if d.X == 0 || d.Y == 0 {
			continue
		}
		cuts++
		if math.Abs(math.Abs(d.X)-math.Abs(d.Y)) > 1e-9 {
			t.Errorf("the cut from %v to %v isn't at 45 degrees", s.From, s.End)
		}
		least := math.Inf(1)
		for _, c := range corners {
			least = min(least, math.Abs(d.Cross(c.Sub(s.From)))/d.Norm())
		}
		if math.Abs(least-1.5*board) > 1e-9 {
			t.Errorf("the cut from %v to %v stands %.6f from the nearest board's corner, want %v", s.From, s.End, least, 1.5*board)
		}
	}
	if cuts != 4 {
		t.Errorf("%d corners are cut", cuts)
	}
	// Seen from any corner the board stays covered: the cut lies outside it.
	for _, c := range corners {
		if !geom.NewBoundary(path).Contains(c) {
			t.Errorf("the board's corner at %v is bare", c)
		}
	}
}

// Without a known thickness the corners can't be mitred and stay square, as they
// do where the board is too thick for the turn-in.
func TestCoveringStaysSquare(t *testing.T) {
	const open = "panel a { width = 50; height = 80 }\npanel b { width = 50; height = 80 }\ngap j { width = 6 }\n"
	dr := drawn(t, open+"case case { lay = a, j, b; turn-in = 10 }")
	wantFigure(t, dr, "case.covering.outline", "rect 116 0, 126 by 100")
	dr = drawn(t, "panel a { width = 50; height = 80; thick = 10 }\ncase case { lay = a; turn-in = 10 }")
	wantFigure(t, dr, "case.covering.outline", "rect 60 0, 70 by 100")
	// Without turn-in there is no covering.
	if dr = drawn(t, open+"case case { lay = a, j, b }"); len(dr.Parts) != 2 {
		t.Errorf("%d parts", len(dr.Parts))
	}
}

// A all may state its mitre itself: S. J. Vaughn, Printing and Bookbinding
// for Schools, 1912, says about one board.
func TestStatedMitre(t *testing.T) {
	// The board's corner lies 10 · √2 from that of the covering, so of 14 little is cut.
	for mitre, stands := range map[string]float64{"a.thick": 2, "13": 13, "14": 14} {
		dr := drawn(t, "panel a { width = 50; height = 80; thick = 2 }\ncase case { lay = a; turn-in = 10; mitre = "+mitre+" }")
		c := part(t, dr, "case.covering")
		path, ok := c.Shapes[0].Figure.(geom.Path)
		if !ok || len(path.Segments) != 8 {
			t.Errorf("mitre = %s: the covering is %s", mitre, text(c.Shapes[0].Figure))
			continue
		}
		// The cut takes 2 · 10 - stands · √2 off each edge.
		off := 20 - stands*math.Sqrt2
		if got := geom.Area(path); math.Abs(got-(70*100-2*off*off)) > 1e-9 {
			t.Errorf("mitre = %s: area %v", mitre, got)
		}
	}
}
