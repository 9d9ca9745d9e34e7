package geom

import "testing"

// However tightly a curve turns, its arcs stay within the tolerance, here a rough
// one of 1 mm. Of these curves only a single place between the ends of a piece
// tells that two arcs would not do: each has another one.
func TestArcsFollowTightTurns(t *testing.T) {
	const tol = 1
	for _, c := range [][4]Point{
		{{16, 9}, {5, 1}, {3, 17}, {14, 9}},
		{{2, 17}, {14, 11}, {10, 5}, {6, 13}},
		{{10, 7}, {14, 15}, {7, 18}, {10, 12}},
		{{6, 7}, {8, 5}, {2, 19}, {7, 6}},
		{{4, 4}, {1, 2}, {14, 15}, {9, 9}},
		{{4, 6}, {2, 4}, {16, 20}, {14, 17}},
		{{17, 8}, {20, 3}, {10, 18}, {11, 17}},
		{{10, 4}, {15, 2}, {2, 7}, {3, 7}},
		{{9, 12}, {17, 18}, {3, 9}, {4, 9}},
		{{8, 12}, {10, 15}, {0, 2}, {16, 19}},
		{{14, 5}, {19, 4}, {0, 8}, {19, 2}},
	} {
		curve := NewPath(c[0]).Cubic(c[1], c[2], c[3]).Open()
		arcs := NewBoundary(curve.Arcs(tol))
		worst := 0.0
		for piece := range curve.Pieces() {
			for k := range 401 {
				worst = max(worst, arcs.Distance(piece.At(float64(k)/400)))
			}
		}
		if worst > tol {
			t.Errorf("%s lies %.3f mm from its arcs, want %v at most", curve, worst, tol)
		}
	}
}
