package layout_test

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// Stitch holes lie on the curve that runs at their inset from the outline, evenly: the
// curve is drawn here as the compensation for the cut draws it, by another way than that
// of the stitches, parted at its sharp corners and measured anew.
func TestStitchesFollowTheOutline(t *testing.T) {
	for name, c := range map[string]struct {
		lines  string  // of the panel, with a stitch s whose holes are round
		around string  // the shape whose outline it follows
		inset  float64 // inwards; below 0 outwards
		length float64
		runs   int // between sharp corners
	}{
		"square":        {"width = 110; height = 150; STITCH", "outline", 4, 5, 4},
		"round":         {"width = 110; height = 150; corners = radius 8; STITCH", "outline", 4, 5, 1},
		"one square":    {"width = 110; height = 150; corners = radius 8; corner tail-spine = square; STITCH", "outline", 4, 5, 1},
		"mixed":         {"width = 110; height = 150; corner tail-spine = chamfer 10; corner head-foredge = scoop 12; corner head-spine = radius 9; STITCH", "outline", 4, 5, 5},
		"arch":          {"width = 110; height = 150; arch = 20; STITCH", "outline", 4, 5, 4},
		"arch round":    {"width = 110; height = 150; arch = 20; corners = radius 8; corner head-spine = radius 14; STITCH", "outline", 4, 5, 1},
		"half circle":   {"width = 110; height = 150; arch = 55; corner head-spine = radius 55; corner head-foredge = radius 55; STITCH", "outline", 4, 5, 2},
		"stadium":       {"width = 80; height = 150; corners = radius 40; STITCH", "outline", 6, 3, 1},
		"window":        {"width = 110; height = 150; cutout w { shape = rect 40 by 30 } STITCH around = w", "w", -4, 5, 4},
		"round window":  {"width = 110; height = 150; cutout w { shape = rect 40 by 30 radius 5; rotate = 30 deg } STITCH around = w", "w", -4, 5, 1},
		"porthole":      {"width = 110; height = 150; cutout w { shape = round 40 } STITCH around = w", "w", -4, 5, 1},
		"slot":          {"width = 110; height = 150; cutout w { shape = slot 12 by 40; rotate = 20 deg } STITCH around = w", "w", -4, 5, 1},
		"hexagon":       {"width = 110; height = 150; cutout w { shape = hex 40; rotate = 20 deg } STITCH around = w", "w", -4, 5, 6},
		"another panel": {"width = 87.3; height = 151.7; corners = radius 11.1; STITCH", "outline", 3.3, 3.85, 1},
	} {
		in := math.Abs(c.inset)
		lines, more, _ := strings.Cut(c.lines, "STITCH")
		text := "laser bench { kerf = 0 }\npanel p { " + lines + "\nstitch s { hole = round 0.9; inset = " + fmt.Sprint(in) + "; stitch-length = " + fmt.Sprint(c.length) + ";" + more + " } }" +
			"\npanel q mirrors p"
		d, diags := layout.Draw(evaltest.Sound(t, text).Design())
		if diags.HasErrors() {
			t.Errorf("%s: %v", name, diags)
			continue
		}
		for _, part := range d.Parts {
			var holes []geom.Point
			var outline geom.Figure
			for _, s := range part.Shapes {
				if strings.HasPrefix(s.ID, part.Name+".s.") {
					holes = append(holes, s.Figure.Bounds().Center())
				} else if s.ID == part.Name+"."+c.around {
					outline = s.Figure
				}
			}
			curve, err := kerf.Offset(outline, -c.inset)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if runs := evenly(t, name+", "+part.Name, curve, holes, c.length); runs != c.runs {
				t.Errorf("%s: the curve has %d parts, want %d", name, runs, c.runs)
			}
		}
	}
}

// evenly checks that holes lie on a curve with sharp corners at the ends of equal steps,
// and gives how many parts it has between those.
func evenly(t *testing.T, name string, curve geom.Figure, holes []geom.Point, want float64) int {
	t.Helper()
	path := geom.Paths(curve)[0]
	var pieces []geom.Piece
	for p := range path.Pieces() {
		if p.Length() > 1e-7 {
			pieces = append(pieces, p)
		}
	}
	long := 0.0
	var corners []float64
	for i, p := range pieces {
		before := pieces[(i+len(pieces)-1)%len(pieces)]
		if before.Tangent(1).Sub(p.Tangent(0)).Norm() > 1e-4 {
			corners = append(corners, long)
		}
		long += p.Length()
	}
	var at []float64
	for _, h := range holes {
		best, where, sum := math.Inf(1), 0.0, 0.0
		for _, p := range pieces {
			if d := p.Distance(h); d < best-1e-9 {
				best, where = d, sum+min(1, max(0, p.Parameter(h)))*p.Length()
			}
			sum += p.Length()
		}
		if best > 1e-6 {
			t.Errorf("%s: a hole at %v lies %g off the curve", name, h, best)
		}
		at = append(at, math.Mod(where, long-1e-6))
	}
	sort.Float64s(at)
	if len(corners) == 0 {
		corners = at[:1]
		if n := int(math.Round(long / want)); n != len(at) {
			t.Errorf("%s: %d holes on %.3f, want %d", name, len(at), long, n)
		}
	}
	for i, from := range corners {
		to := corners[0] + long
		if i+1 < len(corners) {
			to = corners[i+1]
		}
		n := math.Round((to - from) / want)
		for k := range int(n) {
			if !has(at, from+(to-from)*float64(k)/n, long) {
				t.Errorf("%s: no hole is %d steps of %.4f from %.3f", name, k, (to-from)/n, from)
			}
		}
		want := int(n)
		got := 0
		for _, a := range at {
			for _, b := range []float64{a, a + long} {
				if b > from-1e-6 && b < to-1e-6 {
					got++
				}
			}
		}
		if got != want {
			t.Errorf("%s: %d holes from %.3f to %.3f, want %d", name, got, from, to, want)
		}
	}
	return max(1, len(corners))
}

// has reports a hole within 1e-6 of a place along a closed curve.
func has(at []float64, place, long float64) bool {
	for _, a := range at {
		d := math.Abs(math.Mod(a-place+1.5*long, long) - 0.5*long)
		if d < 1e-6 {
			return true
		}
	}
	return false
}
