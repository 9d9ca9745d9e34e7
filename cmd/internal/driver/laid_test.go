package driver_test

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/design"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/layout"
	"foredge/layout/geom"
)

// layAt is how near edges have to meet, in mm.
const layAt = 0.01

// solvedDesign is a design that has to be solved in silence.
func solvedDesign(t *testing.T, path string) *design.Design {
	t.Helper()
	reader, file, err := driver.NewSession(nil).Open(path)
	foretest.Must(t, err)
	tree, _ := parse.File(file)
	m, diags := eval.Prepare(tree, reader, nil).Build(0)
	s, more := m.Solve()
	if diags.Add(more); !s.Sound || len(diags) > 0 {
		t.Fatal(diagtest.Text(diags))
	}
	return s.Design()
}

// partsOf draws a design that has to stay silent: the outlines of its parts by their
// names, each from its own upper left corner.
func partsOf(t *testing.T, path string) map[string]geom.Figure {
	t.Helper()
	dr, diags := layout.Draw(solvedDesign(t, path))
	if len(diags) > 0 {
		t.Errorf("%s is told:\n%s", path, diagtest.Text(diags))
	}
	parts := map[string]geom.Figure{}
	for _, p := range dr.Parts {
		for _, shape := range p.Shapes {
			if strings.HasSuffix(shape.ID, ".outline") {
				parts[p.Name] = shape.Figure.Move(geom.Pt(-p.Bounds.Min.X, -p.Bounds.Min.Y))
			}
		}
	}
	return parts
}

// A case in quarter or half laid together from its cut pieces as a binder does: the
// spine's cloth in the middle, a side on each board with its foredge edge turned in, a
// corner's cloth at each outer corner. Boards, joints and turn-in are the numbers of the
// designs, added up here by hand. Edges meet as the overlap says, and every point of the
// outer face, and of the inner one as far as the turn-ins reach, is covered by something.
func TestCaseLaidTogether(t *testing.T) {
	for path, c := range map[string]struct{ board, high, between, turnIn, shows, corner, overlap float64 }{
		"examples/pilot-daybook.fore":    {148 - 7 + 3, 210 + 2*3, 7 + 14 + 2*2 + 7, 16, 36, 0, 3},
		"testdata/corpus/half-case.fore": {140, 210, 8 + 22 + 8, 15, 35, 40, 3},
	} {
		t.Run(filepath.Base(path), func(t *testing.T) {
			parts := partsOf(t, filepath.Join(foretest.Root(t), path))
			wide := 2*c.board + c.between
			size := func(name string) geom.Point {
				if parts[name] == nil {
					t.Fatalf("there is no %s", name)
				}
				b := parts[name].Bounds()
				return geom.Pt(b.Width(), b.Height())
			}
			spine, side := size("case.spine"), size("case.side")
			foretest.Near(t, "height of the spine's cloth", spine.Y, c.high+2*c.turnIn, layAt)
			foretest.Near(t, "height of a side", side.Y, c.high+2*c.turnIn, layAt)
			// From the middle of the case: where the cloth ends, and where the side
			// begins that ends a turn-in beyond the foredge.
			cloth, begins := spine.X/2, wide/2+c.turnIn-side.X
			foretest.Near(t, "how far a side lies over the spine's cloth", cloth-begins, c.overlap, layAt)
			foretest.Near(t, "how much cloth shows on a board", begins-c.between/2, c.shows, layAt)

			lay := func(name string, x float64, left, tail bool) laidPiece {
				return laidPiece{geom.NewBoundary(parts[name].Move(geom.Pt(x, -c.turnIn))), geom.Pt(wide, c.high), left, tail}
			}
			laid := []laidPiece{lay("case.spine", (wide-spine.X)/2, false, false)}
			for _, left := range []bool{false, true} {
				laid = append(laid, lay("case.side", wide+c.turnIn-side.X, left, false))
			}
			if c.corner > 0 {
				corner := size("case.corner")
				for _, left := range []bool{false, true} {
					for _, tail := range []bool{false, true} {
						laid = append(laid, lay("case.corner", wide+c.turnIn-corner.X, left, tail))
					}
				}
				// The side's cut stands where the corner's reach says; the cloth's
				// edge, parallel to it, lies an overlap further in.
				cut := diagonal(t, parts["case.side"], side.X)
				foretest.Near(t, "a side's cut along the board's edge", cut-2*c.turnIn, c.corner, layAt)
				foretest.Near(t, "how far a side lies over a corner", (corner.X-cut)/math.Sqrt2, c.overlap, layAt)
			}
			covered := func(p geom.Point) bool {
				for _, b := range laid {
					if b.covers(p) {
						return true
					}
				}
				return false
			}
			const step = 1.3
			for x := step / 2; x < wide; x += step {
				for y := step / 2; y < c.high; y += step {
					if !covered(geom.Pt(x, y)) {
						t.Fatalf("the board is bare at %.1f, %.1f", x, y)
					}
					// What lies on the inner face there, before it was turned in.
					var folds []geom.Point
					for _, fold := range []geom.Point{{X: x, Y: -y}, {X: x, Y: 2*c.high - y}, {X: -x, Y: y}, {X: 2*wide - x, Y: y}} {
						if fold.X > -c.turnIn && fold.X < wide+c.turnIn && fold.Y > -c.turnIn && fold.Y < c.high+c.turnIn {
							folds = append(folds, fold)
						}
					}
					if len(folds) == 0 {
						continue
					}
					ok := false
					for _, fold := range folds {
						ok = ok || covered(fold)
					}
					if !ok {
						t.Fatalf("nothing is turned in over %.1f, %.1f", x, y)
					}
				}
			}
		})
	}
}

// A laidPiece is a piece as it lies, turned over to the left or to the tail of what is
// size large.
type laidPiece struct {
	*geom.Boundary
	size       geom.Point
	left, tail bool
}

func (l laidPiece) covers(p geom.Point) bool {
	if l.left {
		p.X = l.size.X - p.X
	}
	if l.tail {
		p.Y = l.size.Y - p.Y
	}
	return l.Contains(p)
}

// diagonal is how much the cut at a piece's upper right corner takes off its upper edge.
func diagonal(t *testing.T, f geom.Figure, wide float64) float64 {
	t.Helper()
	path, ok := f.(geom.Path)
	if !ok {
		t.Fatal("nothing is cut off")
	}
	for s := range path.Pieces() {
		if d := s.End.Sub(s.From); s.From.Y == 0 && d.X > 0 && d.Y > 0 {
			foretest.Near(t, "the cut's angle", d.X, d.Y, layAt)
			return wide - s.From.X
		}
	}
	t.Fatal("nothing is cut off")
	return 0
}

// The sewing cradle put together from its cut pieces: two halves of an end stand side by
// side with the gap of the fold between them. Their slopes make a V of 90 degrees, each
// as long as the wing that lies on it, and the base is as wide as both. The guide lies in
// the fold: as long as a section, its notches at the stations.
func TestCradleLaidTogether(t *testing.T) {
	path := filepath.Join(foretest.Root(t), "examples", "sewing-cradle.fore")
	parts := partsOf(t, path)
	const gap = 4.0
	slope := func(name string, left bool) (low, high geom.Point) {
		w := parts[name].Bounds().Width()
		h := parts[name].Bounds().Height()
		found := false
		path, ok := parts[name].(geom.Path)
		if !ok {
			t.Fatalf("%s has no slope", name)
		}
		for s := range path.Pieces() {
			if d := s.End.Sub(s.From); d.X != 0 && d.Y != 0 {
				low, high, found = s.From, s.End, true
			}
		}
		if !found {
			t.Fatalf("%s has no slope", name)
		}
		if low.Y < high.Y {
			low, high = high, low
		}
		// Upwards from the base; the halves stand at either side of the gap.
		at := func(p geom.Point) geom.Point {
			if left {
				return geom.Pt(p.X-w-gap/2, h-p.Y)
			}
			return geom.Pt(p.X+gap/2, h-p.Y)
		}
		return at(low), at(high)
	}
	right, rightTop := slope("end-right", false)
	left, leftTop := slope("end-left", true)
	foretest.Near(t, "the gap at the fold", right.X-left.X, gap, layAt)
	foretest.Near(t, "how level the slopes begin", right.Y, left.Y, layAt)
	foretest.Near(t, "height of the fold", right.Y, 25, layAt)
	a, b := rightTop.Sub(right), leftTop.Sub(left)
	foretest.Near(t, "the cosine of the V", a.Dot(b)/a.Norm()/b.Norm(), 0, 1e-6)
	wing, base := parts["wing"].Bounds(), parts["base"].Bounds()
	// A wing lies flush with the top of its slope: its inner edge, a thickness up from the
	// slope, stands at the gap's edge.
	const thick = 4.0
	from := right.Add(a.Mul((a.Norm() - wing.Width()) / a.Norm())).Add(geom.Pt(-a.Y, a.X).Mul(thick / a.Norm()))
	foretest.Near(t, "the gap between the wings", 2*from.X, gap, layAt)
	foretest.Near(t, "the base", base.Width(), parts["end-left"].Bounds().Width()+gap+parts["end-right"].Bounds().Width(), layAt)

	guide := drawnGuide(t, path)
	box := guide.Bounds()
	foretest.Near(t, "the guide's length", box.Height(), 148, layAt)
	if box.Height() > wing.Height() {
		t.Error("the guide is longer than the wings")
	}
	// Stations 1/2 in from the ends and evenly between: the notches' middles, on the edge
	// that lies in the fold. Kettle stitches 1/2 in from the ends: "Bookbinding for
	// Beginners", a handbook of 1914.
	edge := geom.NewBoundary(guide)
	for k := range 5 {
		y := box.Min.Y + 12.7 + 0.75 + float64(k)*(148-2*12.7-1.5)/4
		for depth, inside := range map[float64]bool{0.1: false, 3.9: false, 4.1: true} {
			if edge.Contains(geom.Pt(box.Min.X+depth, y)) != inside {
				t.Errorf("station %d: %v mm from the fold there is card: %v", k+1, depth, !inside)
			}
		}
		for _, beside := range []float64{-0.76, 0.76} {
			if !edge.Contains(geom.Pt(box.Min.X+2, y+beside)) {
				t.Errorf("station %d is wider than 1.5 mm", k+1)
			}
		}
	}
}

// drawnGuide is the outline of the only guide of a design, as wanted.
func drawnGuide(t *testing.T, path string) geom.Figure {
	t.Helper()
	dr, diags := layout.Guides(solvedDesign(t, path))
	if len(diags) > 0 || len(dr.Parts) != 1 {
		t.Fatalf("%d guides:\n%s", len(dr.Parts), diagtest.Text(diags))
	}
	for _, s := range dr.Parts[0].Shapes {
		if strings.HasSuffix(s.ID, ".outline") {
			return s.Figure
		}
	}
	t.Fatal("the guide has no outline")
	return nil
}
